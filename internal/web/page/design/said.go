package design

import (
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// differing sets two designs side by side where they are not alike.
func differing(s part.Speech, one, other studio.Paper, heads [2]string) part.Table {
	t := part.Table{Caption: "Where the designs differ", Columns: []part.Column{{Label: "What"}, {Label: heads[0]}, {Label: heads[1]}}}
	b := page.SaidDesign(s, other.Design, other.Sheet)
	for i, a := range page.SaidDesign(s, one.Design, one.Sheet) {
		if a.Value != b[i].Value {
			t.Rows = append(t.Rows, part.Row{Cells: []string{a.Name, part.Upper(a.Value), part.Upper(b[i].Value)}})
		}
	}
	return t
}
