package intake

import (
	"slices"

	"vatside/internal/measure"
)

// Kind is what the rows of a sheet are.
type Kind string

// The kinds.
const (
	Makings Kind = "makings"
	Papers  Kind = "papers"
	Lots    Kind = "lots"
	People  Kind = "customers"
	Fibres  Kind = "fibres"
)

// Kinds lists the kinds.
func Kinds() []Kind { return []Kind{Makings, Papers, Lots, People, Fibres} }

// reads is how the cells of a field are read.
type reads int

const (
	asText     reads = iota
	asDate           // a day
	asQuantity       // a number with a unit, of the field's Of
	asSize           // two sides
	asFurnish        // fibres and their shares
	asAmount         // as measure.ReadAmount has it
	asPrice          // money for a mass
)

// Field is one thing a sheet may say of its rows.
type Field struct {
	Key   string
	Label string
	Of    measure.Kind // of a quantity
	Names []string     // headings it stands under, in plain form
	Many  bool         // several columns may say it

	reads reads
}

// Fields that every kind has.
const (
	Remarks = "remarks"  // kept in the remarks, with the heading
	Nothing = "left out" // not taken in
)

var remarks = Field{Key: Remarks, Label: "Remarks", Many: true, Names: []string{"remarks", "remark", "notes", "note", "comments", "comment", "observations", "what happened"}}

