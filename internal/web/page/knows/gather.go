package knows

import (
	"cmp"
	"context"
	"fmt"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// gathered is all that the page shows.
type gathered struct {
	papers    []Paper
	unplanned []Paper // neither made nor promised yet
	numbers   []part.Reckoned
	tags      map[string]string // of makings, by id
	steps     []usual           // of the papers planned, the latest made first
	has       map[string]bool
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
	in, err := p.read(ctx)
	if err != nil {
		return g, err
	}
	made := map[string]bool{}
	for _, m := range in.makings {
		g.tags[m.ID], made[m.PaperID] = m.Tag, true
	}
	for _, pa := range in.papers {
		// All papers are reckoned with, which is cheap; planned are those that
		// have been made or are promised.
		one := 1
		kit := in.profile.Kit
		if numbers, err := part.Reckon(plan.Request{Paper: pa.Design, Sheet: pa.Sheet, GoodSheets: &one, Studio: kit}, belief.Known{}, in.known, s); err == nil {
			g.add(numbers)
		}
		brief, promised := in.next(pa)
		if !made[pa.ID] && !promised {
			g.unplanned = append(g.unplanned, Paper{Name: pa.Name, Href: "/papers/" + pa.ID})
			continue
		}
		next, err := p.compared.of(ctx, p.studio, in, pa, brief)
		if err != nil {
			return g, err
		}
		line := Paper{Name: pa.Name, Href: "/papers/" + pa.ID, Good: brief.GoodSheets, Cannot: next.cannot}
		if next.was != nil {
			line.Changes = part.Changes(*next.was, *next.now, s)
		}
		g.papers = append(g.papers, line)
		if next.now != nil {
			g.steps = append(g.steps, usual{paper: pa, good: brief.GoodSheets, steps: next.now.Steps})
		}
	}
	g.latestFirst(in.makings)
	return g, p.old(ctx, &g, s, in.known)
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
	said := map[string]string{}
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
	if n.Step != "" {
		var minutes float64
		item.StepName, minutes = g.step(n.Step)
		item.Was, item.Now, _ = n.Times(minutes, 0)
		if unit = "× usual"; minutes > 0 {
			unit = "× " + part.Minutes(minutes)
		}
		for _, o := range n.Seen {
			_, _, saw := n.Times(minutes, o.Value)
			said[o.ID] = saw
		}
	}
	item.Value = field(part.Field{Name: "value", Label: "Fix it at", Unit: unit, Kind: part.Number, Mode: "decimal", Required: true})
	item.Basis = field(part.Field{Name: "basis", Label: "How do you know?", Kind: part.Select, Options: bases})
	item.Words = field(part.Field{Name: "why", Label: "Why", Kind: part.Text})
	item.Open = mine && len(f.Faults) > 0
	for _, o := range n.Seen {
		saw := Saw{Tag: g.tags[o.Making], Href: "/makings/" + o.Making, Says: cmp.Or(said[o.ID], n.Here(o)), ID: o.ID, Excluded: o.Excluded}
		saw.Reason = part.Field{Name: "reason", Label: "Why is it left out?", Kind: part.Text, Required: true}
		if f.Get("id") == o.ID && len(f.Faults) > 0 {
			saw.Reason, saw.Open = f.Field(saw.Reason), true
			item.Open = true
		}
		item.Saw = append(item.Saw, saw)
	}
	return item
}

// FieldID makes an id that is the page's only one.
func (i Item) FieldID(name string) string { return fmt.Sprintf("f-%d-%s", i.Index, name) }
