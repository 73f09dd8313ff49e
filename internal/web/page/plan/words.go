package plan

import (
	"fmt"

	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// wish says the brief in short pieces.
func wish(s part.Speech, b studio.Brief, paper studio.Paper) []string {
	edge := "deckle edges"
	if b.Sheet.Edges == "trimmed" {
		edge = "trimmed"
	}
	list := []string{
		s.SizeLine(b.Sheet.LongMM, b.Sheet.ShortMM), edge,
		s.One(paper.Design.GrammageConditioned, "g/m²"), part.WriteFurnish(paper.Design.Furnish),
	}
	if b.WantedBy != "" {
		list = append(list, "wanted by "+part.Day(b.WantedBy))
	}
	return list
}

// promise says what the plan promises, in the words of the brief.
func promise(b studio.Brief, p plan.Plan) string {
	pct := b.ConfidencePct
	if f, ok := p.Figures["promise_pct"]; ok {
		pct = f.Value
	}
	return fmt.Sprintf("%s you get %d good sheets of this size and weight", part.Upper(part.Chance(pct)), b.GoodSheets)
}

// newStep says a step: what it takes of hands and of waiting, and what to mind.
func newStep(n int, s plan.Step, say part.Speech) Step {
	step := Step{Number: n, Name: s.Name, Note: measure.Retell(part.Upper(s.Note), say.System), Time: part.Minutes(s.HandsOn.Value) + " by hand"}
	switch {
	case s.WaitLeast > 0 && s.WaitMost > s.WaitLeast:
		step.Wait = "then wait " + part.Hours(s.WaitLeast) + " to " + part.Hours(s.WaitMost)
	case s.WaitLeast > 0:
		step.Wait = "then wait " + part.Hours(s.WaitLeast)
	}
	if s.KeepByH > 0 {
		step.KeepBy = "go on within " + part.Hours(s.KeepByH)
	}
	for _, c := range s.Cautions {
		step.Cautions = append(step.Cautions, part.Caution{Text: measure.Retell(c, say.System)})
	}
	return step
}

// rests lists what the plan rests on.
func rests(s part.Speech, list []plan.Prior) part.Table {
	t := part.Table{Caption: "What this plan rests on", Columns: []part.Column{{Label: "What"}, {Label: "Nine times in ten", Number: true}, {Label: "From"}}}
	for _, p := range list {
		var from string
		switch {
		case p.State == "measured" || p.Seen > 0:
			from = fmt.Sprintf("you measured ×%d", p.Seen)
		case p.State == "fixed":
			from = "fixed by you"
		default:
			from = part.RestsOn(p.Grade)
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(p.Name), s.Span(p.Low, p.High, p.Unit), from}})
	}
	return t
}
