package store

import (
	"net/http"
	"time"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Amount writes down what came, what was counted or what was thrown away.
func (p *Page) Amount(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	l, _, err := p.studio.Lot(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	s, err := p.speech(r)
	if err != nil {
		return err
	}
	of := l
	grams := readAmount(f, s, &of)
	if len(f.Faults) == 0 {
		do := map[string]func() error{}
		m := studio.Movement{ID: f.Get("entry"), MassG: grams, Note: f.Get("why"), At: p.now().Truncate(time.Millisecond)}
		do["received"] = func() error { return p.studio.Receive(r.Context(), l.ID, m) }
		do["count"] = func() error { return p.studio.Count(r.Context(), l.ID, m) }
		do["thrown"] = func() error { return p.studio.ThrowAway(r.Context(), l.ID, m) }
		act := do[f.Get("act")]
		if act == nil {
			act = func() error { return fault.Invalid("act", "say what happened") }
		}
		if err = act(); err == nil {
			page.PutFlash(w, "Written down.")
			return page.See(w, r, "/store/"+l.ID)
		}
		if err = refuse(f, err); err != nil {
			return err
		}
	}
	return p.show(w, r, http.StatusUnprocessableEntity, f)
}
