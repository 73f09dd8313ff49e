package store

import (
	"math"
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
	of, status := l, http.StatusUnprocessableEntity
	var grams float64
	if l.Finished() {
		grams = readSheets(f, l)
	} else {
		grams = readAmount(f, s, &of)
		f.Refuse(otherWater(l, of))
	}
	if len(f.Faults) == 0 {
		do := map[string]func() error{}
		m := studio.Movement{ID: f.Get("entry"), MassG: grams, Note: f.Get("why"), At: p.now().Truncate(time.Millisecond)}
		do["received"] = func() error { return p.studio.Receive(r.Context(), l.ID, m) }
		do["count"] = func() error { return p.studio.Count(r.Context(), l.ID, m) }
		do["gone"] = func() error { return p.studio.GoOut(r.Context(), l.ID, m) }
		do["thrown"] = func() error { return p.studio.ThrowAway(r.Context(), l.ID, m) }
		act := do[f.Get("act")]
		if act == nil {
			act = func() error { return fault.Invalid("act", "say what happened") }
		}
		if err = act(); err == nil {
			page.PutFlash(w, "Written down.")
			return page.See(w, r, "/store/"+l.ID)
		}
		if status, err = refuse(f, err); err != nil {
			return err
		}
	}
	return p.show(w, r, status, f, nil)
}

// otherWater refuses an amount that was typed with other water than the lot has:
// what is in a lot is reckoned as equally wet.
func otherWater(l, typed studio.Lot) error {
	const same = 0.5 // % of water; ours: nobody weighs it nearer
	switch {
	case typed.MoisturePct == l.MoisturePct || l.MoisturePct != nil && math.Abs(*typed.MoisturePct-*l.MoisturePct) <= same:
		return nil
	case l.MoisturePct == nil:
		return fault.Invalid("amount", "how wet this lot is was not said: say it below, under what it is, or put this down as a lot of its own")
	}
	return fault.Invalid("amount", "this lot holds %.3g %% of water and not %.3g %%: put it right below, under what it is, or put this down as a lot of its own", *l.MoisturePct, *typed.MoisturePct)
}
