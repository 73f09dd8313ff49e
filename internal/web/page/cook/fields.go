package cook

import (
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// The two ways of asking, and how dry what is called dry is.
const (
	wayHave = "have"
	wayWant = "want"
)

// leftRoom is how much water fibre dried in a room holds, % (source: memory).
const leftRoom = "10"

func leftField(label string) part.Field {
	return part.Field{Name: "left", Label: label, Kind: part.Number, Mode: "decimal", Unit: "%", Small: true, Hint: "Dried in the room about 10, ironed 3, bone-dry from the oven 0."}
}

// raws are the plants and rags that a cook opens, own ones first.
func raws(shelf fibre.Shelf) []part.Option {
	var list []part.Option
	for _, f := range shelf.All() {
		if f.Cook != nil {
			list = append(list, part.Option{Value: f.Name, Label: f.Kind})
		}
	}
	return append(list, part.Option{Value: cooking.AnyPlant, Label: "none of these"})
}

// plantFields ask what is in hand, or what is wanted.
func (q *asked) plantFields(f *page.Form) []part.Field {
	s := q.speech
	list := []part.Field{
		{Name: "way", Label: "Which way round?", Kind: part.Choices, Options: []part.Option{
			{Value: wayHave, Label: "I have it", Note: "what will it make?"}, {Value: wayWant, Label: "I want sheets", Note: "how much must I cut?"}}},
		{Name: "fibre", Label: "Plant or rag", Kind: part.Suggest, Required: true, Options: raws(q.shelf), Hint: "Identify it for certain, and ask who owns it."},
	}
	if len(q.lots) > 0 {
		options := []part.Option{{Value: "", Label: "not on the shelf"}}
		for _, l := range q.lots {
			options = append(options, part.Option{Value: l.ID, Label: l.Name})
		}
		list = append(list, part.Field{Name: "lot", Label: "Out of which lot", Kind: part.Select, Options: options})
	}
	list = append(list,
		part.Field{Name: "stage", Label: "How it lies there", Kind: part.Choices, Options: []part.Option{
			{Value: string(cookery.Fresh), Label: "Fresh", Note: "as cut"}, {Value: string(cookery.Dry), Label: "Dry plant", Note: "not cleaned yet"},
			{Value: string(cookery.ForPot), Label: "Dry, for the pot", Note: "stripped, sorted"}}},
		part.Field{Name: "amount", Label: "How much of it", Kind: part.Number, Mode: "text", Unit: s.Bare(measure.OfMass), Bare: s.Bare(measure.OfMass), Small: true, Hint: "As the scale says: 450 g, 1 lb."},
		leftField("Water in what is called dry"),
		part.Field{Name: "sheets", Label: "Good sheets", Kind: part.Number, Mode: "numeric", Unit: "sheets", Small: true},
		part.Field{Name: "size", Label: "Sheet", Kind: part.Suggest, Options: s.SizeNames(), Hint: "To reckon sheets with."},
		part.Field{Name: "grammage", Label: "Weight of the paper", Kind: part.Number, Mode: "text", Unit: "g/m²", Small: true},
		part.Field{Name: "share", Label: "Of it this fibre", Kind: part.Number, Mode: "decimal", Unit: "%", Small: true, Hint: "100: nothing else goes in."})
	return complete(f, list)
}

// testFields are the quick test of moisture.
func (q *asked) testFields(f *page.Form) []part.Field {
	mass := q.speech.Bare(measure.OfMass)
	return complete(f, []part.Field{
		{Name: "handful", Label: "A handful weighed", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true, Hint: "100 g is handy."},
		{Name: "dried", Label: "The same, dried", Kind: part.Number, Mode: "text", Unit: mass, Bare: mass, Small: true},
	})
}

// potFields ask for the alkali and its dose.
func (q *asked) potFields(f *page.Form) []part.Field {
	var alkalis []part.Option
	for _, a := range cooking.Alkalis() {
		alkalis = append(alkalis, part.Option{Value: a.Name, Label: part.Upper(a.Name)})
	}
	return complete(f, []part.Field{
		{Name: "alkali", Label: "Alkali", Kind: part.Select, Options: alkalis, Hint: "Read the label: some boxes of washing soda hold soda ash, some crystals."},
		{Name: "charge", Label: "Of it, on dry fibre", Kind: part.Number, Mode: "text", Unit: "%", Small: true, Hint: "Or 90 g, or 1.5 US tbsp. Empty: what the handbook begins with."},
	})
}

// moreFields ask what has a usual answer.
func (q *asked) moreFields(f *page.Form) []part.Field {
	s := q.speech
	volume, warm := s.Bare(measure.OfVolume), s.Bare(measure.OfTemperature)
	pots := []part.Option{{Value: "", Label: "not said"}}
	for _, m := range cooking.PotMaterials() {
		pots = append(pots, part.Option{Value: m, Label: m})
	}
	return complete(f, []part.Field{
		{Name: "liquor", Label: "Liquor to a kilogram", Kind: part.Number, Mode: "decimal", Unit: "L", Small: true, Hint: "Usually 15.6; 7 oz to a pound is 16."},
		{Name: "pot", Label: "Pot", Kind: part.Select, Options: pots},
		{Name: "pot-holds", Label: "It holds", Kind: part.Number, Mode: "text", Unit: volume, Bare: volume, Small: true},
		{Name: "simmer", Label: "Simmer at", Kind: part.Number, Mode: "text", Unit: warm, Bare: warm, Small: true, Hint: "Empty: at the boil."},
		{Name: "altitude", Label: "Height above the sea", Kind: part.Number, Mode: "text", Unit: s.Bare(measure.OfAltitude), Bare: s.Bare(measure.OfAltitude), Small: true},
		{Name: "lime", Label: "Slaked lime beside soda ash", Kind: part.Number, Mode: "decimal", Unit: "%", Small: true, Hint: "On dry fibre. The two make lye."},
		{Name: "strength", Label: "Strength of wood-ash lye", Kind: part.Number, Mode: "decimal", Unit: "g/L", Small: true, Hint: "Measured, as potassium carbonate."},
		{Name: "water", Label: "Water that lye goes into", Kind: part.Number, Mode: "text", Unit: warm, Bare: warm, Small: true, Hint: "How warm it is, of lye or lime."},
		{Name: "dissolve", Label: "Lye is dissolved first in", Kind: part.Number, Mode: "text", Unit: volume, Bare: volume, Small: true, Hint: "Empty: in the whole cool pot, as it should be."},
	})
}

// plantedFields ask where the plant came from; all of it may stay empty.
func plantedFields(f *page.Form) []part.Field {
	return complete(f, []part.Field{
		{Name: "botanical", Label: "Botanical name", Kind: part.Text}, {Name: "part", Label: "Part", Kind: part.Text, Hint: "Leaf, bast, stem."},
		{Name: "season", Label: "Cut when", Kind: part.Text}, {Name: "place", Label: "Where", Kind: part.Text},
		{Name: "permission", Label: "Whose it is, who said yes", Kind: part.Text}, {Name: "retting", Label: "Retted, dried how", Kind: part.Text},
	})
}

func complete(f *page.Form, list []part.Field) []part.Field {
	for i := range list {
		list[i] = f.Field(list[i])
	}
	return list
}

// rawLots are the lots on the shelf that a cook opens.
func rawLots(shelf fibre.Shelf, lots []studio.Lot) []studio.Lot {
	var out []studio.Lot
	for _, l := range lots {
		if f, ok := shelf.Get(l.What); ok && f.Cook != nil && l.Form == studio.AsBought && !l.Cooked && l.AmountG > 0 {
			out = append(out, l)
		}
	}
	return out
}
