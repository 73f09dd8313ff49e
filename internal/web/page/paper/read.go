package paper

import (
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// read takes the paper from the form; what the form does not ask for stays as
// it was, and so does a number nobody touched.
func read(f *page.Form, s part.Speech, shelf fibre.Shelf, old studio.Paper) studio.Paper {
	var was *page.Form
	if old.ID != "" {
		was = &page.Form{}
		write(was, s, old)
	}
	o := page.ReadOver(f, was, s)
	p := old
	p.Name, p.Note, p.Change = f.Get("name"), f.Get("note"), f.Get("change")
	if p.Name == "" {
		f.Refuse(fault.Invalid("name", "give the paper a name"))
	}
	p.Revision, _ = strconv.Atoi(f.Get("revision"))
	d := &p.Design
	d.Name = p.Name
	var err error
	if !o.Kept("furnish") {
		d.Furnish, err = part.ReadFurnish(shelf, "furnish", f.Get("furnish"))
		f.Refuse(err)
		priced(d.Furnish, old.Design.Furnish, func(p *plan.Part) (string, **float64) { return p.Fibre, &p.PriceKg })
	}
	o.Design(d, &p.Sheet)
	if !o.Kept("additives") {
		d.Additives, err = page.ReadAdditives("additives", f.Get("additives"))
		f.Refuse(err)
		priced(d.Additives, old.Design.Additives, func(a *plan.Additive) (string, **float64) { return source.Plain(a.Kind), &a.PriceKg })
	}
	return p
}

// priced keeps the price of what stays: of the first of its name that is not
// taken yet.
func priced[T any](now, old []T, of func(*T) (string, **float64)) {
	old = slices.Clone(old)
	for i := range now {
		name, price := of(&now[i])
		j := slices.IndexFunc(old, func(o T) bool { was, _ := of(&o); return was == name })
		if j < 0 {
			continue
		}
		_, was := of(&old[j])
		*price = *was
		old = slices.Delete(old, j, j+1)
	}
}
