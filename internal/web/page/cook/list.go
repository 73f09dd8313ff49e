package cook

import (
	"fmt"
	"net/http"

	"vatside/internal/cookery"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// ListData is what the template of the list sets.
type ListData struct {
	page.Base
	Cooks []Line
}

// Line is one cook in the list.
type Line struct{ Href, Name, About, Stage, When string }

// List lists the cooks, the newest first.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Cooks", page.Store)
	if err != nil {
		return err
	}
	list, err := p.cooks.Cooks(r.Context())
	if err != nil {
		return err
	}
	d := ListData{Base: base}
	for _, t := range list {
		d.Cooks = append(d.Cooks, Line{Href: "/cooks/" + t.Cook.ID, Name: part.Upper(t.Cook.Fibre), About: about(t, base.Speech), Stage: t.State.Stage, When: part.Since(t.Cook.Begun, p.now())})
	}
	return listTemplate.Write(w, http.StatusOK, d)
}

// about says what went into the pot, and what came of it.
func about(t cookery.Told, s part.Speech) string {
	c := t.Cook
	text := fmt.Sprintf("%s dry, %s of %s", s.One(c.DryG, "g"), s.One(c.AlkaliPct, "%"), c.Alkali)
	if !t.State.Parted.IsZero() {
		text += ", parted after " + s.One(float64(t.State.Hours), "h")
	}
	if pulp, ok := t.State.PulpG(); ok {
		text += fmt.Sprintf(", left %s, %s", s.One(pulp, "g"), s.One(100*pulp/c.DryG, "%"))
	}
	return text
}
