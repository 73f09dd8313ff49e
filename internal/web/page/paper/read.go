package paper

import (
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostDips bounds a count before the plan judges it.
const mostDips = 1000

// start begins a new paper with what is usual.
func start(f *page.Form, s part.Speech) {
	size := "A4"
	if s.US() {
		size = "Letter"
	}
	f.Fill("size", size)
	f.Fill("edges", "deckle")
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
	f.Fill("name", p.Name)
	f.Fill("use", d.Use)
	f.Fill("furnish", part.WriteFurnish(d.Furnish))
	number("grammage", &d.GrammageConditioned)
	f.Fill("size", s.SizeName(p.Sheet.LongMM, p.Sheet.ShortMM))
	f.Fill("edges", or(p.Sheet.Edges, "deckle"))
	number("beating", d.BeatingHours)
	f.Fill("drying", or(d.Drying, "stack"))
	f.Fill("surface", d.SurfaceSize)
	f.Fill("forming", or(d.Forming, "western"))
	if d.Dips != nil {
		f.Fill("dips", strconv.Itoa(*d.Dips))
	}
	if d.PourG != nil {
		f.Fill("pour", s.One(*d.PourG, "g"))
	}
	number("tolerance", d.TolerancePct)
	f.Fill("additives", additives(d.Additives))
	f.Fill("finish", d.Finish)
	f.Fill("note", p.Note)
}

func or(s, usual string) string {
	if s == "" {
		return usual
	}
	return s
}

// read takes the paper from the form; what the form does not ask for stays as
// it was, and so does a number nobody touched.
func read(f *page.Form, s part.Speech, old studio.Paper) studio.Paper {
	was := &page.Form{}
	if old.ID != "" {
		write(was, s, old)
	}
	kept := func(name string) bool { return old.ID != "" && f.Get(name) == was.Get(name) }
	quantity := func(name string, kind measure.Kind, old *float64) *float64 {
		if kept(name) {
			return old
		}
		if f.Get(name) == "" {
			return nil
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		return &v
	}
	p := old
	p.Name, p.Note, p.Change = f.Get("name"), f.Get("note"), f.Get("change")
	if p.Name == "" {
		f.Refuse(fault.Invalid("name", "give the paper a name"))
	}
	p.Revision, _ = strconv.Atoi(f.Get("revision"))
	d := &p.Design
	d.Name, d.Use, d.Drying, d.Forming = p.Name, f.Get("use"), f.Get("drying"), f.Get("forming")
	d.SurfaceSize, d.Finish = f.Get("surface"), f.Get("finish")
	if !kept("furnish") {
		parts, err := part.ReadFurnish("furnish", f.Get("furnish"))
		f.Refuse(err)
		d.Furnish = priced(parts, old.Design.Furnish)
	}
	if g := quantity("grammage", measure.OfGrammage, &old.Design.GrammageConditioned); g != nil {
		d.GrammageConditioned = *g
	} else {
		f.Refuse(fault.Invalid("grammage", "say how heavy the paper is, such as 100 g/m²"))
	}
	d.BeatingHours = quantity("beating", measure.OfHours, d.BeatingHours)
	d.PourG = quantity("pour", measure.OfMass, d.PourG)
	d.TolerancePct = quantity("tolerance", measure.OfPercent, d.TolerancePct)
	d.Dips = nil
	if f.Get("dips") != "" {
		n, err := part.Count("dips", f.Get("dips"), 1, mostDips, "dips")
		f.Refuse(err)
		d.Dips = &n
	}
	var err error
	if !kept("additives") {
		d.Additives, err = readAdditives(f.Get("additives"))
		f.Refuse(err)
	}
	p.Sheet.Edges = f.Get("edges")
	if !kept("size") {
		p.Sheet.LongMM, p.Sheet.ShortMM, err = s.ReadSize("size", f.Get("size"))
		f.Refuse(err)
	}
	return p
}

// priced keeps the price of a fibre that stays in the furnish.
func priced(parts, old []plan.Part) []plan.Part {
	for i, p := range parts {
		if j := slices.IndexFunc(old, func(o plan.Part) bool { return o.Fibre == p.Fibre }); j >= 0 {
			parts[i].PriceKg = old[j].PriceKg
		}
	}
	return parts
}

func additives(list []plan.Additive) string {
	var s []string
	for _, a := range list {
		s = append(s, a.Kind+" "+part.Written(a.DosePct))
	}
	return strings.Join(s, ", ")
}
