package knows

import (
	"context"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// usualGood is how many good sheets a paper is compared for that no brief has
// asked for yet.
const usualGood = 50

// gathered is all that the page shows.
type gathered struct {
	papers  []Paper
	numbers []part.Reckoned
	tags    map[string]string // of makings, by id
	has     map[string]bool
}

// add takes numbers over that are not there yet: papers have many in common.
func (g *gathered) add(list []part.Reckoned) {
	for _, n := range list {
		if !g.has[n.Key] {
			g.has[n.Key] = true
			g.numbers = append(g.numbers, n)
		}
	}
}

func (p *Page) gather(ctx context.Context, s part.Speech) (gathered, error) {
	g := gathered{tags: map[string]string{}, has: map[string]bool{}}
	known, err := p.studio.Known(ctx)
	if err != nil {
		return g, err
	}
	papers, err := p.studio.Papers(ctx, studio.PaperFilter{})
	if err != nil {
		return g, err
	}
	for _, pa := range papers {
		if err := p.paper(ctx, &g, s, known, pa); err != nil {
			return g, err
		}
	}
	makings, err := p.studio.Makings(ctx, studio.MakingFilter{Light: true})
	if err != nil {
		return g, err
	}
	for _, m := range makings {
		g.tags[m.ID] = m.Tag
	}
	return g, p.old(ctx, &g, s, known)
}

// paper compares what the next plan of a paper asks for with what the handbook
// alone would.
func (p *Page) paper(ctx context.Context, g *gathered, s part.Speech, known belief.Known, pa studio.Paper) error {
	b := studio.Brief{PaperID: pa.ID, GoodSheets: usualGood, Sheet: pa.Sheet}
	briefs, err := p.studio.Briefs(ctx, studio.BriefFilter{PaperID: pa.ID})
	if err != nil {
		return err
	}
	for i, last := range briefs {
		if i == 0 || last.Created.After(b.Created) {
			b.GoodSheets, b.Sheet, b.ConfidencePct, b.Created = last.GoodSheets, last.Sheet, last.ConfidencePct, last.Created
		}
	}
	line := Paper{Name: pa.Name, Href: "/papers/" + pa.ID, Good: b.GoodSheets}
	req, now, err := p.studio.PlanBrief(ctx, b)
	switch fault.KindOf(err) {
	case fault.KindInvalid, fault.KindOutOfRange, fault.KindInfeasible:
		line.Cannot = true
	}
	if err != nil && !line.Cannot {
		return err
	}
	if numbers, err := part.Reckon(req, belief.Known{}, known, s); err == nil {
		g.add(numbers)
	}
	if !line.Cannot {
		if was, err := plan.Make(req, belief.Known{}); err == nil {
			line.Changes = part.Changes(was, now, s)
		}
	}
	g.papers = append(g.papers, line)
	return nil
}

// old adds numbers that no paper rests on any more, because its furnish or its
// beating was changed since: what was measured of them is not lost.
func (p *Page) old(ctx context.Context, g *gathered, s part.Speech, known belief.Known) error {
	for key, seen := range known.Seen {
		if g.has[key] || len(seen) == 0 {
			continue
		}
		makings, err := p.studio.Makings(ctx, studio.MakingFilter{ID: seen[0].Making})
		if err != nil {
			return err
		}
		for _, m := range makings {
			if numbers, err := part.Reckon(m.Request, belief.Known{}, known, s); err == nil {
				for _, n := range numbers {
					if n.Key == key {
						g.add([]part.Reckoned{n})
					}
				}
			}
		}
	}
	return nil
}

// item sets a number with its forms.
func (g *gathered) item(index int, n part.Reckoned, f *page.Form, s part.Speech) Item {
	item := Item{Reckoned: n, Index: index}
	mine := f.Get("key") == n.Key
	field := func(fd part.Field) part.Field { // ids differ from number to number, names do not
		if mine {
			return f.Field(fd)
		}
		return fd
	}
	unit := n.Unit
	if unit == "mm" && s.US() {
		unit = "in"
	}
	item.Value = field(part.Field{Name: "value", Label: "Fix it at", Unit: unit, Kind: part.Number, Mode: "decimal", Required: true})
	item.Basis = field(part.Field{Name: "basis", Label: "How do you know?", Kind: part.Select, Options: bases})
	item.Words = field(part.Field{Name: "why", Label: "Why", Kind: part.Text})
	item.Open = mine && len(f.Faults) > 0
	for _, o := range n.Seen {
		saw := Saw{Tag: g.tags[o.Making], Href: "/makings/" + o.Making, Says: n.Here(o), ID: o.ID, Excluded: o.Excluded}
		saw.Reason = part.Field{Name: "reason", Label: "Why is it left out?", Kind: part.Text, Required: true}
		if f.Get("id") == o.ID && len(f.Faults) > 0 {
			saw.Reason, saw.Open = f.Field(saw.Reason), true
			item.Open = true
		}
		item.Saw = append(item.Saw, saw)
	}
	return item
}
