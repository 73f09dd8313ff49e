package record

import (
	"fmt"
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// recharges says how they were given: as the card says, by post, or, where
// they were counted otherwise, that they stand as recorded.
func (f filler) recharges(l layout, st studio.State) {
	if len(st.Recharges) == 0 {
		return
	}
	first := st.Recharges[0]
	times, ml := l.poured(st.Couched)
	byPost := l.jugML > 0
	for _, r := range st.Recharges {
		byPost = byPost && r.Post != nil && r.Times == 0
	}
	switch {
	case len(st.Recharges) == 1 && first.Post == nil && first.AfterSheet == nil && first.Times == times && first.StockML == ml:
		f.f.Fill("recharges", "card")
	case byPost:
		f.f.Fill("recharges", "posts")
		for _, r := range st.Recharges {
			at := name("post", *r.Post, "jugs")
			f.f.Fill(at, part.Written(math.Round(r.StockML/l.jugML*100)/100))
			f.exact[at] = r.StockML
		}
	default:
		f.f.Fill("recharges", "kept")
	}
}

// recharges reads how they were given.
func (r reader) recharges(e *studio.CardEntry, couched int) {
	for i := 1; i <= r.l.rows && r.f.Get("recharges") != "posts"; i++ {
		if at := name("post", i, "jugs"); r.f.Get(at) != "" && r.f.Get(at) != r.was.Get(at) {
			r.f.Refuse(fault.Invalid(at, "jugs are read by post where the recharges are said by post: choose that above, or empty this"))
		}
	}
	switch r.f.Get("recharges") {
	case "card":
		if times, ml := r.l.poured(couched); times > 0 {
			r.at["recharges[0]"] = "recharges"
			e.Recharges = []studio.Recharge{{Times: times, StockML: ml}}
		}
	case "kept":
		e.Recharges = r.l.recorded
	case "posts":
		for i := 1; i <= r.l.rows; i++ {
			at := name("post", i, "jugs")
			ml := r.jugs(at)
			if ml > 0 {
				post := i
				r.at[fmt.Sprintf("recharges[%d]", len(e.Recharges))] = at
				e.Recharges = append(e.Recharges, studio.Recharge{Post: &post, StockML: ml})
			}
		}
	}
}

// mostJugs bounds the jugs of one post; ours: more than any vat takes.
const mostJugs = 1000

// jugs reads the stock of one post, in mL; 0 where nothing is written.
func (r reader) jugs(at string) float64 {
	if ml, kept := r.exact[at]; kept && r.f.Get(at) == r.was.Get(at) {
		return ml
	}
	jugs := r.quantity(at, measure.OfNumber)
	if jugs == nil {
		return 0
	}
	if !(*jugs >= 0 && *jugs <= mostJugs) {
		r.f.Refuse(fault.OutOfRange(at, "between 0 and %d jugs", mostJugs))
		return 0
	}
	return *jugs * r.l.jugML
}

// rechargeField asks how they were given, where the card has any.
func rechargeField(l layout, chosen string, s part.Speech) part.Field {
	var options []part.Option
	if times, ml := l.poured(0); times > 0 {
		options = append(options, part.Option{Value: "card", Label: "As the card says", Note: fmt.Sprintf("%d times, %s in all", times, s.One(ml, "mL"))})
	}
	if l.jugML > 0 {
		options = append(options, part.Option{Value: "posts", Label: "By post", Note: "in jugs, in the tally below"})
	}
	if len(l.recorded) > 0 && chosen == "kept" {
		times, ml := 0, 0.0
		for _, r := range l.recorded {
			times, ml = times+max(r.Times, 1), ml+r.StockML
		}
		options = append(options, part.Option{Value: "kept", Label: "As recorded", Note: fmt.Sprintf("%d times, %s in all", times, s.One(ml, "mL"))})
	}
	if len(options) == 0 {
		return part.Field{}
	}
	options = append(options, part.Option{Value: "", Label: "Not written down"})
	return part.Field{Name: "recharges", Label: "Recharges given", Kind: part.Choices, Options: options}
}
