package store

import (
	"net/http"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Moved is one change of the amount.
type Moved struct{ When, Said, Note, Making string }

// moved lists the changes, the newest first, with the making's tag.
func (p *Page) moved(r *http.Request, s part.Speech, l studio.Lot, list []studio.Movement) ([]Moved, error) {
	var out []Moved
	for i := len(list) - 1; i >= 0; i-- {
		m := list[i]
		one := Moved{When: part.Since(m.At, p.now()), Said: said(s, l, m), Note: m.Note}
		if m.MakingID != "" {
			makings, err := p.studio.Makings(r.Context(), studio.MakingFilter{ID: m.MakingID, Light: true})
			if err != nil {
				return nil, err
			}
			for _, k := range makings {
				one.Making, one.Note = "/makings/"+k.ID, k.PaperName+", "+k.Tag
			}
		}
		if m.CookID != "" {
			one.Making, one.Note = "/cooks/"+m.CookID, "the cook"
		}
		out = append(out, one)
	}
	return out, nil
}

// said is one change in words.
func said(s part.Speech, l studio.Lot, m studio.Movement) string {
	size := quantity(s, l, max(m.MassG, -m.MassG))
	switch {
	case m.CookID != "" && m.MassG < 0:
		return size + " into the pot"
	case m.CookID != "":
		return size + " out of the pot"
	case m.Kind == studio.Received:
		return size + " came"
	case m.Kind == studio.Thrown:
		return size + " thrown away"
	case m.Kind == studio.GoneOut:
		return size + " sold, given or used"
	case m.Kind == studio.Used && m.MassG < 0:
		return size + " used"
	case m.Kind == studio.Used:
		return size + " given back"
	case m.MassG < 0:
		return "Counted: " + size + " less than thought"
	}
	return "Counted: " + size + " more than thought"
}
