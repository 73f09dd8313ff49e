package design

import (
	"fmt"
	"strings"

	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/web/part"
)

// additives reads what is added, each by its own measure.
func (r reader) additives(old []plan.Additive) []plan.Additive {
	rows, touched := r.rows("additive", "dose")
	if !touched {
		return old
	}
	var list []plan.Additive
	for _, t := range rows {
		a, had := before(rows, t, old, func(a plan.Additive) string { return a.Kind })
		a.Kind = t.name
		if !had || !r.Kept(named("dose", t.i)) {
			r.dose(&a, named("dose", t.i), t.much)
		}
		if a.DosePct > 0 || a.DoseMLL > 0 {
			r.at(fmt.Sprintf("paper.additives[%d]", len(list)), named("additive", t.i), named("dose", t.i), "dose_pct", "dose_ml_l")
			list = append(list, a)
		}
	}
	return list
}

// byVat is the measure of what is dosed by the vat's water, not by the fibre.
const byVat = "mL/L"

// dose reads a dose: per cent of the fibre, or millilitres to a litre of vat.
// A bare number is what it was before; of something new, what is usual for it.
// Both at once are two measures of one dose, and change together.
func (r reader) dose(a *plan.Additive, field, typed string) {
	text := strings.ToLower(strings.ReplaceAll(typed, " ", ""))
	number, vat := strings.CutSuffix(text, strings.ToLower(byVat))
	bare := !vat && !strings.HasSuffix(text, "%")
	vat = vat || bare && inVat(*a)
	v, err := r.Read(field, number, measure.OfPercent)
	if err != nil {
		r.Refuse(err)
		return
	}
	switch {
	case !vat:
		a.DosePct, a.DoseMLL = v, 0
	case a.DoseMLL > 0:
		a.DosePct, a.DoseMLL = a.DosePct*v/a.DoseMLL, v
	default:
		a.DosePct, a.DoseMLL = 0, v
	}
	if bare { // the measure it was taken in is seen
		r.Values.Set(field, dosed(*a))
	}
}

// dosed writes a dose with its measure.
func dosed(a plan.Additive) string {
	if a.DoseMLL > 0 {
		return part.Written(a.DoseMLL) + " " + byVat
	}
	return part.Written(a.DosePct) + " %"
}

// inVat reports whether an additive is dosed by the vat.
func inVat(a plan.Additive) bool {
	if a.DosePct > 0 || a.DoseMLL > 0 {
		return a.DoseMLL > 0
	}
	known, ok := furnish.GetAdditive(a.Kind)
	return ok && known.StockInVat.Known()
}
