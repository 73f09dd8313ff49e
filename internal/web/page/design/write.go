package design

import (
	"strconv"

	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// write fills the form with a design as it stands.
func write(f *page.Form, s part.Speech, from draft) {
	d := from.paper
	for i, p := range d.Furnish {
		f.Fill(named("fibre", i+1), p.Fibre)
		f.Fill(named("share", i+1), part.Written(p.SharePct))
	}
	for i, a := range d.Additives {
		f.Fill(named("additive", i+1), a.Kind)
		f.Fill(named("dose", i+1), dosed(a))
	}
	f.FillDesign(s, d, from.sheet)
	f.Fill("good", strconv.Itoa(from.good))
}
