package paper

import (
	"strconv"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// faultsAt says where on the form a fault of the plan or the records belongs.
var faultsAt = map[string]string{
	"paper.furnish": "furnish", "paper.grammage_conditioned_g_m2": "grammage", "paper.tolerance_pct": "tolerance",
	"paper.beating_hours": "beating", "paper.dips": "dips", "paper.additives": "additives", "paper.drying": "drying",
	"paper.forming": "forming", "paper.grams_per_sheet": "pour", "paper.name": "name",
	"design.furnish": "furnish", "design.grammage_conditioned_g_m2": "grammage", "sheet": "size", "sheet.edges": "edges",
}

var (
	formings = []part.Option{
		{Value: "western", Label: "One dip", Note: "western: one pull, couched"},
		{Value: "several dips", Label: "Several dips", Note: "thin layers, one over another"},
		{Value: "poured", Label: "Poured", Note: "a measured amount into the deckle"},
	}
	dryings = []part.Option{
		{Value: "stack", Label: "In a stack", Note: "blotters, boards, moving air"},
		{Value: "exchange", Label: "Changed blotters"},
		{Value: "board", Label: "On a board or glass"},
		{Value: "loft", Label: "Hung"},
		{Value: "free", Label: "Unheld", Note: "it may shrink as it likes"},
	}
	edges = []part.Option{
		{Value: "deckle", Label: "Deckle", Note: "as they leave the mould"},
		{Value: "trimmed", Label: "Trimmed", Note: "cut to size"},
	}
)

// uses on offer; empty is a paper for nothing in particular.
func uses() []part.Option {
	list := []part.Option{{Value: "", Label: "Nothing in particular"}}
	for _, u := range fibre.Uses() {
		list = append(list, part.Option{Value: u, Label: part.Upper(u)})
	}
	return list
}

func fields(s part.Speech) []part.Field {
	return []part.Field{
		{Name: "name", Label: "What is it called?", Kind: part.Text, Required: true},
		{Name: "use", Label: "What is it for?", Kind: part.Select, Options: uses()},
		{Name: "furnish", Label: "Furnish", Hint: "One fibre, or a blend such as: cotton rag 70, abaca 30.", Kind: part.Suggest, Options: part.FibreNames(), Required: true},
		{Name: "grammage", Label: "Grammage, conditioned", Hint: "In the room's air, at 50 % humidity.", Kind: part.Number, Mode: "decimal", Unit: "g/m²", Required: true},
		{Name: "size", Label: "Usual size, finished", Hint: "By name, or two sides.", Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames(), Required: true},
		{Name: "edges", Label: "Edges", Kind: part.Choices, Options: edges},
		{Name: "beating", Label: "Beating", Hint: "Empty: what the handbook has for this fibre and use.", Kind: part.Number, Mode: "decimal", Unit: "h"},
		{Name: "drying", Label: "Drying", Kind: part.Choices, Options: dryings},
		{Name: "surface", Label: "Surface size", Hint: "Such as gelatin. Empty: waterleaf.", Kind: part.Text},
	}
}

func more(s part.Speech) []part.Field {
	return []part.Field{
		{Name: "forming", Label: "Forming", Kind: part.Choices, Options: formings},
		{Name: "dips", Label: "Dips", Hint: "Where the sheet is made in several.", Kind: part.Number, Mode: "numeric"},
		{Name: "pour", Label: "A sheet takes", Hint: "Poured or dipped: its weight, where you know it.", Kind: part.Number, Bare: s.Bare(measure.OfMass)},
		{Name: "tolerance", Label: "Weight may be off by", Hint: "Of the grammage, either way. Empty: 8 %.", Kind: part.Number, Mode: "decimal", Unit: "%"},
		{Name: "additives", Label: "Added to the stock", Hint: "In per cent on bone-dry fibre, such as: calcium carbonate 5, sizing 1.", Kind: part.Text},
		{Name: "finish", Label: "Finish", Hint: "Wove or laid, chain lines, smooth or rough, rattle, tooth.", Kind: part.Text},
		{Name: "note", Label: "Notes", Kind: part.Long},
	}
}

// set sets the form with what was typed.
func set(base page.Base, f *page.Form, old studio.Paper) FormData {
	d := FormData{Base: base, ID: old.ID, Name: old.Name, Action: "/papers", System: string(base.Speech.System), Kept: f.Values.Has("system")}
	f.At = faultsAt
	if old.ID != "" {
		d.Action = "/papers/" + old.ID
		f.Fill("revision", strconv.Itoa(old.Revision))
		d.Revision = f.Get("revision")
	}
	for _, fd := range fields(base.Speech) {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	for _, fd := range more(base.Speech) {
		fd = f.Field(fd)
		d.MoreOpen = d.MoreOpen || fd.Error != ""
		d.More = append(d.More, fd)
	}
	if old.ID != "" {
		d.Fields = append(d.Fields, f.Field(part.Field{Name: "change", Label: "What is changed, and why?", Hint: "For whoever makes it in two years.", Kind: part.Text}))
	}
	d.Wrong = f.Wrong()
	return d
}
