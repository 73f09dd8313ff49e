package page

import (
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/web/part"
)

// What a design has to choose from. The first of each is meant where nothing is
// said.
var (
	Formings = []part.Option{
		{Value: "western", Label: "One dip", Note: "western: one pull, couched"},
		{Value: "several dips", Label: "Several dips", Note: "thin layers, one over another"},
		{Value: "poured", Label: "Poured", Note: "a measured amount into the deckle"},
	}
	Dryings = []part.Option{
		{Value: "stack", Label: "In a stack", Note: "blotters, boards, moving air"},
		{Value: "exchange", Label: "Changed blotters"},
		{Value: "board", Label: "On a board or glass"},
		{Value: "loft", Label: "Hung"},
		{Value: "free", Label: "Unheld", Note: "it may shrink as it likes"},
	}
	Edges = []part.Option{
		{Value: "deckle", Label: "Deckle", Note: "as they leave the mould"},
		{Value: trimmed, Label: "Trimmed", Note: "cut to size"},
	}
)

const trimmed = "trimmed"

// Shapes a sheet can have.
func Shapes() []part.Option {
	notes := map[string]string{sheet.Odd: "as its deckle is cut"}
	var list []part.Option
	for _, s := range sheet.Shapes() {
		list = append(list, part.Option{Value: s, Label: part.Upper(s), Note: notes[s]})
	}
	return list
}

// Uses on offer; the first is a paper for nothing in particular.
func Uses() []part.Option {
	list := []part.Option{{Value: "", Label: "Nothing in particular"}}
	for _, u := range fibre.Uses() {
		list = append(list, option(u))
	}
	return list
}

// Surfaces are the surface sizes on offer, by name; others may be typed.
func Surfaces() []part.Option {
	var list []part.Option
	for _, s := range sizing.Surfaces() {
		list = append(list, part.Option{Value: s.Name, Label: strings.Join(s.Aliases, ", ")})
	}
	return list
}

// Ways the bath comes on to the sheet.
func Ways() []part.Option {
	list := []part.Option{{Value: "", Label: "Not said: dipped"}}
	for _, w := range sizing.Ways() {
		list = append(list, option(string(w)))
	}
	return list
}

func option(value string) part.Option { return part.Option{Value: value, Label: part.Upper(value)} }

// chosen is the option that a design has; one that is not on offer speaks for
// itself.
func chosen(options []part.Option, value string) part.Option {
	if value == "" {
		return options[0]
	}
	for _, o := range options {
		if o.Value == value {
			return o
		}
	}
	return option(value)
}
