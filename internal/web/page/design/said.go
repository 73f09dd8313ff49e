package design

import (
	"cmp"
	"strconv"
	"strings"

	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// said is one part of a design.
type said struct{ name, value string }

// all says a design in short lines, the same for every paper.
func all(s part.Speech, p studio.Paper) []said {
	d, sh := p.Design, p.Sheet
	maybe := func(v *float64, unit, none string) string {
		if v == nil {
			return none
		}
		return s.One(*v, unit)
	}
	var added []string
	for _, a := range d.Additives {
		text := a.Kind + " " + dosed(a)
		if a.StrengthPct != nil {
			text += " (holds " + s.One(*a.StrengthPct, "%") + ")"
		}
		added = append(added, text)
	}
	forming := cmp.Or(d.Forming, "western")
	if d.Dips != nil {
		forming += ", " + strconv.Itoa(*d.Dips)
	}
	shape := cmp.Or(sh.Shape, sheet.Rectangle)
	if sh.FillsPct != nil {
		shape += ", " + s.One(*sh.FillsPct, "%") + " of its box"
	}
	return []said{
		{"For", cmp.Or(d.Use, "nothing in particular")},
		{"Furnish", part.WriteFurnish(d.Furnish)},
		{"Grammage", s.One(d.GrammageConditioned, "g/m²")},
		{"Weight may be off by", maybe(d.TolerancePct, "%", "as usual")},
		{"Sheets within it", maybe(d.ShareWithinPct, "%", "as usual")},
		{"Usual size", s.SizeLine(sh.LongMM, sh.ShortMM)},
		{"Shape", shape},
		{"Edges", cmp.Or(sh.Edges, "deckle")},
		{"Cut off each edge", maybe(sh.TrimMM, "mm", "as usual")},
		{"A side may be off by", maybe(sh.ToleranceMM, "mm", "as usual")},
		{"Forming", forming},
		{"A sheet takes", maybe(d.PourG, "g", "as its weight says")},
		{"Beating", maybe(d.BeatingHours, "h", "as the handbook has it")},
		{"Added to the stock", cmp.Or(strings.Join(added, ", "), "nothing")},
		{"Drying", label(dryings, cmp.Or(d.Drying, "stack"))},
		{"Surface size", cmp.Or(d.SurfaceSize, "waterleaf")},
		{"Its bath", maybe(d.SurfaceBathPct, "%", "as the handbook has it")},
		{"How it comes on", cmp.Or(d.SurfaceWay, "as usual")},
		{"Finish", cmp.Or(d.Finish, "not said")},
	}
}

func label(options []part.Option, value string) string {
	for _, o := range options {
		if o.Value == value {
			return o.Label
		}
	}
	return value
}

// differing sets two designs side by side where they are not alike.
func differing(s part.Speech, one, other studio.Paper, heads [2]string) part.Table {
	t := part.Table{Caption: "Where the designs differ", Columns: []part.Column{{Label: "What"}, {Label: heads[0]}, {Label: heads[1]}}}
	b := all(s, other)
	for i, a := range all(s, one) {
		if a.value != b[i].value {
			t.Rows = append(t.Rows, part.Row{Cells: []string{a.name, part.Upper(a.value), part.Upper(b[i].value)}})
		}
	}
	return t
}
