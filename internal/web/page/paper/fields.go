package paper

import (
	"context"
	"strconv"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Fibres are the studio's own, which its profile keeps.
type Fibres interface {
	Profile(ctx context.Context) (studio.Profile, error)
}

func fields(s part.Speech, shelf fibre.Shelf) []part.Field {
	return []part.Field{
		{Name: "name", Label: "What is it called?", Kind: part.Text, Required: true},
		{Name: "use", Label: "What is it for?", Kind: part.Select, Options: page.Uses()},
		{Name: "furnish", Label: "Furnish", Hint: "One fibre, or a blend such as: cotton rag 70, abaca 30. Beaten by itself: abaca 30 beaten 6 h. Raw fibre that comes cooked: kozo 20 cooked.", Kind: part.Suggest, Options: part.FibreNames(shelf), Required: true},
		{Name: "grammage", Label: "Grammage, conditioned", Hint: "In the room's air, at 50 % humidity.", Kind: part.Number, Mode: "decimal", Unit: "g/m²", Required: true},
		{Name: "size", Label: "Usual size, finished", Hint: "By name, or two sides; of another shape than the rectangle, of the box around it.", Kind: part.Suggest, Bare: s.Bare(measure.OfLength), Options: s.SizeNames(), Required: true},
		{Name: "edges", Label: "Edges", Kind: part.Choices, Options: page.Edges},
		{Name: "beating", Label: "Beating", Hint: "Empty: what the handbook has for this fibre and use.", Kind: part.Number, Mode: "decimal", Unit: "h"},
		{Name: "drying", Label: "Drying", Kind: part.Choices, Options: page.Dryings},
		{Name: "surface", Label: "Surface size", Hint: "Such as gelatin. Empty: waterleaf.", Kind: part.Suggest, Options: page.Surfaces()},
		{Name: "bath", Label: "Strength of its bath", Hint: "Size in the bath, by mass. Empty: what is usual.", Kind: part.Number, Mode: "decimal", Unit: "%", Small: true},
		{Name: "way", Label: "How it comes on", Kind: part.Select, Options: page.Ways(), Small: true},
	}
}

func more(s part.Speech) []part.Field {
	return []part.Field{
		{Name: "forming", Label: "Forming", Kind: part.Choices, Options: page.Formings},
		{Name: "shape", Label: "Shape of the sheet", Kind: part.Choices, Options: page.Shapes()},
		{Name: "fills", Label: "An odd shape fills", Hint: "Of the box around it.", Kind: part.Number, Mode: "decimal", Unit: "%"},
		{Name: "dips", Label: "Dips", Hint: "Where the sheet is made in several.", Kind: part.Number, Mode: "numeric"},
		{Name: "pour", Label: "A sheet takes", Hint: "Poured or dipped: its weight, where you know it.", Kind: part.Number, Bare: s.Bare(measure.OfMass)},
		{Name: "tolerance", Label: "Weight may be off by", Hint: "Of the grammage, either way. Empty: 8 %.", Kind: part.Number, Mode: "decimal", Unit: "%"},
		{Name: "within", Label: "Sheets that must be within it", Hint: "Empty: 90 %.", Kind: part.Number, Mode: "decimal", Unit: "%"},
		{Name: "trim", Label: "Cut off each edge", Hint: "Where the edges are trimmed.", Kind: part.Number, Bare: s.Bare(measure.OfLength)},
		{Name: "play", Label: "A side may be off by", Hint: "Where the edges are the deckle's.", Kind: part.Number, Bare: s.Bare(measure.OfLength)},
		{Name: "additives", Label: "Added to the stock", Hint: page.AdditivesHint, Kind: part.Text},
		{Name: "finish", Label: "Finish", Hint: "Wove or laid, chain lines, smooth or rough, rattle, tooth.", Kind: part.Text},
		{Name: "note", Label: "Notes", Kind: part.Long},
	}
}

// set sets the form with what was typed.
func set(base page.Base, f *page.Form, shelf fibre.Shelf, old studio.Paper) FormData {
	d := FormData{Base: base, ID: old.ID, Name: old.Name, Action: "/papers", System: string(base.Speech.System), Kept: f.Values.Has("system")}
	f.At = page.DesignFaults()
	if old.ID != "" {
		d.Action = "/papers/" + old.ID
		f.Fill("revision", strconv.Itoa(old.Revision))
		d.Revision = f.Get("revision")
	}
	for _, fd := range fields(base.Speech, shelf) {
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
