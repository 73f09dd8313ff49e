package making

import (
	"context"
	"slices"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Taught is what a making taught, and what that changes in the next one.
type Taught struct {
	Lessons []Lesson    // of the sheet and what is lost
	Times   *part.Table // by hand, by step; nil where none was written down
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
func (p *Page) taught(ctx context.Context, s part.Speech, m studio.Making, st studio.State) (Taught, error) {
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
	slices.SortStableFunc(numbers, part.ByRank)
	var t Taught
	var times []part.Row
	for _, n := range numbers {
		for _, o := range seen {
			switch {
			case o.Belief != n.Key:
			case n.Step != "":
				times = append(times, timed(m, st, n, o))
			default:
				t.Lessons = append(t.Lessons, Lesson{n, n.Here(o), o.Excluded})
			}
		}
	}
	if len(times) > 0 {
		t.Times = &part.Table{Caption: "Time by hand, for as many sheets as these", Rows: times, Columns: []part.Column{
			{Label: "Step"}, {Label: "This making", Number: true}, {Label: "Reckoned before", Number: true}, {Label: "Now", Number: true}}}
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

// timed is the line of one step's time by hand. What was written down over
// what it came to as a ratio is the usual time for as many sheets.
func timed(m studio.Making, st studio.State, n part.Reckoned, o belief.Observation) part.Row {
	name, usual := part.Upper(n.Step), 0.0
	for _, step := range m.Plan.Steps {
		if step.Key == n.Step {
			name = step.Name
			if took, ok := st.Minutes[n.Step]; ok && step.UsualMin > 0 && o.Value > 0 {
				usual = took / o.Value
			}
		}
	}
	was, now, saw := n.Times(usual, o.Value)
	row := part.Row{Cells: []string{name, saw, was, now}}
	switch {
	case o.Excluded != "":
		row.Note = "Left out: " + o.Excluded + "."
	case n.Fixed:
		row.Note = "You fixed it, so it stays."
	}
	return row
}
