package sheet

import (
	"fmt"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Momme is the Japanese weight that sheets are classed by, of the mill's own
// sheet size: a class says a grammage only together with that size (from
// memory: 1,000 momme are 3.75 kg).
const Momme measure.Mass = 3.75 // g

const inch measure.Length = 25.4 // mm, [inch-pound-1959]

// NamedSize is a size that has a name in the trade or in a standard.
type NamedSize struct {
	Name        string
	Long, Short measure.Length // mm
	Source      string         // key of the registry
}

// inches are the named sizes of printing papers [book-sizes-cockerell];
// handmade sheets of the same name differ a little. The last two were near the
// largest made by hand [moulds-article].
var inches = []struct {
	name        string
	long, short measure.Length // in
	source      string
}{
	{"Foolscap", 17, 13.5, "book-sizes-cockerell"},
	{"Post", 19.25, 15.5, "book-sizes-cockerell"},
	{"Crown", 20, 15, "book-sizes-cockerell"},
	{"Demy", 22.5, 17.5, "book-sizes-cockerell"},
	{"Medium", 24, 19, "book-sizes-cockerell"},
	{"Royal", 25, 20, "book-sizes-cockerell"},
	{"Super Royal", 27, 21, "book-sizes-cockerell"},
	{"Imperial", 30, 22, "book-sizes-cockerell"},
	{"Double Crown", 30, 20, "book-sizes-cockerell"},
	{"Double Post", 31.5, 19.5, "book-sizes-cockerell"},
	{"Double Elephant", 40, 27, "moulds-article"},
	{"Grand Eagle", 42, 28, "moulds-article"},
}

// starts are the largest sizes of the series of [iso-216]. Each next is the one
// before cut in half across its long side, down to a whole millimetre.
var starts = []struct {
	series      string
	long, short int // mm
}{{"A", 1189, 841}, {"B", 1414, 1000}, {"C", 1297, 917}}

const smallestOfSeries = 10

// NamedSizes are the named sizes: of the trade, then of the standard.
func NamedSizes() []NamedSize {
	var all []NamedSize
	for _, s := range inches {
		all = append(all, NamedSize{s.name, s.long * inch, s.short * inch, s.source})
	}
	for _, s := range starts {
		long, short := s.long, s.short
		for n := range smallestOfSeries + 1 {
			all = append(all, NamedSize{fmt.Sprint(s.series, n), measure.Length(long), measure.Length(short), "iso-216"})
			long, short = short, long/2
		}
	}
	return all
}

// FindSize returns the size of a name, however it is spaced or capitalised.
func FindSize(name string) (NamedSize, error) {
	plain := func(s string) string {
		return strings.ToLower(strings.NewReplacer(" ", "", "-", "").Replace(s))
	}
	for _, s := range NamedSizes() {
		if plain(s.Name) == plain(name) {
			return s, nil
		}
	}
	return NamedSize{}, fault.NotFound("No size is named %q here; write it in millimetres or inches.", name)
}

// GrammageFromReam returns the grammage of paper sold by the weight of a ream.
//
//	g = m / (n · A)
//
// Contract:
//
//   - Quantity: conditioned grammage, g/m²
//   - Inputs: m mass of the ream, g; n sheets in it (480 or 500, as said); A area of the size the weight is stated for, m²
//   - Valid: 1 to 10,000 sheets; as GrammageFromSheet; outside: fault.OutOfRange
//   - Assumes: the weight is at the room moisture of the maker
//   - Error: exact; the trade's weights are rounded to a pound
//   - Source: definition; inch-pound-1959
//   - Checked: published/check-sheet-making.csv, SH035 to SH041
func GrammageFromReam(m measure.Mass, sheets measure.Sheets, area measure.Area) (measure.GrammageConditioned, error) {
	if !measure.Within(sheets, 1, 10000) {
		return 0, fault.OutOfRange("", "A ream must hold between 1 and 10,000 sheets; this says %.4g.", float64(sheets))
	}
	return GrammageFromSheet(m/measure.Mass(sheets), area)
}
