package measure

import (
	"slices"
	"strings"
	"sync"
)

// System is what a studio likes to read and write. It decides nothing but text.
type System string

// The two systems.
const (
	Metric System = "metric"
	US     System = "us"
)

// Kind is what a field asks for; Parse returns it in the unit named here.
type Kind string

// The kinds of field.
const (
	OfNumber      Kind = "number"       // plain
	OfCount       Kind = "count"        // whole
	OfSheets      Kind = "sheet count"  // whole
	OfPercent     Kind = "percentage"   // per cent, not a fraction
	OfLength      Kind = "length"       // mm
	OfCaliper     Kind = "caliper"      // mm
	OfArea        Kind = "area"         // m²
	OfMass        Kind = "mass"         // g
	OfVolume      Kind = "volume"       // L
	OfSmallVolume Kind = "small volume" // mL
	OfGrammage    Kind = "grammage"     // g/m²
	OfConsistency Kind = "consistency"  // g/L
	OfTemperature Kind = "temperature"  // °C
	OfPressure    Kind = "pressure"     // kPa
	OfForce       Kind = "force"        // kN
	OfAltitude    Kind = "altitude"     // m
	OfAirflow     Kind = "airflow"      // m³/s
	OfRate        Kind = "rate"         // kg/h
	OfMinutes     Kind = "minutes"      // min
	OfHours       Kind = "hours"        // h
	OfDays        Kind = "days"         // days
)

// field says how a kind is read: the unit of a bare number in each system, and
// examples for the sentence that refuses.
type field struct {
	metric, us string
	examples   string
	negative   bool // may be below zero
}

var fields = map[Kind]field{
	OfNumber:      {"", "", "12, 1.5 or 1/2", true},
	OfCount:       {"", "", "24", false},
	OfSheets:      {"sheets", "sheets", "60, 2 reams of 480 or 3 quires of 25", false},
	OfPercent:     {"%", "%", "80 or 80 %", false},
	OfLength:      {"mm", "in", "420 mm, 42 cm or 16 1/2 in", false},
	OfCaliper:     {"mm", "in", "0.2 mm, 200 µm, 8 pt or 0.008 in", false},
	OfArea:        {"m²", "sq ft", "0.5 m2, 1250 cm2 or 5 sq ft", false},
	OfMass:        {"g", "oz", "450 g, 1.2 kg, 12 oz or 1/2 lb", false},
	OfVolume:      {"L", "US gal", "2 L, 500 mL or 2 US gal", false},
	OfSmallVolume: {"mL", "US fl oz", "500 mL, 0.5 L or 8 US fl oz", false},
	OfGrammage:    {"g/m²", "g/m²", "90 g/m2, 90 gsm, 60 lb text or 24 lb bond", false},
	OfConsistency: {"g/L", "oz/US gal", "15 g/L or 2 oz/US gal", false},
	OfTemperature: {"°C", "°F", "20 °C or 68 °F", true},
	OfPressure:    {"kPa", "psi", "400 kPa, 4 bar or 60 psi", false},
	OfForce:       {"kN", "US tons", "60 kN, 6 t or 6 US tons", false},
	OfAltitude:    {"m", "ft", "350 m or 1150 ft", true},
	OfAirflow:     {"m³/s", "cfm", "0.03 m3/s, 110 m3/h or 64 cfm", false},
	OfRate:        {"kg/h", "lb/h", "0.5 kg/h or 1 lb/h", false},
	OfMinutes:     {"min", "min", "45 min, 1 h 20 or 1:20", false},
	OfHours:       {"h", "h", "8 h, 1 h 20 or 2 days", false},
	OfDays:        {"days", "days", "3 days or 36 h", false},
}

// unit is one way to write a kind: canonical = (shown − offset) · factor.
type unit struct {
	kind   Kind
	name   string // as shown
	factor float64
	offset float64
	words  string  // as read besides the name, in lower case, parted by commas
	unsure string  // words that mean this only to a studio on US units
	next   string  // the unit a bare number after this one is in
	exact  string  // the factor as arithmetic, where its digits would say less
	most   float64 // the most that can be, in the kind's own unit; 0: no such end
}

// Exact sizes (sources: inch-pound-1959, us-gallon, definition). Ounce and Gallon
// serve those who split amounts in their own way.
const (
	inch       = 25.4           // mm
	point      = inch / 1000    // mm; the paper trade's point of caliper, not the printer's
	Ounce      = 28.349523125   // g
	pound      = 453.59237      // g
	Gallon     = 3.785411784    // L
	impGallon  = 4.54609        // L
	squareFt   = 0.09290304     // m²
	standardG  = 9.80665        // m/s²
	psi        = 6.894757293168 // kPa
	cubicFoot  = 0.028316846592 // m³
	inchHg     = 3.386389       // kPa, conventional
	atmosphere = 101.325        // kPa; no vacuum is deeper
)

