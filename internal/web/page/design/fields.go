package design

import (
	"maps"

	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/web/page"
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
		plainly(part.Field{Name: "drying", Label: "Drying", Kind: part.Select, Options: page.Dryings}),
		plainly(part.Field{Name: "size", Label: "Usual size, finished", Hint: box, Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames()}),
		plainly(part.Field{Name: "edges", Label: "Edges", Kind: part.Select, Options: page.Edges}),
		plainly(part.Field{Name: "surface", Label: "Surface size", Hint: "Such as gelatin. Empty: waterleaf.", Kind: part.Suggest, Options: page.Surfaces()}),
		number("bath", "Its bath", "Empty: what the handbook has.", "%", slideBath),
		plainly(part.Field{Name: "use", Label: "What is it for?", Kind: part.Select, Options: page.Uses()}),
		number("good", "Good sheets of a making", "Hours and cost are for so many.", "", slideGood),
	}
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
	at := page.DesignFaults()
	maps.Copy(at, map[string]string{
		"paper.furnish": "fibre-1", "design.furnish": "fibre-1", "paper.additives": "additive-1", "paper.surface_way": "surface",
		"good_sheets": "good", "studio.vat_l": "size", "studio.vat_least_l": "size", "studio.stock_g_l": "grammage",
	})
	return at
}