// fields are what a sheet of each kind may say.
var fields = map[Kind][]Field{
	Makings: {
		{Key: "date", Label: "Day", reads: asDate, Names: []string{"date", "day", "made", "made on", "date made", "when", "pulled on", "datum", "fecha"}},
		{Key: "number", Label: "Own number", Names: []string{"no", "nr", "number", "batch", "batch no", "batch number", "run", "run no", "id", "making", "making no", "code"}},
		{Key: "paper", Label: "Paper", Names: []string{"paper", "name", "paper name", "design", "sort", "kind", "type", "what", "project"}},
		{Key: "furnish", Label: "Fibres and shares", reads: asFurnish, Names: []string{"furnish", "fibre", "fibres", "fiber", "fibers", "pulp", "blend", "material", "fibre blend", "fiber blend", "recipe"}},
		{Key: "grammage", Label: "Grammage", reads: asQuantity, Of: measure.OfGrammage, Names: []string{"grammage", "gsm", "g m2", "basis weight", "paper weight", "substance", "weight per area"}},
		{Key: "wanted", Label: "Sheets wanted", reads: asQuantity, Of: measure.OfSheets, Names: []string{"wanted", "ordered", "sheets wanted", "sheets ordered", "order", "target sheets"}},
		{Key: "pulled", Label: "Sheets pulled", reads: asQuantity, Of: measure.OfSheets, Names: []string{"pulled", "sheets pulled", "sheets", "formed", "sheets formed", "sheets made", "quantity", "qty", "count", "no of sheets", "number of sheets"}},
		{Key: "kissed", Label: "Of them kissed off", reads: asQuantity, Of: measure.OfSheets, Names: []string{"kissed off", "kissed", "back into the vat", "kiss offs"}},
		{Key: "good", Label: "Good sheets", reads: asQuantity, Of: measure.OfSheets, Names: []string{"good", "good sheets", "kept", "sheets kept", "firsts", "sheets good", "yield"}},
		{Key: "retree", Label: "Retree", reads: asQuantity, Of: measure.OfSheets, Names: []string{"retree", "seconds", "slight fault"}},
		{Key: "broken", Label: "Broken", reads: asQuantity, Of: measure.OfSheets, Names: []string{"broken", "thirds"}},
		{Key: "broke", Label: "Broke", reads: asQuantity, Of: measure.OfSheets, Names: []string{"broke", "rejects", "rejected", "repulped", "lost", "waste"}},
		{Key: "formed", Label: "Formed size", reads: asSize, Of: measure.OfLength, Names: []string{"formed", "formed size", "mould size", "mold size", "mould", "mold", "deckle", "deckle size", "wet size"}},
		{Key: "dry", Label: "Dry size", reads: asSize, Of: measure.OfLength, Names: []string{"dry size", "size", "sheet size", "finished size", "final size", "dimensions", "format"}},
		{Key: "dry long", Label: "Dry size, long side", reads: asQuantity, Of: measure.OfLength, Names: []string{"length", "long", "long side", "dry long", "height", "dry length"}},
		{Key: "dry short", Label: "Dry size, short side", reads: asQuantity, Of: measure.OfLength, Names: []string{"width", "short", "short side", "dry short", "dry width"}},
		{Key: "beating", Label: "Beaten for", reads: asQuantity, Of: measure.OfHours, Names: []string{"beating", "beating hours", "beating time", "beaten", "beat time", "beater time", "hours beaten", "time in beater"}},
		{Key: "drying", Label: "Drying", Names: []string{"drying", "dried", "dried on", "drying method", "how dried", "dryer"}},
		{Key: "fibre weighed", Label: "Fibre weighed out", reads: asQuantity, Of: measure.OfMass, Names: []string{"fibre weighed", "fiber weighed", "fibre weight", "fiber weight", "dry fibre", "dry fiber", "fibre used", "fiber used", "pulp weight", "fibre weighed out"}},
		{Key: "each", Label: "Weight of one dry sheet", reads: asQuantity, Of: measure.OfMass, Names: []string{"sheet weight", "weight", "weight each", "weight per sheet", "dry weight", "one sheet", "average weight", "mean sheet"}},
		{Key: "all", Label: "Weight of all good sheets", reads: asQuantity, Of: measure.OfMass, Names: []string{"total weight", "weight of all", "stack weight", "weight total", "all sheets"}},
		{Key: "humidity", Label: "Humidity of the room", reads: asQuantity, Of: measure.OfPercent, Names: []string{"humidity", "rh", "room humidity", "relative humidity"}},
		{Key: "caliper", Label: "Caliper", reads: asQuantity, Of: measure.OfCaliper, Names: []string{"caliper", "calliper", "thickness", "thick"}},
		{Key: "stock left", Label: "Stock left", reads: asQuantity, Of: measure.OfVolume, Names: []string{"stock left", "pulp left", "left over", "leftover"}},
		{Key: "customer", Label: "Customer", Names: []string{"customer", "client", "for", "for whom", "ordered by", "buyer"}},
		remarks,
	},
	Papers: {
		{Key: "paper", Label: "Paper", Names: []string{"paper", "name", "paper name", "design", "title"}},
		{Key: "furnish", Label: "Fibres and shares", reads: asFurnish, Names: []string{"furnish", "fibre", "fibres", "fiber", "fibers", "pulp", "blend", "material", "recipe"}},
		{Key: "grammage", Label: "Grammage", reads: asQuantity, Of: measure.OfGrammage, Names: []string{"grammage", "gsm", "g m2", "basis weight", "weight", "substance", "grammage conditioned"}},
		{Key: "use", Label: "Use", Names: []string{"use", "used for", "purpose"}},
		{Key: "forming", Label: "Forming", Names: []string{"forming", "formed", "method"}},
		{Key: "beating", Label: "Beaten for", reads: asQuantity, Of: measure.OfHours, Names: []string{"beating", "beating hours", "beating time", "beaten"}},
		{Key: "drying", Label: "Drying", Names: []string{"drying", "dried", "drying method"}},
		{Key: "dry", Label: "Usual size", reads: asSize, Of: measure.OfLength, Names: []string{"size", "usual size", "sheet size", "dry size", "format", "dimensions"}},
		{Key: "dry long", Label: "Usual size, long side", reads: asQuantity, Of: measure.OfLength, Names: []string{"length", "long", "long side", "height"}},
		{Key: "dry short", Label: "Usual size, short side", reads: asQuantity, Of: measure.OfLength, Names: []string{"width", "short", "short side"}},
		{Key: "surface size", Label: "Surface size", Names: []string{"surface size", "sized with", "sizing"}},
		{Key: "finish", Label: "Finish", Names: []string{"finish", "surface"}},
		remarks,
	},
	Lots: {
		{Key: "what", Label: "Fibre or additive", Names: []string{"fibre", "fiber", "what", "material", "additive", "item", "product", "kind", "pulp"}},
		{Key: "amount", Label: "How much", reads: asAmount, Of: measure.OfMass, Names: []string{"amount", "quantity", "qty", "in stock", "stock", "weight", "on hand", "how much", "mass", "left"}},
		{Key: "name", Label: "Called", Names: []string{"name", "lot", "called", "label", "lot name", "batch"}},
		{Key: "form", Label: "How it lies there", Names: []string{"form", "state", "how it lies", "condition"}},
		{Key: "moisture", Label: "Water in it", reads: asQuantity, Of: measure.OfPercent, Names: []string{"moisture", "water", "moisture wet basis", "water content"}},
		{Key: "price", Label: "Price", reads: asPrice, Of: measure.OfMass, Names: []string{"price", "cost", "price per kg", "cost per kg", "price per lb", "cost per lb", "price kg", "price lb"}},
		{Key: "since", Label: "Bought on", reads: asDate, Names: []string{"since", "bought", "bought on", "date", "purchased", "received", "day"}},
		{Key: "keep by", Label: "Use by", reads: asDate, Names: []string{"keep by", "use by", "best before", "expires"}},
		remarks,
	},
	People: {
		{Key: "name", Label: "Name", Names: []string{"name", "customer", "client", "full name", "who", "person", "studio", "company"}},
		{Key: "first", Label: "First name", Names: []string{"first name", "forename", "given name"}},
		{Key: "last", Label: "Last name", Names: []string{"last name", "surname", "family name"}},
		{Key: "contact", Label: "Contact", Many: true, Names: []string{"contact", "email", "e mail", "mail", "phone", "telephone", "tel", "mobile", "address", "street", "city", "town", "postcode", "zip", "country"}},
		remarks,
	},
	Fibres: {
		{Key: "name", Label: "Name", Names: []string{"name", "fibre", "fiber", "called"}},
		{Key: "like", Label: "Most like", Names: []string{"like", "most like", "near", "similar to", "kind", "base"}},
		remarks,
	},
}

