package page

import (
	"cmp"
	"strconv"
	"strings"

	"vatside/internal/plan"
	"vatside/internal/web/part"
)

// Said is one part of a design in words.
type Said struct {
	Name, Value string
	Usual       bool // as it is where nothing is said, and worth no line of its own
}

// SaidDesign says a design in short lines, the same ones for every paper.
func SaidDesign(s part.Speech, d plan.Paper, sh plan.Sheet) []Said {
	grammage := s.One(d.GrammageConditioned, "g/m²")
	if d.TolerancePct != nil {
		grammage += " ± " + s.One(*d.TolerancePct, "%")
	}
	if d.ShareWithinPct != nil {
		grammage += ", " + s.One(*d.ShareWithinPct, "%") + " of the sheets within it"
	}
	shape := chosen(Shapes(), sh.Shape)
	forming := chosen(Formings, d.Forming)
	return []Said{
		{"For", chosen(Uses(), d.Use).Label, d.Use == ""},
		{"Furnish", part.WriteFurnish(d.Furnish), false},
		{"Grammage, conditioned", grammage, false},
		{"Usual size", s.SizeLine(sh.LongMM, sh.ShortMM) + ", " + strings.ToLower(chosen(Edges, sh.Edges).Label) + " edges" + edge(s, sh), false},
		{"Shape", shape.Label + besides(sh.FillsPct, func(v float64) string { return s.One(v, "%") + " of its box" }), shape == Shapes()[0] && sh.FillsPct == nil},
		{"Beating", said(s, d.BeatingHours, "h", "as the handbook has it"), false},
		{"Drying", chosen(Dryings, d.Drying).Label, false},
		{"Size", part.Upper(cmp.Or(d.SurfaceSize, "waterleaf")) + bath(s, d), false},
		{"Forming", forming.Label + besides(d.Dips, strconv.Itoa), forming == Formings[0] && d.Dips == nil},
		{"A sheet takes", said(s, d.PourG, "g", "as its weight says"), d.PourG == nil},
		{"Added to the stock", cmp.Or(WriteAdditives(d.Additives), "nothing"), len(d.Additives) == 0},
		{"Finish", cmp.Or(d.Finish, "not said"), d.Finish == ""},
	}
}

func said(s part.Speech, v *float64, unit, none string) string {
	if v == nil {
		return none
	}
	return s.One(*v, unit)
}

// besides says after a comma what is known more closely.
func besides[T any](v *T, say func(T) string) string {
	if v == nil {
		return ""
	}
	return ", " + say(*v)
}

func bath(s part.Speech, d plan.Paper) string {
	text := besides(d.SurfaceBathPct, func(v float64) string { return "a bath of " + s.One(v, "%") })
	if d.SurfaceWay != "" {
		text += ", " + d.SurfaceWay
	}
	return text
}

// edge says how much is cut off an edge, and how far a deckle one may fall.
func edge(s part.Speech, sh plan.Sheet) string {
	return besides(sh.TrimMM, func(v float64) string { return s.One(v, "mm") + " cut off each" }) +
		besides(sh.ToleranceMM, func(v float64) string { return "± " + s.One(v, "mm") })
}
