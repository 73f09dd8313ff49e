package design

import (
	"context"
	"net/http"
	"reflect"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Answer is what a change does.
type Answer struct {
	No    []part.Wrong // why there is none
	Short []string     // the greatest changes in a few words
	Table part.Table
	Mind  []string // what the plan warns of now and did not before
	Gone  []string // and the other way about
}

// answer reads the form and says what the design in it does against the paper
// as it is. One that cannot be made is answered with the reason.
func (p *Page) answer(ctx context.Context, base page.Base, f *page.Form, old studio.Paper) (Data, draft, error) {
	profile, err := p.studio.Profile(ctx)
	if err != nil {
		return Data{}, draft{}, err
	}
	shelf := part.Shelf(profile.Kit)
	d := Data{Base: base}
	typed := base.Speech
	if f.Values.Has("system") { // as it was shown when it was typed
		typed.System = page.ReadSystem(f.Get("system"))
	}
	asIs := draft{old.Design, old.Sheet, part.UsualGood}
	write(f, typed, asIs)
	now := read(f, typed, asIs, shelf)
	asIs.good = now.good
	if len(f.Faults) == 0 {
		if d.Answer, err = p.hold(ctx, base.Speech, asIs, now); fault.Refused(err) {
			f.Refuse(err)
		} else if err != nil {
			return d, now, err
		}
	}
	switch {
	case len(f.Faults) > 0:
		d.Status = http.StatusUnprocessableEntity
		d.Speech.System = typed.System // what was typed stays as it was typed
	case typed.System != base.Speech.System:
		f = retold(f, base.Speech, now)
	}
	d.set(f, old, shelf)
	d.Answer.No = d.Wrong
	return d, now, nil
}

// retold writes what was typed in other units.
func retold(f *page.Form, s part.Speech, d draft) *page.Form {
	out := &page.Form{At: f.At}
	for _, name := range []string{"change", "name", "revision"} {
		if f.Values.Has(name) {
			out.Fill(name, f.Get(name))
		}
	}
	write(out, s, d)
	return out
}

// hold plans a design beside the paper as it is; where that cannot be made, there
// is nothing to show beside the other.
func (p *Page) hold(ctx context.Context, s part.Speech, asIs, now draft) (Answer, error) {
	var was, then planned
	if reflect.DeepEqual(asIs, now) {
		was = p.plan(ctx, asIs)
		then = was
	} else {
		was, then = p.both(ctx, asIs, now)
	}
	if then.err != nil {
		return Answer{}, then.err
	}
	if was.err != nil && !fault.Refused(was.err) {
		return Answer{}, was.err
	}
	moves := part.Moves(was.Plan, then.Plan, s)
	a := Answer{Short: part.Told(moves), Table: part.Moved(moves, "As it is, and changed", "As it is", "Changed")}
	a.Mind, a.Gone = part.Minded(was.Plan, then.Plan, s)
	return a, nil
}
