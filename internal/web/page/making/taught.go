package making

import (
	"context"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Taught is what a making taught, and what that changes in the next one.
type Taught struct {
	Lessons []Lesson
	Next    []part.Change
	Same    bool // the next plan asks for the same
	Cannot  string
	Good    int
}

// Lesson is one number a making told of.
type Lesson struct {
	part.Reckoned
	Saw      string // what this making saw
	Excluded string // why it was left out
}

// taught compares what is known with what would be known without this making.
func (p *Page) taught(ctx context.Context, s part.Speech, m studio.Making) (Taught, error) {
	seen, err := p.studio.Observations(ctx, studio.ObservationFilter{MakingID: m.ID})
	if err != nil || len(seen) == 0 {
		return Taught{}, err
	}
	known, err := p.studio.Known(ctx)
	if err != nil {
		return Taught{}, err
	}
	without := part.Without(known, m.ID)
	numbers, err := part.Reckon(m.Request, without, known, s)
	if err != nil {
		return Taught{}, err
	}
	var t Taught
	for _, n := range numbers {
		for _, o := range seen {
			if o.Belief == n.Key {
				t.Lessons = append(t.Lessons, Lesson{n, n.Here(o), o.Excluded})
			}
		}
	}
	if m.Request.GoodSheets == nil {
		return t, nil
	}
	b := studio.Brief{PaperID: m.PaperID, GoodSheets: *m.Request.GoodSheets, Sheet: m.Request.Sheet}
	if m.Request.ConfidencePct != nil {
		b.ConfidencePct = *m.Request.ConfidencePct
	}
	t.Good = b.GoodSheets
	req, now, err := p.studio.PlanBrief(ctx, b)
	if err != nil {
		t.Cannot = "The same brief cannot be planned now: " + err.Error()
		return t, nil
	}
	was, err := plan.Make(req, without)
	if err == nil {
		t.Next = part.Changes(was, now, s)
	}
	t.Same = len(t.Next) == 0
	return t, nil
}
