package record

import (
	"fmt"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
)

// weighing reads one weighing; nothing weighed is none.
func (r reader) weighing(what string, row int, as string, index int) (sheets int, grams, rh float64, ok bool) {
	g := r.quantity(name(what, row, "grams"), measure.OfMass)
	h := r.quantity(name(what, row, "rh"), measure.OfPercent)
	n := r.count(name(what, row, "sheets"), 1)
	if h != nil {
		rh = *h
	}
	if g == nil {
		return 0, 0, 0, false
	}
	if n == nil {
		if r.f.Get(name(what, row, "sheets")) == "" {
			r.f.Refuse(fault.Invalid(name(what, row, "sheets"), "say how many sheets were weighed together"))
		}
		return 0, 0, 0, false
	}
	for of, field := range map[string]string{"grams": "grams", "rh_pct": "rh", "sheets": "sheets"} {
		r.at[fmt.Sprintf("%s[%d].%s", as, index, of)] = name(what, row, field)
	}
	return *n, *g, rh, true
}

func (r reader) tests(e *studio.CardEntry) {
	for i := 1; i <= r.l.testRows; i++ {
		if n, g, rh, ok := r.weighing("test", i, "tests", len(e.Tests)); ok {
			b := studio.TestWeighed{Sheets: n, Grams: g, RHPct: rh}
			if i <= len(r.l.weighed) { // which sheets, and how dry: not asked on the card
				was := r.l.weighed[i-1]
				b.From, b.BoneDry, b.Sure = was.From, was.BoneDry, was.Sure && was.Sheets == n && was.Grams == g
			}
			e.Tests = append(e.Tests, b)
		}
	}
}

func (r reader) dry(e *studio.CardEntry) {
	for i := 1; i <= r.l.dryRows; i++ {
		if n, g, rh, ok := r.weighing("dry", i, "dry", len(e.Dry)); ok {
			e.Dry = append(e.Dry, studio.WeighedDry{Sheets: n, Grams: g, RHPct: rh})
		}
	}
}