var units = slices.Concat([]unit{
	{kind: OfPercent, name: "%", factor: 1, words: "percent,per cent,pct"},

	{kind: OfArea, name: "m²", factor: 1, words: "m2,sqm,sq m"},
	{kind: OfArea, name: "cm²", factor: 1e-4, words: "cm2,sq cm"},
	{kind: OfArea, name: "sq ft", factor: squareFt, words: "ft2,ft²,sqft"},
	{kind: OfArea, name: "sq in", factor: squareFt / 144, words: "in2,in²,sqin"},

	{kind: OfMass, name: "g", factor: 1, words: "gram,grams,gramme,grammes"},
	{kind: OfMass, name: "mg", factor: 0.001, words: "milligram,milligrams"},
	{kind: OfMass, name: "kg", factor: 1000, words: "kilo,kilos,kilogram,kilograms"},
	{kind: OfMass, name: "oz", factor: Ounce, words: "ounce,ounces,dry oz,oz av"},
	{kind: OfMass, name: "lb", factor: pound, words: "lbs,pound,pounds", next: "oz"},
	{kind: OfMass, name: "metric tons", factor: 1e6, words: "metric ton,tonne,tonnes"}, // not t: that is a teaspoon in recipes
	{kind: OfMass, name: "US tons", factor: 2000 * pound, words: "us ton,short ton,short tons", unsure: "ton,tons"},
	{kind: OfMass, name: "long tons", factor: 2240 * pound, words: "long ton,imperial ton,imperial tons"},

	{kind: OfGrammage, name: "g/m²", factor: 1, words: "g/m2,gsm,g m-2,grams per square metre"},
	{kind: OfConsistency, name: "g/L", factor: 1, words: "g per l,g/litre,g/liter"},
	{kind: OfConsistency, name: "oz/US gal", factor: Ounce / Gallon, words: "oz per us gal", unsure: "oz/gal,oz per gal"},

	{kind: OfTemperature, name: "°C", factor: 1, words: "c,celsius,degc,deg c,degrees c"},
	{kind: OfTemperature, name: "°F", factor: 5.0 / 9, exact: "5 / 9", offset: 32, words: "f,fahrenheit,degf,deg f,degrees f"},

	{kind: OfPressure, name: "kPa", factor: 1},
	{kind: OfPressure, name: "MPa", factor: 1000},
	{kind: OfPressure, name: "bar", factor: 100},
	{kind: OfPressure, name: "psi", factor: psi, words: "lb/in2,lb/in²,lbf/in2"},
	{kind: OfPressure, name: "inHg", factor: inchHg, words: "in hg"},
	{kind: OfPressure, name: "psi vacuum", factor: psi, words: "psi of vacuum", most: atmosphere},
	{kind: OfPressure, name: "inHg vacuum", factor: inchHg, words: "in hg vacuum,inhg of vacuum,in hg of vacuum", most: atmosphere},
	{kind: OfPressure, name: "kPa vacuum", factor: 1, words: "kpa of vacuum", most: atmosphere},

	{kind: OfForce, name: "kN", factor: 1},
	{kind: OfForce, name: "t", factor: standardG, words: "tonne,tonnes,metric ton,metric tons"},
	{kind: OfForce, name: "kg", factor: standardG / 1000, words: "kgf"},
	{kind: OfForce, name: "lb", factor: pound * standardG / 1e6, words: "lbs,lbf"},
	{kind: OfForce, name: "US tons", factor: 2000 * pound * standardG / 1e6, words: "us ton,short ton,short tons", unsure: "ton,tons"},
	{kind: OfForce, name: "long tons", factor: 2240 * pound * standardG / 1e6, words: "long ton,imperial ton,imperial tons"},

	{kind: OfAltitude, name: "m", factor: 1, words: "metre,metres,meter,meters"},
	{kind: OfAltitude, name: "ft", factor: 0.3048, words: "foot,feet,'"},

	{kind: OfAirflow, name: "m³/s", factor: 1, words: "m3/s"},
	{kind: OfAirflow, name: "m³/h", factor: 1.0 / 3600, exact: "1 / 3600", words: "m3/h"},
	{kind: OfAirflow, name: "L/s", factor: 0.001},
	{kind: OfAirflow, name: "cfm", factor: cubicFoot / 60, words: "ft3/min,ft³/min"},

	{kind: OfRate, name: "kg/h", factor: 1, words: "kg per h"},
	{kind: OfRate, name: "g/h", factor: 0.001},
	{kind: OfRate, name: "lb/h", factor: pound / 1000, words: "lb per h"},
}, lengths(OfLength), lengths(OfCaliper), basisUnits(), sheetUnits(), volumes(OfVolume, 1), volumes(OfSmallVolume, 1000), times(OfMinutes, 1), times(OfHours, 1.0/60), times(OfDays, 1.0/1440))

// lengths are the units of length, of a sheet or of its caliper.
func lengths(kind Kind) []unit {
	return []unit{
		{kind: kind, name: "mm", factor: 1, words: "millimetre,millimetres,millimeter,millimeters"},
		{kind: kind, name: "cm", factor: 10, words: "centimetre,centimetres,centimeter,centimeters"},
		{kind: kind, name: "m", factor: 1000, words: "metre,metres,meter,meters"},
		{kind: kind, name: "µm", factor: 0.001, words: "μm,um,micron,microns"},
		{kind: kind, name: "in", factor: inch, words: "inch,inches,\""},
		{kind: kind, name: "ft", factor: 12 * inch, words: "foot,feet,'", next: "in"},
		{kind: kind, name: "pt", factor: point, words: "pts,point,points,mil,mils,thou"},
	}
}

