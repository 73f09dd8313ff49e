package knows

import (
	"context"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// What a page of twenty years shows of them: the papers made last, and of each
// number what was seen of it last, with all that was left out.
const (
	mostPlanned = 12
	mostSeen    = 8
)

// gathered is all that the page shows.
type gathered struct {
	papers    []Paper
	unplanned []Paper // neither made nor promised yet
	earlier   []Paper // made longer ago than is planned here
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
	for _, pa := range in.latest() {
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
		if len(g.papers) == mostPlanned {
			g.earlier = append(g.earlier, Paper{Name: pa.Name, Href: "/papers/" + pa.ID})
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
