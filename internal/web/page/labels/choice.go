package labels

import (
	"context"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// choice is what was ticked, and how often each.
type choice struct {
	asked
	makings []studio.Making
	counts  map[string]int
	all     int
}

// choose reads what was ticked. Faults of what was typed are in the form.
func (p *Page) choose(ctx context.Context, f *page.Form, s part.Speech) (choice, error) {
	c := choice{asked: readKind(f, s, toCut), counts: map[string]int{}}
	f.Fill("each", "1")
	each, err := part.Count("each", f.Get("each"), 1, mostLabels, "labels")
	f.Refuse(err)
	for _, id := range f.Values["making"] {
		if len(c.makings) == mostOffered || c.counts[id] > 0 {
			continue
		}
		list, err := p.studio.Makings(ctx, studio.MakingFilter{ID: id, Light: true})
		if err != nil {
			return c, err
		}
		if len(list) == 0 {
			return c, fault.NotFound("there is no such making")
		}
		n := beside(f, id, each)
		c.makings, c.counts[id] = append(c.makings, list[0]), max(1, n)
		c.all += n
	}
	if c.all > mostLabels {
		f.Refuse(fault.OutOfRange("each", "at most %d labels at once", mostLabels))
	}
	return c, nil
}

// beside is how many are typed beside a making, else as many as of each.
func beside(f *page.Form, id string, each int) int {
	name := "n-" + id
	if f.Get(name) == "" {
		return each
	}
	n, err := part.Count(name, f.Get(name), 1, mostLabels, "labels")
	f.Refuse(err)
	return n
}

// rows are the makings that were ticked, then the last others, whose numbers are
// looked at too: a tick may have been forgotten.
func (p *Page) rows(ctx context.Context, f *page.Form, c choice) ([]Row, error) {
	list, err := p.studio.Makings(ctx, studio.MakingFilter{PaperID: f.Get("of"), Light: true, Limit: mostOffered})
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(list, func(m studio.Making) bool { return c.counts[m.ID] > 0 })
	var rows []Row
	for _, m := range list {
		beside(f, m.ID, 1)
	}
	for i, m := range slices.Concat(c.makings, list) {
		rows = append(rows, Row{ID: m.ID, Tag: m.Tag, Paper: m.PaperName, When: part.Since(m.Created, p.now()), Ticked: i < len(c.makings),
			Count: f.Field(part.Field{Name: "n-" + m.ID, Label: "How many of " + m.Tag})})
	}
	return rows, nil
}
