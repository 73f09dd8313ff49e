package store

import (
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostSheets bounds a count of finished sheets; ours: a year of ten makings a
// week.
const mostSheets = 100000

// acts are what can have happened to a lot: other things to what is weighed
// than to what is counted.
func acts(l studio.Lot) []part.Option {
	if l.Finished() {
		return []part.Option{{Value: "gone", Label: "Sold, given or used", Note: "so many of them"}, {Value: "count", Label: "I counted them", Note: "this many lie there"},
			{Value: "received", Label: "Some came back"}, {Value: "thrown", Label: "Thrown away", Note: "so many of them"}}
	}
	return []part.Option{{Value: "received", Label: "More came"}, {Value: "count", Label: "I weighed it", Note: "this much lies there"}, {Value: "thrown", Label: "Thrown away", Note: "so much of it"}}
}

// howMuch asks how much of a lot.
func howMuch(l studio.Lot) part.Field {
	if l.Finished() {
		return part.Field{Name: "amount", Label: "How many", Kind: part.Number, Mode: "numeric", Required: true, Small: true, Unit: "sheets"}
	}
	return amountField()
}

// readSheets reads how many finished sheets, as what they count for.
func readSheets(f *page.Form, l studio.Lot) float64 {
	least := 1
	if f.Get("act") == "count" {
		least = 0
	}
	n, err := part.Count("amount", f.Get("amount"), least, mostSheets, "sheets")
	f.Refuse(err)
	return float64(n) * l.SheetG
}

// finished are the questions about finished sheets: what they are is known by
// their making.
func finished(l studio.Lot, list []part.Field) []part.Field {
	if !l.Finished() {
		return list
	}
	var kept []part.Field
	for _, fd := range list {
		switch fd.Name {
		case "since", "name", "note":
			fd.Hint = ""
			kept = append(kept, fd)
		}
	}
	return kept
}

// sheetsSaid says what finished sheets are.
func sheetsSaid(s part.Speech, l studio.Lot) []string {
	var said []string
	if l.Form == studio.Retree {
		said = append(said, "retree, with small faults")
	}
	if l.GrammageG > 0 {
		said = append(said, s.One(l.GrammageG, "g/m²"))
	}
	return said
}
