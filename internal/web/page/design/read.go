package design

import (
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// reader takes a design from the form. What the form does not ask for stays as
// it was, and so does a number nobody touched.
type reader struct {
	f     *page.Form
	was   *page.Form // the form untouched
	s     part.Speech
	shelf fibre.Shelf
}

func (r reader) kept(name string) bool { return r.f.Get(name) == r.was.Get(name) }

func (r reader) number(name string, kind measure.Kind, old *float64) *float64 {
	if r.kept(name) {
		return old
	}
	if r.f.Get(name) == "" {
		return nil
	}
	v, err := r.s.Read(name, r.f.Get(name), kind)
	r.f.Refuse(err)
	return &v
}

func read(f *page.Form, s part.Speech, asIs draft, shelf fibre.Shelf) draft {
	r := reader{f, &page.Form{}, s, shelf}
	write(r.was, s, asIs)
	f.At = faultsAt()
	old := asIs.paper
	d := old
	d.Use, d.Drying = f.Get("use"), f.Get("drying")
	d.Furnish, d.Additives = r.furnish(old.Furnish), r.additives(old.Additives)
	if g := r.number("grammage", measure.OfGrammage, &old.GrammageConditioned); g != nil {
		d.GrammageConditioned = *g
	} else {
		f.Refuse(fault.Invalid("grammage", "say how heavy the paper is, such as 100 g/m²"))
	}
	d.BeatingHours = r.number("beating", measure.OfHours, old.BeatingHours)
	r.surface(&d)
	good, err := part.GoodSheets("good", f.Get("good"))
	f.Refuse(err)
	return draft{d, r.sheet(asIs.sheet), good}
}

// surface reads the size. Its bath and how it comes on go with it, unless a
// bath was typed just now: then the plan says what is missing.
func (r reader) surface(d *plan.Paper) {
	bath := r.number("bath", measure.OfPercent, d.SurfaceBathPct)
	if d.SurfaceSize = r.f.Get("surface"); d.SurfaceSize == "" {
		d.SurfaceWay = ""
		if r.kept("bath") {
			bath = nil
		}
	}
	d.SurfaceBathPct = bath
}

// sheet reads the size. What is cut off goes with the cutting.
func (r reader) sheet(sh plan.Sheet) plan.Sheet {
	if sh.Edges = r.f.Get("edges"); sh.Edges != "trimmed" {
		sh.TrimMM = nil
	}
	if r.kept("size") {
		return sh
	}
	var err error
	sh.LongMM, sh.ShortMM, err = r.s.ReadSize("size", r.f.Get("size"))
	r.f.Refuse(err)
	return sh
}