// Fields lists what a sheet of a kind may say.
func Fields(k Kind) []Field { return slices.Clone(fields[k]) }

func fieldOf(k Kind, key string) (Field, bool) {
	i := slices.IndexFunc(fields[k], func(f Field) bool { return f.Key == key })
	if i < 0 {
		return Field{}, false
	}
	return fields[k][i], true
}

// unitWord is a unit a column may be in: as measure reads it, and how headings
// write it besides.
type unitWord struct {
	unit  string
	words []string
}

// Orders of a day that is written in figures.
const (
	DayFirst   = "day/month/year"
	MonthFirst = "month/day/year"
)

var dayOrders = []unitWord{{DayFirst, []string{"dmy", "dd mm yyyy"}}, {MonthFirst, []string{"mdy", "mm dd yyyy"}}}

// unitWords are the units offered for a kind of quantity, the usual ones of a
// metric studio first.
var unitWords = map[measure.Kind][]unitWord{
	measure.OfMass:     {{"g", []string{"g", "gram", "grams", "gr"}}, {"kg", []string{"kg", "kilo", "kilos"}}, {"oz", []string{"oz", "ounces"}}, {"lb", []string{"lb", "lbs", "pounds"}}},
	measure.OfLength:   {{"mm", []string{"mm"}}, {"cm", []string{"cm"}}, {"in", []string{"in", "inch", "inches"}}},
	measure.OfCaliper:  {{"mm", []string{"mm"}}, {"µm", []string{"µm", "um", "micron", "microns"}}, {"in", []string{"in", "inch"}}, {"pt", []string{"pt", "points", "mil", "thou"}}},
	measure.OfGrammage: {{"g/m²", []string{"g m2", "g m²", "gsm", "gm2"}}, {"lb text", []string{"lb text", "lbs text"}}, {"lb cover", []string{"lb cover", "lbs cover"}}, {"lb bond", []string{"lb bond", "lbs bond"}}},
	measure.OfHours:    {{"h", []string{"h", "hr", "hrs", "hour", "hours"}}, {"min", []string{"min", "mins", "minutes"}}, {"days", []string{"days"}}},
	measure.OfVolume:   {{"L", []string{"l", "litre", "litres", "liters"}}, {"mL", []string{"ml"}}, {"US gal", []string{"gal", "gallons", "us gal"}}},
	measure.OfPercent:  {{"%", []string{"%", "pct", "percent"}}},
}

// units are the units that a column of a field may be in; none for text.
func (f Field) units() []unitWord {
	switch f.reads {
	case asDate:
		return dayOrders
	case asQuantity, asSize, asAmount, asPrice:
		return unitWords[f.Of]
	}
	return nil
}

// Units lists the units that a column of a field may be in; none for text.
func (f Field) Units() []string {
	var list []string
	for _, u := range f.units() {
		list = append(list, u.unit)
	}
	return list
}

// usualUnit is the unit of a bare number where the heading says none.
func (f Field) usualUnit(sys measure.System) string {
	us := sys == measure.US
	switch {
	case f.reads == asDate && us:
		return MonthFirst
	case f.reads == asDate:
		return DayFirst
	case f.reads == asPrice || f.reads == asAmount: // fibre is bought and shelved by it
		if us {
			return "lb"
		}
		return "kg"
	case !us || len(f.units()) == 0:
	case f.Of == measure.OfMass:
		return "oz"
	case f.Of == measure.OfLength, f.Of == measure.OfCaliper:
		return "in"
	case f.Of == measure.OfVolume:
		return "US gal"
	}
	if list := f.units(); len(list) > 0 {
		return list[0].unit
	}
	return ""
}
