package cook

import (
	"fmt"

	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// readEnd reads the weighed batch: how wet it is, and by when it must be used.
func (p *Page) readEnd(f *page.Form, s part.Speech, shelf fibre.Shelf, c cookery.Cook) ended {
	number := func(name string, kind measure.Kind, usual float64) float64 {
		if f.Get(name) == "" {
			return usual
		}
		v, err := s.Read(name, f.Get(name), kind)
		f.Refuse(err)
		return v
	}
	b := ended{wetG: number("wet", measure.OfMass, 0), how: f.Get("how")}
	if len(f.Faults) == 0 && !(b.wetG >= 0.1 && b.wetG <= 1e6) {
		f.Refuse(fault.OutOfRange("wet", "weigh the whole batch: between 0.1 and 1000000 g"))
	}
	if w, ok := held[b.how]; ok {
		b.moisturePct = 100 * float64(w/(1+w))
	} else {
		b.how = cookery.ByTest
		f.At = map[string]string{"wet": "handful"}
		wet, dried := number("handful", measure.OfMass, 0), number("dried", measure.OfMass, 0)
		solids, err := cooking.SolidsFromDrying(measure.Mass(wet), measure.Mass(dried), measure.MoistureWet(number("left", measure.OfPercent, 10)/100))
		if wet == 0 {
			err = fault.Invalid("handful", "weigh a handful, dry it, weigh it again; or say that it is drained or squeezed")
		}
		f.Refuse(err)
		b.moisturePct = 100 * (1 - float64(solids))
	}
	if b.moisturePct > 99 {
		f.Refuse(fault.Invalid("dried", "that is thinner than any batch to keep: drain it first"))
	}
	if dry := b.wetG * (1 - b.moisturePct/100); len(f.Faults) == 0 && dry > c.DryG*1.05 {
		f.Refuse(fault.Invalid("wet", "that is more dry fibre than went into the pot: look at the weights again"))
	}
	b.keep(f, p, shelf, c, number("kept-at", measure.OfTemperature, 15))
	if bag := number("bag", measure.OfMass, 0); bag > 0 && len(f.Faults) == 0 {
		f.At = map[string]string{"each": "bag", "solids": "how"}
		bags, err := cooking.Portions(measure.Mass(b.wetG), measure.Solids(1-b.moisturePct/100), measure.Mass(bag))
		f.Refuse(err)
		b.note += fmt.Sprintf(" In bags of %s dry: %s of %s wet, %s over.", s.One(bag, "g"), part.Many(int(bags.Bags), "bag"), s.One(float64(bags.Wet), "g"), s.One(float64(bags.Left), "g"))
	}
	return b
}

// keep says how long such fibre keeps, and the day it must be used by.
func (b *ended) keep(f *page.Form, p *Page, shelf fibre.Shelf, c cookery.Cook, at float64) {
	k, err := cooking.KeepingOf(fibreOf(shelf, c.Fibre), f.Get("kept"))
	if err != nil {
		f.Refuse(fault.Invalid("kept", "%s", fault.All(err)[0].Text))
		return
	}
	low, mid := k.Days.Low, k.Days.Mid
	if k.State != cooking.Frozen && k.State != cooking.Dried {
		for _, d := range []*float64{&low, &mid} {
			days, err := cooking.KeepsAt(measure.Days(*d), measure.Temperature(at))
			if err != nil {
				f.At = map[string]string{"temperature": "kept-at"}
				f.Refuse(err)
				return
			}
			*d = float64(days)
		}
	}
	b.keepBy = p.now().AddDate(0, 0, max(1, int(mid))).Format("2006-01-02")
	b.note = fmt.Sprintf("Kept %s; look and smell from day %d on. Slime, smell or colour overrule any date.", k.State, max(1, int(low)))
}

// fibreOf finds what is cooked; a plant that only recipes name has its name alone.
func fibreOf(shelf fibre.Shelf, name string) fibre.Fibre {
	if f, ok := shelf.Get(name); ok {
		return f
	}
	return fibre.Fibre{Name: name}
}
