package design

import (
	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/web/part"
)

// What a finger moves over: the least, the most and the step. A number that is
// typed may lie outside.
const (
	slideShare    = "0 100 1"    // % of the furnish
	slideDose     = "0 30 0.5"   // % on fibre, or mL/L of vat
	slideGrammage = "10 400 5"   // g/m²
	slideHours    = "0 8 0.25"   // h
	slideBath     = "0.5 10 0.5" // %
	slideGood     = "5 200 5"    // sheets
)

const (
	fewRows  = 2  // rows that stand open at the least
	mostRows = 12 // rows that are read
)


var (
	dryings = []part.Option{
		{Value: "stack", Label: "In a stack"}, {Value: "exchange", Label: "Changed blotters"}, {Value: "board", Label: "On a board or glass"},
		{Value: "loft", Label: "Hung"}, {Value: "free", Label: "Unheld"},
	}
	edges = []part.Option{{Value: "deckle", Label: "Deckle"}, {Value: "trimmed", Label: "Trimmed"}}
)

func uses() []part.Option {
	list := []part.Option{{Value: "", Label: "Nothing in particular"}}
	for _, u := range fibre.Uses() {
		list = append(list, part.Option{Value: u, Label: part.Upper(u)})
	}
	return list
}

// asked are the questions besides what goes into the stock.
func asked(s part.Speech, sh plan.Sheet) []Question {
	box := ""
	if sh.Shape != "" && sh.Shape != sheet.Rectangle {
		box = part.Upper(sh.Shape) + ": the box around it."
	}
	number := func(name, label, hint, unit, slide string) Question {
		return Question{part.Field{Name: name, Label: label, Hint: hint, Kind: part.Number, Mode: "decimal", Unit: unit}, slide}
	}
	plainly := func(f part.Field) Question { return Question{Field: f} }
	return []Question{
		number("grammage", "Grammage, conditioned", "", "g/m²", slideGrammage),
		number("beating", "Beating", "Empty: what the handbook has.", "h", slideHours),
		plainly(part.Field{Name: "drying", Label: "Drying", Kind: part.Select, Options: dryings}),
		plainly(part.Field{Name: "size", Label: "Usual size, finished", Hint: box, Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames()}),
		plainly(part.Field{Name: "edges", Label: "Edges", Kind: part.Select, Options: edges}),
		plainly(part.Field{Name: "surface", Label: "Surface size", Hint: "Such as gelatin. Empty: waterleaf.", Kind: part.Suggest, Options: surfaces()}),
		number("bath", "Its bath", "Empty: what the handbook has.", "%", slideBath),
		plainly(part.Field{Name: "use", Label: "What is it for?", Kind: part.Select, Options: uses()}),
		number("good", "Good sheets of a making", "Hours and cost are for so many.", "", slideGood),
	}
}

func surfaces() []part.Option {
	var list []part.Option
	for _, s := range sizing.Surfaces() {
		list = append(list, part.Option{Value: s.Name})
	}
	return list
}

func addable() []part.Option {
	var list []part.Option
	for _, a := range furnish.Additives() {
		list = append(list, part.Option{Value: a.Name})
	}
	return list
}

// faultsAt says where on the form a fault belongs; rows are added as they are
// read.
func faultsAt() map[string]string {
	return map[string]string{
		"paper.furnish": "fibre-1", "paper.additives": "additive-1", "paper.grammage_conditioned_g_m2": "grammage", "paper.beating_hours": "beating",
		"paper.surface_bath_pct": "bath", "paper.surface_size": "surface", "paper.surface_way": "surface", "paper.drying": "drying", "paper.use": "use", "sheet": "size", "sheet.edges": "edges",
		"good_sheets": "good", "studio.vat_l": "size", "studio.vat_least_l": "size", "studio.stock_g_l": "grammage", "design.furnish": "fibre-1", "design.grammage_conditioned_g_m2": "grammage", "change": "change", "name": "name",
	}
}
