package studio

import (
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// reading is a form that is being read over what the records have.
type reading struct {
	*page.Form
	part.Speech
	was   *plan.Studio
	now   *studio.Profile
	names []namedThing
}

// namedThing is a name on the form, and where.
type namedThing struct {
	field, name string
	out         bool
}

// write fills the form with the studio as it stands.
func write(f *page.Form, s part.Speech, p studio.Profile) {
	f.Fill("revision", strconv.Itoa(p.Revision))
	d := apart(p)
	k := listed(p.Kit)
	for _, g := range groups {
		for _, b := range g.ask() {
			f.Fill(b.Name, b.write(s, &d))
		}
		if g.list != nil {
			g.list.fill(f, s, &k)
		}
	}
}

// over begins to read a form over what the records have.
func over(f *page.Form, s part.Speech, old studio.Profile) *reading {
	f.At = faultsAt()
	was := listed(old.Kit)
	now := old
	now.Kit = was
	return &reading{Form: f, Speech: s, was: &was, now: &now}
}

// read takes the studio from the form; what nobody touched stays exactly as it
// was.
func read(f *page.Form, s part.Speech, old studio.Profile) *reading {
	c := over(f, s, old)
	was := apart(*c.now)
	now := was.clone()
	singles(c, &was, &now)
	*c.now = now.together(c, was)
	var err error
	if c.now.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
		f.Refuse(fault.Invalid("", "the form is incomplete; open the page again"))
	}
	c.now.Answered = true
	for _, g := range groups {
		if g.list != nil {
			g.list.take(c)
		}
	}
	outOfOrder(c, named(*c.was))
	return c
}

// named are the names of all equipment.
func named(k plan.Studio) []string {
	var out []string
	collect(&out, vats, k)
	collect(&out, moulds, k)
	collect(&out, beaters, k)
	collect(&out, presses, k)
	collect(&out, dryers, k)
	collect(&out, scales, k)
	return out
}

func collect[T any](out *[]string, t things[T], k plan.Studio) {
	for i := range *t.of(&k) {
		*out = append(*out, *t.name(&(*t.of(&k))[i]))
	}
}

// area is that of a sheet of the usual size.
func (c *reading) area() measure.Area {
	a, err := sheet.ShapeArea(sheet.Rectangle, measure.Length(c.now.DefaultSheet.LongMM), measure.Length(c.now.DefaultSheet.ShortMM), 1)
	if err != nil {
		return 0
	}
	return a
}

func (c *reading) usual() string {
	return c.SizeName(c.now.DefaultSheet.LongMM, c.now.DefaultSheet.ShortMM)
}

// smallForce is the force below which people think of a weight, kN.
const smallForce = 2.0

// gramsOfKN is the mass that weighs a kilonewton: standard gravity, exact.
const gramsOfKN = 1e6 / 9.80665

// pull says a force, a small one as the weight that gives it.
func (c *reading) pull(kn float64) string {
	if kn < smallForce {
		return c.One(kn*gramsOfKN, "g")
	}
	return c.One(kn, "kN")
}

// rowFaults are those told at the blanks of one row.
func rowFaults(f *page.Form, prefix string) {
	f.Faults = slices.DeleteFunc(f.Faults, func(e *fault.Error) bool {
		return prefix == "" || len(e.Field) < len(prefix) || e.Field[:len(prefix)] != prefix
	})
}
