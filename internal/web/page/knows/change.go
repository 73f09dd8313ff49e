package knows

import (
	"net/http"
	"slices"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// bases are how a maker may know a number.
var bases = []part.Option{
	{Value: "measured", Label: "I measured it"},
	{Value: "practice", Label: "It is common practice"},
	{Value: "memory", Label: "From memory"},
}

func grade(word string) source.Grade {
	switch word {
	case "measured":
		return source.Measured
	case "practice":
		return source.Practice
	}
	return source.Memory
}

// Bounds of a ratio, which the plan states none for; ours: beyond them it is
// another thing that is compared.
const leastRatio, mostRatio = 0.05, 20.0

// Fix fixes a number, so that makings no longer move it.
func (p *Page) Fix(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "What this studio knows", page.Knows)
	if err != nil {
		return err
	}
	g, err := p.gather(r.Context(), base.Speech)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(g.numbers, func(n part.Reckoned) bool { return n.Key == f.Get("key") })
	if i < 0 {
		return fault.NotFound("no plan rests on that number any more")
	}
	n := g.numbers[i]
	kind := measure.OfNumber
	switch n.Unit {
	case "mm":
		kind = measure.OfLength
	case "%":
		kind = measure.OfPercent
	}
	v, err := base.Speech.Read("value", f.Get("value"), kind)
	if err == nil {
		err = within(n, v)
	}
	if err != nil {
		f.Refuse(err)
		return p.show(w, r, f, http.StatusUnprocessableEntity)
	}
	pin := belief.Pin{Value: n.Typed(v), Grade: grade(f.Get("basis")), Why: f.Get("why")}
	if err := p.studio.SetPin(r.Context(), n.Key, pin); err != nil {
		return p.refuse(w, r, f, "why", err)
	}
	page.PutFlash(w, n.Name+" is fixed. It can be let go here at any time.")
	return page.See(w, r, "/knows")
}

// refuse tells at a blank what the records have against its words; any other
// fault is handed on.
func (p *Page) refuse(w http.ResponseWriter, r *http.Request, f *page.Form, at string, err error) error {
	if !fault.Refused(err) {
		return err
	}
	f.Refuse(fault.Invalid(at, "%s", page.Sentence(err)))
	return p.show(w, r, f, http.StatusUnprocessableEntity)
}

// within reports whether a typed value can be meant.
func within(n part.Reckoned, v float64) error {
	if n.Unit == "" {
		if !(v >= leastRatio && v <= mostRatio) {
			return fault.OutOfRange("value", "between %g and %g", leastRatio, mostRatio)
		}
		return nil
	}
	for _, e := range fault.All(plan.Check(plan.Request{Known: map[string]plan.Pin{n.Known: {Value: v}}})) {
		if e.Field == "known."+n.Known {
			return fault.OutOfRange("value", "%s", e.Text)
		}
	}
	return nil
}

// Free lets a fixed number go.
func (p *Page) Free(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	if err := p.studio.ForgetPin(r.Context(), f.Get("key")); err != nil {
		return err
	}
	page.PutFlash(w, "Let go: it follows the handbook and your makings again.")
	return page.See(w, r, "/knows")
}

// Leave leaves one making out of a number, with the reason, or takes it in
// again.
func (p *Page) Leave(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	back := f.Get("act") == "back"
	if !back && f.Get("reason") == "" {
		f.Refuse(fault.Invalid("reason", "say why, such as: weighed before they were dry"))
		return p.show(w, r, f, http.StatusUnprocessableEntity)
	}
	reason := f.Get("reason")
	if back {
		reason = ""
	}
	if err := p.studio.ExcludeObservation(r.Context(), f.Get("id"), reason); err != nil {
		return p.refuse(w, r, f, "reason", err)
	}
	if back {
		page.PutFlash(w, "Taken in again.")
	} else {
		page.PutFlash(w, "Left out. It can be taken in again here.")
	}
	return page.See(w, r, "/knows")
}
