package record

import (
	"strconv"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// filler writes a record into a form and remembers the exact values behind the
// texts, so that a number nobody touched is not rounded by being shown.
type filler struct {
	f     *page.Form
	s     part.Speech
	exact map[string]float64
}

// fill writes what is recorded into the form and returns the exact values.
func fill(form *page.Form, l layout, st studio.State, s part.Speech) map[string]float64 {
	f := filler{form, s, map[string]float64{}}
	form.Fill("system", string(s.System))
	if st.FibreG > 0 {
		f.quantity("fibre", st.FibreG, "g", measure.OfMass)
	}
	for lot, g := range st.FibreLots {
		f.quantity("lot-"+lot, g, "g", measure.OfMass)
	}
	f.besides(l)
	for i, t := range st.Tests {
		f.weighing("test", i+1, t.Sheets, t.Grams, t.RHPct)
	}
	for _, p := range st.Posts {
		f.count(name("post", p.Post, "couched"), p.Couched)
		if p.KissedOff > 0 {
			f.count(name("post", p.Post, "kissed"), p.KissedOff)
		}
	}
	f.recharges(l, st)
	f.parting(st)
	for i, d := range st.Dry {
		f.weighing("dry", i+1, d.Sheets, d.Grams, d.RHPct)
	}
	for i, z := range st.Sizes {
		f.quantity(name("size", i+1, "long"), z.LongMM, "mm", measure.OfLength)
		f.quantity(name("size", i+1, "short"), z.ShortMM, "mm", measure.OfLength)
	}
	if st.Graded {
		f.count("good", st.Grades.Good)
		for field, n := range map[string]int{"retree": st.Grades.Retree, "broken": st.Grades.Broken, "broke": st.Grades.Broke} {
			if n > 0 { // blank says none
				f.count(field, n)
			}
		}
	}
	for i, step := range l.steps {
		if m, ok := st.Minutes[step.Key]; ok {
			f.number("minutes-"+strconv.Itoa(i+1), m)
		}
	}
	if st.StockLeftL != nil {
		f.quantity("stock-left", *st.StockLeftL, "L", measure.OfVolume)
	}
	var remarks []string
	for _, r := range st.Remarks {
		if strings.HasPrefix(r.EventID, "card/") {
			remarks = append(remarks, r.Text)
		}
	}
	form.Fill("remarks", strings.Join(remarks, "\n\n"))
	if st.Closed {
		form.Fill("close", "yes")
	}
	// What the card itself says is weighed together.
	form.Fill(name("test", 1, "sheets"), strconv.Itoa(l.tests))
	form.Fill(name("dry", 1, "sheets"), strconv.Itoa(together))
	form.Fill("parting-sheets", strconv.Itoa(together))
	return f.exact
}

func (f filler) count(name string, n int) { f.f.Fill(name, strconv.Itoa(n)) }

func (f filler) number(name string, v float64) {
	f.f.Fill(name, part.Written(v))
	f.exact[name] = v
}

// quantity writes a value in the reader's units: whole in metric, which it is
// recorded in, and rounded in others.
func (f filler) quantity(name string, v float64, unit string, kind measure.Kind) {
	if !f.s.US() {
		f.number(name, v)
		return
	}
	f.f.Fill(name, bare(f.s, v, unit, kind))
	f.exact[name] = v
}

// bare says a value as it is written into a blank: the unit stands only where
// it is not the blank's own.
func bare(s part.Speech, v float64, unit string, kind measure.Kind) string {
	n, u := s.Show(v, unit)
	if u != inUnits(s)[kind] {
		n += " " + u
	}
	return n
}

func (f filler) weighing(what string, row, sheets int, grams, rh float64) {
	f.count(name(what, row, "sheets"), sheets)
	f.quantity(name(what, row, "grams"), grams, "g", measure.OfMass)
	if rh > 0 {
		f.number(name(what, row, "rh"), rh)
	}
}

// parting writes the weights at parting; the first post with the full number
// says how many are weighed together.
func (f filler) parting(st studio.State) {
	most := 0
	for _, p := range st.Parting {
		f.quantity(name("post", p.Post, "grams"), p.Grams, "g", measure.OfMass)
		most = max(most, p.Sheets)
	}
	if most > 0 {
		f.count("parting-sheets", most)
	}
}
