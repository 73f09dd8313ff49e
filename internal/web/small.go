package web

import (
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/web/page"
)

// units changes how this reader sees quantities, and goes back to the page.
func units(w http.ResponseWriter, r *http.Request) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	page.SetUnits(w, page.ReadSystem(form.Get("units")))
	return page.See(w, r, page.LocalPath(form.Get("back")))
}

// missing answers every address that is none.
func missing(http.ResponseWriter, *http.Request) error {
	return fault.NotFound("There is no page at this address. The bench is a good place to start from.")
}
