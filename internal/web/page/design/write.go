package design

import (
	"cmp"
	"strconv"

	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// write fills the form with a design as it stands.
func write(f *page.Form, s part.Speech, from draft) {
	d, sheet := from.paper, from.sheet
	number := func(name string, v *float64) {
		if v != nil {
			f.Fill(name, part.Written(*v))
		}
	}
	for i, p := range d.Furnish {
		f.Fill(named("fibre", i+1), p.Fibre)
		f.Fill(named("share", i+1), part.Written(p.SharePct))
	}
	for i, a := range d.Additives {
		f.Fill(named("additive", i+1), a.Kind)
		f.Fill(named("dose", i+1), dosed(a))
	}
	number("grammage", &d.GrammageConditioned)
	number("beating", d.BeatingHours)
	number("bath", d.SurfaceBathPct)
	f.Fill("use", d.Use)
	f.Fill("drying", cmp.Or(d.Drying, "stack"))
	f.Fill("size", s.SizeName(sheet.LongMM, sheet.ShortMM))
	f.Fill("edges", cmp.Or(sheet.Edges, "deckle"))
	f.Fill("surface", d.SurfaceSize)
	f.Fill("good", strconv.Itoa(from.good))
}
