package plan

import (
	"fmt"

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
