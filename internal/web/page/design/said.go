package design

import (
	"strconv"
	"strings"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// said is one part of a design.
type said struct{ name, value string }

// all says a design in short lines, the same for every paper.
func all(s part.Speech, p studio.Paper) []said {
	d := p.Design
	maybe := func(v *float64, unit, none string) string {
		if v == nil {
			return none
		}
		return s.One(*v, unit)
	}
	var added []string
	for _, a := range d.Additives {
		dose := s.One(a.DosePct, "%")
		if a.DoseMLL > 0 {
			dose = part.Written(a.DoseMLL) + " mL/L"
		}
		added = append(added, a.Kind+" "+dose)
	}
	forming := or(d.Forming, "western")
	if d.Dips != nil {
		forming += ", " + strconv.Itoa(*d.Dips)
	}
	return []said{
		{"For", or(part.Upper(d.Use), "nothing in particular")},
		{"Furnish", part.WriteFurnish(d.Furnish)},
		{"Grammage", s.One(d.GrammageConditioned, "g/m²")},
		{"Weight may be off by", maybe(d.TolerancePct, "%", "as usual")},
		{"Usual size", s.SizeLine(p.Sheet.LongMM, p.Sheet.ShortMM)},
		{"Edges", or(p.Sheet.Edges, "deckle")},
		{"Forming", forming},
		{"Beating", maybe(d.BeatingHours, "h", "as the handbook has it")},
		{"Added to the stock", or(strings.Join(added, ", "), "nothing")},
		{"Drying", or(d.Drying, "stack")},
		{"Surface size", or(d.SurfaceSize, "waterleaf")},
		{"Its bath", maybe(d.SurfaceBathPct, "%", "–")},
		{"Finish", or(d.Finish, "–")},
	}
}

// differing sets two designs side by side where they are not alike.
func differing(s part.Speech, one, other studio.Paper, heads [2]string) part.Table {
	t := part.Table{Caption: "Where the designs differ", Columns: []part.Column{{Label: "What"}, {Label: heads[0]}, {Label: heads[1]}}}
	b := all(s, other)
	for i, a := range all(s, one) {
		if a.value != b[i].value {
			t.Rows = append(t.Rows, part.Row{Cells: []string{a.name, a.value, b[i].value}})
		}
	}
	return t
}
