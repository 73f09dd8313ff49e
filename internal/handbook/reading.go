package handbook

import (
	"reflect"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// reading is how a number of one type is typed: what a field of it asks for,
// the units of a bare number in both systems, and what one unit of the field
// is in the type's own.
type reading struct {
	kind       measure.Kind
	metric, us string
	factor     float64
}

// readings by the unit a type is stated in; what is not here is a plain number
// in that unit.
var readings = map[string]reading{
	"g":      {measure.OfMass, "g", "oz", 1},
	"kg":     {measure.OfMass, "kg", "lb", 0.001},
	"m²":     {measure.OfArea, "m²", "sq ft", 1},
	"mm":     {measure.OfLength, "mm", "in", 1},
	"L":      {measure.OfVolume, "L", "US gal", 1},
	"mL":     {measure.OfSmallVolume, "mL", "US fl oz", 1},
	"g/m²":   {measure.OfGrammage, "g/m²", "g/m²", 1},
	"g/L":    {measure.OfConsistency, "g/L", "oz/US gal", 1},
	"°C":     {measure.OfTemperature, "°C", "°F", 1},
	"kPa":    {measure.OfPressure, "kPa", "psi", 1},
	"kN":     {measure.OfForce, "kN", "US tons", 1},
	"m":      {measure.OfAltitude, "m", "ft", 1},
	"m³/s":   {measure.OfAirflow, "m³/s", "cfm", 1},
	"kg/h":   {measure.OfRate, "kg/h", "lb/h", 1},
	"min":    {measure.OfMinutes, "min", "min", 1},
	"h":      {measure.OfHours, "h", "h", 1},
	"days":   {measure.OfDays, "days", "days", 1},
	"sheets": {measure.OfNumber, "sheets", "sheets", 1},
	"loads":  {measure.OfNumber, "loads", "loads", 1},
	"posts":  {measure.OfNumber, "posts", "posts", 1},
}

var percent = reading{measure.OfPercent, "%", "%", 0.01}

// fractions are the types that people read in per cent.
var fractions = map[reflect.Type]bool{
	reflect.TypeFor[measure.MoistureDry](): true, reflect.TypeFor[measure.MoistureWet](): true,
	reflect.TypeFor[measure.Solids](): true, reflect.TypeFor[measure.Share](): true,
	reflect.TypeFor[measure.Dose](): true, reflect.TypeFor[measure.Shrinkage](): true,
	reflect.TypeFor[measure.RelHumidity](): true,
}

// names of types whose own name says too little.
var names = map[reflect.Type]string{
	reflect.TypeFor[measure.GrammageDry]():         "bone-dry grammage",
	reflect.TypeFor[measure.GrammageConditioned](): "conditioned grammage",
	reflect.TypeFor[measure.GrammageFormed]():      "formed grammage",
	reflect.TypeFor[measure.MoistureDry]():         "moisture on dry basis",
	reflect.TypeFor[measure.MoistureWet]():         "moisture on wet basis",
	reflect.TypeFor[measure.RelHumidity]():         "relative humidity",
	reflect.TypeFor[measure.Milliliters]():         "volume",
	reflect.TypeFor[measure.Kilograms]():           "mass",
	reflect.TypeFor[measure.Hours]():               "time",
	reflect.TypeFor[measure.Minutes]():             "time",
	reflect.TypeFor[measure.Days]():                "time",
}

// choice is a type that is chosen by name from a table.
type choice struct {
	names func() []string
	find  func(name string) (any, error)
}

var choices = map[reflect.Type]choice{
	reflect.TypeFor[fibre.Fibre](): {
		names: func() []string {
			var out []string
			for _, f := range fibre.All() {
				out = append(out, f.Name)
			}
			return out
		},
		find: func(name string) (any, error) { return fibre.Find("", name) },
	},
}

// unitOf is the unit a type is stated in, "" of none.
func unitOf(t reflect.Type) string {
	if q, ok := reflect.Zero(t).Interface().(interface{ Unit() string }); ok {
		return q.Unit()
	}
	return ""
}

// readingOf is how a number of a type is typed.
func readingOf(t reflect.Type) reading {
	unit := unitOf(t)
	r, known := readings[unit]
	switch {
	case known:
		return r
	case fractions[t]:
		return percent
	case t.Kind() == reflect.Int:
		return reading{measure.OfCount, "", "", 1}
	}
	return reading{measure.OfNumber, unit, unit, 1}
}

// typeWords names a type in words: "formed grammage".
func typeWords(t reflect.Type) string {
	if w := names[t]; w != "" {
		return w
	}
	return words(t.Name())
}

// bare reports whether a number was typed without its unit.
func bare(text string) bool {
	return text != "" && strings.Trim(text, "0123456789.,/ +-−½¼¾") == ""
}

// in is the unit of a bare number for a reader of a system.
func (r reading) in(sys measure.System) string {
	if sys == measure.US {
		return r.us
	}
	return r.metric
}

// spell writes the unit of a system behind a bare number; a plain number has
// none that could be read.
func (r reading) spell(text string, sys measure.System) string {
	if bare(text) && r.kind != measure.OfNumber && r.kind != measure.OfCount {
		return text + " " + r.in(sys)
	}
	return text
}

// read reads a number as typed, in the type's own unit.
func (r reading) read(text string, sys measure.System) (float64, error) {
	text = r.spell(strings.TrimSpace(text), sys)
	if r.kind == measure.OfNumber {
		text = strings.TrimSuffix(text, " "+r.metric)
	}
	v, err := measure.Parse(r.kind, text, sys)
	return v * r.factor, err
}
