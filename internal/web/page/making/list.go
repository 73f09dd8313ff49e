package making

import (
	"net/http"

	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// ListData is what the template of the list sets.
type ListData struct {
	page.Base
	Tag   string // looked for
	None  string // why nothing was found
	Lines []Line
}

// Line is one making in the list.
type Line struct {
	Href, Tag, Paper, Stage, Good, When string
}

// List lists all makings, newest first, or goes to the one whose tag was typed.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Makings", page.Makings)
	if err != nil {
		return err
	}
	d := ListData{Base: base, Tag: page.ReadQuery(r).Get("tag")}
	filter := studio.MakingFilter{Light: true}
	code := http.StatusOK
	if d.Tag != "" {
		if filter.Tag, err = studio.ReadTag(d.Tag); err != nil {
			d.None, code, filter.Tag = page.Sentence(err), http.StatusUnprocessableEntity, ""
		}
	}
	list, err := p.studio.Makings(r.Context(), filter)
	switch {
	case err != nil:
		return err
	case filter.Tag != "" && len(list) == 1:
		return page.See(w, r, "/makings/"+list[0].ID)
	case filter.Tag != "":
		d.None, code = "No making carries the tag "+filter.Tag+".", http.StatusNotFound
	}
	d.Lines = lines(list, p.now())
	return listTemplate.Write(w, code, d)
}
