package cook

import (
	"fmt"
	"net/http"
	"strings"

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
type Line struct{ Href, Name, About, When string }

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
		when := "begun " + part.Since(t.Cook.Begun, p.now())
		if t.State.Stage != "begun" {
			when = t.State.Stage + ", " + when
		}
		d.Cooks = append(d.Cooks, Line{Href: "/cooks/" + t.Cook.ID, Name: part.Upper(t.Cook.Fibre), About: about(t, base.Speech), When: when})
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

// line is an entry in words.
func (p *Page) line(l cookery.Line, s part.Speech) LogLine {
	out := LogLine{ID: l.ID, When: part.Moment(l.At, p.now()), Said: said(l.Entry, s), Struck: l.Struck}
	if l.Was != nil {
		out.Was = fmt.Sprintf("First written: %s, %s", part.Moment(l.Was.At, p.now()), said(*l.Was, s))
	}
	return out
}

func said(e cookery.Entry, s part.Speech) string {
	var out []string
	for _, o := range happened {
		if o.Value == string(e.Kind) {
			out = append(out, o.Label)
		}
	}
	b := e.Body
	add := func(v *float64, unit, before string) {
		if v != nil {
			out = append(out, before+s.One(*v, unit))
		}
	}
	if e.Kind == cookery.Ended {
		out = append(out, "On the shelf")
		add(b.WetG, "g", "")
		add(b.MoisturePct, "%", "water ")
	}
	add(b.TempC, "°C", "")
	add(b.PH, "", "pH ")
	add(b.Litres, "L", "")
	if b.Passed != nil {
		out = append(out, map[bool]string{true: "it parts", false: "it does not part yet"}[*b.Passed])
	}
	if b.Text != "" {
		out = append(out, b.Text)
	}
	return strings.Join(out, ", ")
}
