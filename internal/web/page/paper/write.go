package paper

import (
	"cmp"
	"strconv"

	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// start begins a new paper with what is usual.
func start(f *page.Form, s part.Speech) {
	size := "A4"
	if s.US() {
		size = "Letter"
	}
	f.Fill("size", size)
	f.Fill("edges", "deckle")
	f.Fill("shape", sheet.Rectangle)
	f.Fill("drying", "stack")
	f.Fill("forming", "western")
}

// write fills the form with a paper as it stands.
func write(f *page.Form, s part.Speech, p studio.Paper) {
	d := p.Design
	number := func(name string, v *float64) {
		if v != nil {
			f.Fill(name, part.Written(*v))
		}
	}
	length := func(name string, v *float64) {
		if v != nil {
			f.Fill(name, s.One(*v, "mm"))
		}
	}
	f.Fill("name", p.Name)
	f.Fill("use", d.Use)
	f.Fill("furnish", part.WriteFurnish(d.Furnish))
	number("grammage", &d.GrammageConditioned)
	f.Fill("size", s.SizeName(p.Sheet.LongMM, p.Sheet.ShortMM))
	f.Fill("edges", cmp.Or(p.Sheet.Edges, "deckle"))
	number("beating", d.BeatingHours)
	f.Fill("drying", cmp.Or(d.Drying, "stack"))
	f.Fill("surface", d.SurfaceSize)
	number("bath", d.SurfaceBathPct)
	f.Fill("way", d.SurfaceWay)
	f.Fill("shape", cmp.Or(p.Sheet.Shape, sheet.Rectangle))
	number("fills", p.Sheet.FillsPct)
	length("trim", p.Sheet.TrimMM)
	length("play", p.Sheet.ToleranceMM)
	f.Fill("forming", cmp.Or(d.Forming, "western"))
	if d.Dips != nil {
		f.Fill("dips", strconv.Itoa(*d.Dips))
	}
	if d.PourG != nil {
		f.Fill("pour", s.One(*d.PourG, "g"))
	}
	number("tolerance", d.TolerancePct)
	number("within", d.ShareWithinPct)
	f.Fill("additives", writeAdditives(d.Additives))
	f.Fill("finish", d.Finish)
	f.Fill("note", p.Note)
}
