package fibre

import (
	"slices"
	"strings"

	"vatside/internal/source"
)

// Quantity is a number that the table keeps of a fibre. The key and the unit
// are those of data/values.csv and of an own fibre.
type Quantity struct {
	Key, Name, Unit string
	Group           string // one of Groups
}

// The groups of quantities, each thought of together.
const (
	Buying    = "buying and cooking"
	Shrinking = "shrinkage"
	Forming   = "fibre and sheet"
)

// Groups are all of them, in the order of the work.
func Groups() []string { return []string{Buying, Shrinking, Forming} }

// quantity knows where its number is kept and what is believed of it.
type quantity struct {
	Quantity
	low, high float64                    // what can be meant, in the unit
	curve     bool                       // without a band of its own it has that of the shrinkage curve
	of        func(*Fibre) *source.Value // nil where a fibre has no such thing
}

var quantities = []quantity{
	{Quantity{"shrink_start", "shrinkage dried free, unbeaten", "%", Shrinking}, 0, 15, true, func(f *Fibre) *source.Value { return &f.ShrinkStart }},
	{Quantity{"shrink_most", "shrinkage dried free, beaten without end", "%", Shrinking}, 0, 45, true, func(f *Fibre) *source.Value { return &f.ShrinkMost }},
	{Quantity{"shrink_tau", "hours to 63 % of the way between them", "h", Shrinking}, 0.05, 24, false, func(f *Fibre) *source.Value { return &f.ShrinkTau }},
	{Quantity{"bought_moisture", "moisture as bought", "% wet basis", Buying}, 0, 95, false, func(f *Fibre) *source.Value { return &f.Bought }},
	{Quantity{"room_moisture", "moisture of the sheet at 50 % RH", "% dry basis", Forming}, 1, 20, false, func(f *Fibre) *source.Value { return &f.RoomMoisture }},
	{Quantity{"density", "density of the sheet, lightly, usually and long beaten", "g/cm³", Forming}, 0.05, 1.5, false, func(f *Fibre) *source.Value { return &f.Density }},
	{Quantity{"length", "fibre length at the vat", "mm", Forming}, 0.1, 60, false, func(f *Fibre) *source.Value { return &f.Length }},
	{Quantity{"price", "price as bought", "USD/kg", Buying}, 0, 1000, false, func(f *Fibre) *source.Value { return &f.Price }},
	{Quantity{"freeness", "freeness at the usual beat", "mL CSF", Forming}, 0, 900, false, func(f *Fibre) *source.Value { return &f.Freeness }},
	{Quantity{"coarseness", "coarseness of the fibre", "mg/m", Forming}, 0.01, 2, false, func(f *Fibre) *source.Value { return &f.Coarseness }},
	{Quantity{"yield", "pulp at the vat from dry fibre", "%", Buying}, 1, 100, false, func(f *Fibre) *source.Value { return &f.Yield }},
	{Quantity{"cook_alkali", "alkali of the cook", "% of dry fibre", Buying}, 0, 60, false, func(f *Fibre) *source.Value {
		if f.Cook == nil {
			return nil
		}
		return &f.Cook.Alkali
	}},
	{Quantity{"cook_hours", "hours of the cook", "h", Buying}, 0, 48, false, func(f *Fibre) *source.Value {
		if f.Cook == nil {
			return nil
		}
		return &f.Cook.Hours
	}},
}

// Quantities returns what the table keeps of a fibre in numbers, hours of
// beating left out, which go by use.
func Quantities() []Quantity {
	out := make([]Quantity, len(quantities))
	for i, q := range quantities {
		out[i] = q.Quantity
	}
	return out
}

// Of returns the value of a quantity by its key; an unknown one if the fibre
// has none.
func (f Fibre) Of(key string) source.Value {
	if q, ok := quantityOf(key); ok {
		if v := q.of(&f); v != nil {
			return *v
		}
	}
	return source.Value{}
}

func quantityOf(key string) (quantity, bool) {
	i := slices.IndexFunc(quantities, func(q quantity) bool { return q.Key == key })
	if i < 0 {
		return quantity{}, false
	}
	return quantities[i], true
}

// kept is the value as a Fibre keeps it: per cents as fractions.
func (q quantity) kept(v source.Value) source.Value {
	if q.perCent() {
		v.Low, v.Mid, v.High = v.Low/100, v.Mid/100, v.High/100
	}
	return v
}

// Read is the value of a Fibre in the unit it is read in: fractions as per cents.
func (q Quantity) Read(v source.Value) source.Value {
	if q.perCent() {
		v.Low, v.Mid, v.High = 100*v.Low, 100*v.Mid, 100*v.High
	}
	return v
}

// Bare is the unit without what it is a share of.
func (q Quantity) Bare() string {
	if q.perCent() {
		return "%"
	}
	return q.Unit
}

func (q Quantity) perCent() bool { return strings.HasPrefix(q.Unit, "%") }
