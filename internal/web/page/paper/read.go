package paper

import (
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/source"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostDips bounds a count before the plan judges it.
const mostDips = 1000

// reading is a form that is being read over a paper as it stands; of a new one,
// over nothing.
type reading struct {
	*page.Form
	part.Speech
	shelf fibre.Shelf
	old   studio.Paper
	was   page.Form
}

// read takes the paper from the form; what the form does not ask for stays as
// it was, and so does a number nobody touched.
func read(f *page.Form, s part.Speech, shelf fibre.Shelf, old studio.Paper) studio.Paper {
	r := &reading{Form: f, Speech: s, shelf: shelf, old: old}
	if old.ID != "" {
		write(&r.was, s, old)
	}
	p := old
	p.Name, p.Note, p.Change = f.Get("name"), f.Get("note"), f.Get("change")
	if p.Name == "" {
		f.Refuse(fault.Invalid("name", "give the paper a name"))
	}
	p.Revision, _ = strconv.Atoi(f.Get("revision"))
	p.Design.Name = p.Name
	r.design(&p.Design)
	r.sheet(&p.Sheet)
	return p
}

// kept reports whether a blank stands as the records have it.
func (r *reading) kept(name string) bool { return r.old.ID != "" && r.Get(name) == r.was.Get(name) }

// quantity reads a number that may be left unsaid.
func (r *reading) quantity(name string, kind measure.Kind, old *float64) *float64 {
	if r.kept(name) {
		return old
	}
	if r.Get(name) == "" {
		return nil
	}
	v, err := r.Read(name, r.Get(name), kind)
	r.Refuse(err)
	return &v
}

// with is quantity for what goes with another answer: it goes when that goes,
// unless it was typed just now; then the plan says what is missing.
func (r *reading) with(other bool, name string, kind measure.Kind, old *float64) *float64 {
	if !other && r.kept(name) {
		return nil
	}
	return r.quantity(name, kind, old)
}

func (r *reading) design(d *plan.Paper) {
	d.Use, d.Drying, d.Forming, d.Finish = r.Get("use"), r.Get("drying"), r.Get("forming"), r.Get("finish")
	var err error
	if !r.kept("furnish") {
		d.Furnish, err = part.ReadFurnish(r.shelf, "furnish", r.Get("furnish"))
		r.Refuse(err)
		priced(d.Furnish, r.old.Design.Furnish, func(p *plan.Part) (string, **float64) { return p.Fibre, &p.PriceKg })
	}
	if g := r.quantity("grammage", measure.OfGrammage, &r.old.Design.GrammageConditioned); g != nil {
		d.GrammageConditioned = *g
	} else {
		r.Refuse(fault.Invalid("grammage", "say how heavy the paper is, such as 100 g/m²"))
	}
	d.BeatingHours = r.quantity("beating", measure.OfHours, d.BeatingHours)
	d.PourG = r.quantity("pour", measure.OfMass, d.PourG)
	d.TolerancePct = r.quantity("tolerance", measure.OfPercent, d.TolerancePct)
	d.ShareWithinPct = r.quantity("within", measure.OfPercent, d.ShareWithinPct)
	d.Dips = nil
	if r.Get("dips") != "" {
		n, err := part.Count("dips", r.Get("dips"), 1, mostDips, "dips")
		r.Refuse(err)
		d.Dips = &n
	}
	r.surface(d)
	if !r.kept("additives") {
		d.Additives, err = readAdditives(r.Get("additives"))
		r.Refuse(err)
		priced(d.Additives, r.old.Design.Additives, func(a *plan.Additive) (string, **float64) { return source.Plain(a.Kind), &a.PriceKg })
	}
}

// surface reads the size, and with it its bath and how it comes on.
func (r *reading) surface(d *plan.Paper) {
	d.SurfaceSize = r.Get("surface")
	sized := d.SurfaceSize != ""
	d.SurfaceBathPct = r.with(sized, "bath", measure.OfPercent, d.SurfaceBathPct)
	d.SurfaceWay = r.Get("way")
	if d.SurfaceWay == "" || sized {
		return
	}
	if !r.kept("way") {
		r.Refuse(fault.Invalid("way", "name the surface size too, such as gelatin, or leave this"))
	}
	d.SurfaceWay = ""
}

func (r *reading) sheet(sh *plan.Sheet) {
	sh.Edges = r.Get("edges")
	if !r.kept("shape") {
		sh.Shape = r.Get("shape")
	}
	sh.FillsPct = r.with(sh.Shape == sheet.Odd, "fills", measure.OfPercent, sh.FillsPct)
	sh.TrimMM = r.with(sh.Edges == "trimmed", "trim", measure.OfLength, sh.TrimMM)
	sh.ToleranceMM = r.quantity("play", measure.OfLength, sh.ToleranceMM)
	if r.kept("size") {
		return
	}
	typed := r.Get("size")
	if sh.Shape == sheet.Round { // one diameter says it
		if v, err := r.Read("size", typed, measure.OfLength); err == nil && v > 0 {
			sh.LongMM, sh.ShortMM = v, v
			return
		}
	}
	var err error
	sh.LongMM, sh.ShortMM, err = r.ReadSize("size", typed)
	r.Refuse(err)
}
