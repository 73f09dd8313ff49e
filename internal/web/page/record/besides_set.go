package record

import (
	"strings"

	"vatside/internal/measure"
)

// Group is what may be done and measured at one part of the work.
type Group struct {
	When string
	Open bool
	Rows []Besides
}

// Besides is one thing that may be done or measured, with its blanks.
type Besides struct {
	Legend, Note string
	Cells        []Cell
	Wide         bool
}

// besides sets the blanks of what may be measured besides, and what came out of
// which lot.
func (s setter) besides(l layout) {
	d := s.d
	for _, lot := range l.lots {
		d.Lots = append(d.Lots, s.cell("lot-"+lot.ID, "Out of "+lot.Name, measure.OfMass, ""))
		d.LotsOpen = d.LotsOpen || d.Lots[len(d.Lots)-1].Value != ""
	}
	for _, k := range besides {
		if n := len(d.Besides); n == 0 || d.Besides[n-1].When != k.when {
			d.Besides = append(d.Besides, Group{When: k.when})
		}
		g := &d.Besides[len(d.Besides)-1]
		for i := 1; i <= l.besidesRows(k.kind); i++ {
			row := Besides{Legend: k.legend, Note: measure.Retell(k.note, d.Speech.System)}
			for _, b := range k.blanks {
				c := s.cell(name(k.name, i, b.key), k.legend+": "+strings.ToLower(b.label), b.kind, "")
				c.Label = b.label
				if b.unit != "" {
					c.Unit = b.unit
				}
				if b.text || b.list {
					c.Mode = "text"
					row.Wide = true
				}
				g.Open = g.Open || c.Error != "" || c.Value != "" && b.usual == ""
				row.Cells = append(row.Cells, c)
			}
			g.Rows = append(g.Rows, row)
		}
	}
}
