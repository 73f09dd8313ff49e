package design

import (
	"fmt"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostGood bounds a count before the plan judges it.
const mostGood = 10_000

// reader takes a design from the form. What the form does not ask for stays as
// it was, and so does a number nobody touched.
type reader struct {
	f   *page.Form
	was *page.Form // the form untouched
	s   part.Speech

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
	old, sheet := asIs.paper, asIs.sheet
	d := old
	d.Use, d.Drying, d.SurfaceSize = f.Get("use"), f.Get("drying"), f.Get("surface")
	d.Furnish, d.Additives = r.furnish(old.Furnish), r.additives(old.Additives)
	if g := r.number("grammage", measure.OfGrammage, &old.GrammageConditioned); g != nil {
		d.GrammageConditioned = *g
	} else {
		f.Refuse(fault.Invalid("grammage", "say how heavy the paper is, such as 100 g/m²"))
	}
	d.BeatingHours = r.number("beating", measure.OfHours, old.BeatingHours)
	d.SurfaceBathPct = r.number("bath", measure.OfPercent, old.SurfaceBathPct)
	if d.SurfaceSize == "" {
		d.SurfaceBathPct = nil // there is no bath
	}
	var err error
	sheet.Edges = f.Get("edges")
	if !r.kept("size") {
		sheet.LongMM, sheet.ShortMM, err = s.ReadSize("size", f.Get("size"))
		f.Refuse(err)
	}
	good, err := part.Count("good", f.Get("good"), 1, mostGood, "good sheets")
	f.Refuse(err)
	return draft{d, sheet, good}
}

// each calls do for every row that is filled in, and reports whether any row
// was touched.
func (r reader) each(what, much string, do func(row int, name string, v float64)) (touched bool) {
	for i := 1; i <= mostRows; i++ {
		name, field := r.f.Get(named(what, i)), named(much, i)
		touched = touched || !r.kept(named(what, i)) || !r.kept(field)
		switch {
		case name == "":
		case r.f.Get(field) == "":
			r.f.Refuse(fault.Invalid(field, "say how much of it; 0 leaves it out"))
		default:
			v, err := r.s.Read(field, r.f.Get(field), measure.OfPercent)
			r.f.Refuse(err)
			if v > 0 {
				do(i, name, v)
			}
		}
	}
	return touched
}

// furnish reads shares as parts of the whole, whatever they add up to.
func (r reader) furnish(old []plan.Part) []plan.Part {
	var list []plan.Part
	total := 0.0
	touched := r.each("fibre", "share", func(row int, name string, v float64) {
		if known, ok := r.shelf.Get(name); ok {
			name = known.Name
		}
		p := plan.Part{Fibre: name}
		if i := slices.IndexFunc(old, func(o plan.Part) bool { return o.Fibre == name }); i >= 0 {
			p = old[i]
		}
		p.SharePct = v
		at := fmt.Sprintf("paper.furnish[%d]", len(list))
		r.f.At[at] = named("fibre", row)
		r.f.At[at+".share_pct"] = named("share", row)
		list, total = append(list, p), total+v
	})
	if !touched {
		return old
	}
	if len(list) == 0 {
		r.f.Refuse(fault.Invalid("fibre-1", "name at least one fibre and its share"))
	}
	for i := range list {
		list[i].SharePct *= 100 / total
	}
	return list
}

// additives reads what is added; the dose of one that is measured by the vat
// stays millilitres to the litre.
func (r reader) additives(old []plan.Additive) []plan.Additive {
	var list []plan.Additive
	touched := r.each("additive", "dose", func(row int, name string, v float64) {
		a := plan.Additive{Kind: name}
		if i := slices.IndexFunc(old, func(o plan.Additive) bool { return o.Kind == name }); i >= 0 {
			a = old[i]
		}
		if a.DoseMLL > 0 {
			a.DoseMLL = v
		} else {
			a.DosePct = v
		}
		at := fmt.Sprintf("paper.additives[%d]", len(list))
		r.f.At[at] = named("additive", row)
		r.f.At[at+".dose_pct"] = named("dose", row)
		list = append(list, a)
	})
	if !touched {
		return old
	}
	return list
}
