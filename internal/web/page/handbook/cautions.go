package handbook

import (
	"net/http"
	"slices"

	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// CautionsData is what the template of the cautions sets.
type CautionsData struct {
	page.Base
	Safety cookery.Safety
	None   bool // no number was entered
	Acts   []Act
}

// Act is what is done, and what to heed at it.
type Act struct {
	ID, Name string
	Hazards  []Hazard
}

// Hazard is one caution: what may happen, what to do, the number that goes with
// it and where it comes from.
type Hazard struct {
	Code, Name, Do, Limit string
	Source                part.Cited
}

// acts are the headings, first aid first; a caution stands under the first that
// it belongs to.
var acts = []struct{ id, name, of string }{
	{"first-aid", "First aid", "first aid"}, {"lye", "Lye", "lye"}, {"lime", "Lime", "lime"}, {"ash", "Wood-ash lye", "ash lye"}, {"soda", "Soda ash and potash", "soda ash"},
	{"potash", "Potash", "potash"}, {"caustic", "All that is caustic", "caustic"}, {"cook", "At the pot", "cook"}, {"bleach", "Bleach", "bleach"}, {"neutralise", "Neutralising", "neutralise"},
	{"waste", "Liquor to be rid of", "waste"}, {"keep", "Keeping and retting", "keep"},
}

// hazards are the cautions by act.
func hazards(s part.Speech) []Act {
	seen := map[string]bool{}
	var out []Act
	for _, a := range acts {
		one := Act{ID: a.id, Name: a.name}
		for _, c := range cooking.CautionsAt(a.of) {
			if !seen[c.Code] {
				seen[c.Code] = true
				one.Hazards = append(one.Hazards, Hazard{c.Code, c.Hazard, measure.Retell(c.Text, s.System), measure.Retell(c.Limit, s.System), part.Cite(c.Source, source.Must(c.Source).Grade)})
			}
		}
		if len(one.Hazards) > 0 {
			out = append(out, one)
		}
	}
	return out
}

// Cautions lists what may hurt, with control, limit and source.
func (p *Page) Cautions(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Cautions", page.Handbook)
	if err != nil {
		return err
	}
	d := CautionsData{Base: base, Acts: hazards(base.Speech)}
	if d.Safety, err = p.cooks.Safety(r.Context()); err != nil {
		return err
	}
	s := d.Safety
	d.None = !slices.ContainsFunc([]string{s.Emergency, s.Poison, s.Doctor, s.Water}, func(t string) bool { return t != "" })
	return cautionsTemplate.Write(w, http.StatusOK, d)
}

func findCautions(asked []string) (out []Found) {
	for _, a := range hazards(part.Speech{}) {
		for _, h := range a.Hazards {
			out = append(out, find(asked, Found{Name: h.Name, Text: h.Do, Href: "/handbook/cautions#" + h.Code}, a.Name, h.Limit))
		}
	}
	return out
}
