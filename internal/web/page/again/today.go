package again

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/again"
	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// usualGood is how many good sheets the making was to have.
func usualGood(m studio.Making) int {
	if m.Request.GoodSheets != nil {
		return *m.Request.GoodSheets
	}
	return max(1, m.Progress.Good)
}

// choice says one difference in the reader's units.
func choice(s part.Speech, d again.Differing, taken bool) Choice {
	names := map[string]string{again.KeyGrammage: "Grammage", again.KeyBeating: "Beating", again.KeyBath: "Size bath"}
	c := Choice{Key: d.Key, Name: names[d.Key], Text: s.One(d.Made, d.Unit), Taken: taken}
	if kind, ok := strings.CutPrefix(d.Key, again.KeyAdditive); ok {
		c.Name = part.Upper(kind)
		c.Text += " on fibre"
	}
	switch {
	case d.Said:
		c.Text += ", meant were " + s.One(d.Meant, d.Unit)
	default:
		c.Text += ", and nothing was said"
	}
	return c
}

// hold plans it for today and sets it beside the plan of then. One that cannot
// be made today says why.
func (p *Page) hold(ctx context.Context, x *wish) error {
	m := x.making
	_, now, err := p.studio.PlanDesign(ctx, again.Made(m, x.taken), m.Request.Sheet, x.good, m.Request.ConfidencePct)
	if fault.Refused(err) {
		x.data.No = page.Sentence(err)
		return nil
	}
	if err != nil {
		return err
	}
	s := x.data.Speech
	x.data.Today = today(s, m.Plan, now)
	moves := part.Moves(m.Plan, now, s)
	x.data.Short = part.Told(moves)
	x.data.Does = part.Moved(moves, "The plan of then, and of today", "Then", "Today")
	x.data.Mind, x.data.Gone = part.Minded(m.Plan, now, s)
	return nil
}

// today is what a plan of today rests on that was otherwise then.
func today(s part.Speech, was, now plan.Plan) part.Table {
	t := part.Table{Columns: []part.Column{{Label: "What"}, {Label: "Then", Number: true}, {Label: "Today", Number: true}}}
	row := func(what, a, b string) {
		if a != b {
			t.Rows = append(t.Rows, part.Row{Cells: []string{what, cmp.Or(a, "–"), cmp.Or(b, "–")}})
		}
	}
	row("Out of the lots", lots(was), lots(now))
	row("With", equipment(was, now), equipment(now, was))
	for _, b := range now.RestsOn {
		if strings.HasPrefix(b.Belief, plan.StepTimeKey("")) {
			continue // their sum stands among what it does
		}
		i := slices.IndexFunc(was.RestsOn, func(a plan.Prior) bool { return a.Key == b.Key && a.Name == b.Name })
		if i >= 0 {
			row(part.Upper(b.Name), s.One(was.RestsOn[i].Value, b.Unit), s.One(b.Value, b.Unit))
		}
	}
	return t
}

func lots(p plan.Plan) string {
	var list []string
	for _, w := range p.Weigh {
		if w.Lot != "" && !slices.Contains(list, w.Lot) {
			list = append(list, w.Lot)
		}
	}
	return strings.Join(list, ", ")
}

// equipment is what one plan uses and the other does not.
func equipment(p, other plan.Plan) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(p.Uses), func(u string) bool { return slices.Contains(other.Uses, u) }), ", ")
}

// whose finds for whom it was, and whether the paper was changed since.
func (p *Page) whose(ctx context.Context, x *wish, same bool) error {
	b, err := p.studio.Brief(ctx, x.making.BriefID)
	if err != nil {
		return err
	}
	people, err := p.studio.People(ctx)
	if err != nil {
		return err
	}
	for _, one := range people {
		if one.ID == b.PersonID {
			x.data.Person, x.data.Same = one.Name, same
		}
	}
	now, err := p.studio.Paper(ctx, x.making.PaperID)
	if err == nil && now.Revision != x.making.PaperRevision {
		x.data.Newer = "It was made from revision " + strconv.Itoa(x.making.PaperRevision) + "; the paper is at revision " + strconv.Itoa(now.Revision) + " now. What follows is the paper as it was made."
	}
	return err
}
