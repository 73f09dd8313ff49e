package paper

import (
	"net/http"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// ListData is what the template of the list sets.
type ListData struct {
	page.Base
	Lines []Line
}

// Line is one paper in the list.
type Line struct {
	Href, Name, What, When string
}

// List lists the papers by name.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Papers", page.Papers)
	if err != nil {
		return err
	}
	papers, err := p.studio.Papers(r.Context(), studio.PaperFilter{})
	if err != nil {
		return err
	}
	d := ListData{Base: base}
	for _, pa := range papers {
		d.Lines = append(d.Lines, Line{
			Href: "/papers/" + pa.ID, Name: pa.Name,
			What: base.Speech.One(pa.Design.GrammageConditioned, "g/m²") + ", " + part.WriteFurnish(pa.Design.Furnish),
			When: "changed " + part.Since(pa.Changed, p.now()),
		})
	}
	return listTemplate.Write(w, http.StatusOK, d)
}