// volumes are the units of volume, scaled to litres by 1 or to mL by 1000.
func volumes(kind Kind, scale float64) []unit {
	return []unit{
		{kind: kind, name: "L", factor: scale, words: "litre,litres,liter,liters"},
		{kind: kind, name: "mL", factor: scale / 1000, words: "cc,millilitre,millilitres,milliliter,milliliters"},
		{kind: kind, name: "US gal", factor: scale * Gallon, words: "us gallon,us gallons", unsure: "gal,gallon,gallons", next: "US qt"},
		{kind: kind, name: "US qt", factor: scale * Gallon / 4, words: "us quart,us quarts", unsure: "qt,quart,quarts"},
		{kind: kind, name: "US pt", factor: scale * Gallon / 8, words: "us pint,us pints", unsure: "pt,pint,pints"},
		{kind: kind, name: "US cups", factor: scale * Gallon / 16, words: "us cup", unsure: "cup,cups"},
		{kind: kind, name: "US fl oz", factor: scale * Gallon / 128, words: "us fluid ounce,us fluid ounces", unsure: "fl oz,fl. oz,floz,fluid ounce,fluid ounces"},
		{kind: kind, name: "US tbsp", factor: scale * Gallon / 256, words: "us tablespoon,us tablespoons", unsure: "tbsp,tbs,tablespoon,tablespoons"},
		{kind: kind, name: "US tsp", factor: scale * Gallon / 768, words: "us teaspoon,us teaspoons", unsure: "tsp,teaspoon,teaspoons"},
		{kind: kind, name: "imp gal", factor: scale * impGallon, words: "uk gal,imperial gallon,imperial gallons"},
		{kind: kind, name: "imp qt", factor: scale * impGallon / 4, words: "uk qt,imperial quart,imperial quarts"},
		{kind: kind, name: "imp pt", factor: scale * impGallon / 8, words: "uk pt,imperial pint,imperial pints"},
		{kind: kind, name: "imp fl oz", factor: scale * impGallon / 160, words: "uk fl oz,imperial fluid ounce,imperial fluid ounces"},
		{kind: kind, name: "metric cups", factor: scale / 4, words: "metric cup"},
		{kind: kind, name: "metric tbsp", factor: scale * 15 / 1000, words: "metric tablespoon,metric tablespoons"},
		{kind: kind, name: "metric tsp", factor: scale * 5 / 1000, words: "metric teaspoon,metric teaspoons"},
	}
}

// times are the units of time, scaled to what one minute is in the kind.
func times(kind Kind, minute float64) []unit {
	return []unit{
		{kind: kind, name: "s", factor: minute / 60, words: "sec,second,seconds"},
		{kind: kind, name: "min", factor: minute, words: "mins,minute,minutes,m"},
		{kind: kind, name: "h", factor: 60 * minute, words: "hr,hrs,hour,hours", next: "min"},
		{kind: kind, name: "days", factor: 1440 * minute, words: "d,day", next: "h"},
		{kind: kind, name: "weeks", factor: 7 * 1440 * minute, words: "week", next: "days"},
	}
}

// word is one readable spelling of a unit.
type word struct {
	text   string
	unit   unit
	unsure bool
}

// vocabulary is the spellings of each kind, longest first, so that "g/m2" is
// not read as "g".
var vocabulary = sync.OnceValue(func() map[Kind][]word {
	out := make(map[Kind][]word)
	for _, u := range units {
		out[u.kind] = append(out[u.kind], word{strings.ToLower(u.name), u, false})
		for _, text := range append(split(u.words), pounds(u)...) {
			out[u.kind] = append(out[u.kind], word{text, u, false})
		}
		for _, text := range split(u.unsure) {
			out[u.kind] = append(out[u.kind], word{text, u, true})
		}
	}
	for _, words := range out {
		slices.SortStableFunc(words, func(a, b word) int { return len(b.text) - len(a.text) })
	}
	return out
})

func split(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

// named returns the unit of a kind by the name it is shown with.
func named(kind Kind, name string) (unit, bool) {
	for _, u := range units {
		if u.kind == kind && u.name == name {
			return u, true
		}
	}
	return unit{}, false
}

// rivals are the other units that the same word may mean: imp gal of US gal.
func (u unit) rivals() []string {
	var out []string
	_, tail, _ := strings.Cut(u.name, " ")
	for _, other := range units {
		if _, its, _ := strings.Cut(other.name, " "); other.kind == u.kind && its == tail && other.name != u.name {
			out = append(out, other.name)
		}
	}
	return out
}

// canonical takes a number in this unit to the kind's own unit.
func (u unit) canonical(v float64) float64 { return (v - u.offset) * u.factor }

// shown takes a number in the kind's own unit to this unit.
func (u unit) shown(v float64) float64 { return v/u.factor + u.offset }
