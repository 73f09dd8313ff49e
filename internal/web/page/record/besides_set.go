package record

import (
	"strings"

	"vatside/internal/measure"
)

// Besides is one thing that may be measured, with its blanks.
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
		for i := 1; i <= max(1, len(l.besidesOf(k.kind))); i++ {
			row := Besides{Legend: k.legend, Note: k.note}
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
				d.MoreOpen = d.MoreOpen || c.Error != "" || c.Value != "" && b.usual == ""
				row.Cells = append(row.Cells, c)
			}
			d.Besides = append(d.Besides, row)
		}
	}
}
