package measure

import (
	"errors"
	"slices"
	"strings"

	"vatside/internal/fault"
)

// Span is a number known to lie between two ends.
type Span struct{ Low, Mid, High float64 }

// Exactly is a number known without doubt.
func Exactly(v float64) Span { return Span{v, v, v} }

// DensityRange is what a density may be: from feathers to the densest metal,
// g/mL.
var DensityRange = Span{Low: 0.01, Mid: 1, High: 25}

// Step is one line of a conversion: the arithmetic, its result with unit, and
// the key of the source of its factor; AsSaid and OfDensity where the factor is
// the asker's.
type Step struct{ What, Working, Result, Source string }

// Sources of factors that are not units.
const (
	AsSaid    = "said"    // the solids that were typed
	OfDensity = "density" // the density that was given
)

// Converted is a quantity in the unit asked for. Low and High are its ends
// where solids or density are a range, else the value itself.
type Converted struct {
	Value, Low, High float64
	Unit             string
	Wet              *float64 // the amount with its water, where solids were said
	Side             float64  // the second side of a size in the unit, else 0
	Steps            []Step
	Notes            []string // what was taken for granted
}

// kindsConverted are the kinds a conversion knows, the first that two units
// share deciding. Volumes are small volumes, times minutes: one kind to a
// dimension.
var kindsConverted = []Kind{OfMass, OfLength, OfArea, OfSmallVolume, OfGrammage, OfConsistency, OfTemperature,
	OfPressure, OfForce, OfAirflow, OfRate, OfMinutes, OfSheets}

// Convert takes a number from one unit to another. A density takes a volume to
// a mass and back; nil where none is known.
//
// Faults: Invalid or OutOfRange at value, from, to or density_g_ml.
func Convert(value float64, from, to string, density *Span) (Converted, error) {
	if !Within(value, -mostValue, mostValue) {
		return Converted{}, fault.OutOfRange("value", "a number between −%[1]s and %[1]s can be converted", shortNumber(mostValue))
	}
	source, err := unitsOf("from", from)
	if err != nil {
		return Converted{}, err
	}
	target, err := unitsOf("to", to)
	if err != nil {
		return Converted{}, err
	}
	for i := range source {
		source[i].value = value
	}
	u, w, err := pair(source, target, [2]string{from, to})
	if err != nil {
		return Converted{}, err
	}
	return express([]part{u}, w, density, Span{})
}

// ConvertText takes what somebody typed to a unit: an amount with its solids,
// a size, or any quantity. Where the solids are said the answer is bone-dry.
//
// Faults: Invalid at text, to or density_g_ml.
func ConvertText(text, to string, density *Span) (Converted, error) {
	target, err := unitsOf("to", to)
	if err != nil {
		return Converted{}, err
	}
	if tooLong(text) {
		return Converted{}, fault.Invalid("text", "%q is too long for a quantity; write it like %s", shorten(text), amountExamples)
	}
	if _, _, err := readNumber(tidy(text), Metric); err != nil && !errors.Is(err, errNoNumber) {
		return Converted{}, fault.Invalid("text", "%s", err.Error()) // 1,500 could be two numbers
	}
	for _, w := range target {
		if c, ok, err := convertSize(text, w); ok {
			return c, err
		}
		parts, err := typed(w.unit.kind, text)
		if err == nil {
			return express(parts, w, density, Span{})
		}
	}
	a, err := ReadAmount(text, US)
	if err != nil {
		_, err = typed(target[0].unit.kind, text)
		return Converted{}, at("text", err)
	}
	if a.Of == "" && !a.Wet && !isWeighed(target[0].unit.kind) {
		_, err = typed(target[0].unit.kind, text)
		return Converted{}, at("text", err)
	}
	w, err := forAmount(target, to)
	if err != nil {
		return Converted{}, err
	}
	c, err := express(a.parts, w, density, Span{float64(a.SolidsLow), float64(a.SolidsLow+a.SolidsHigh) / 2, float64(a.SolidsHigh)})
	if a.Wet && a.SolidsHigh == 0 {
		c.Notes = append(c.Notes, "This is with its water; say the solids, as in wet at 10 %, for what it holds bone-dry.")
	}
	return c, err
}

// typed reads a text as a kind, part by part.
func typed(kind Kind, text string) ([]part, error) {
	if _, err := Parse(kind, text, US); err != nil {
		return nil, err
	}
	s, negative := strings.CutPrefix(tidy(text), "-")
	s = strings.TrimSpace(strings.TrimPrefix(s, "+"))
	if m := clock.FindStringSubmatch(s); m != nil {
		s = m[1] + " h " + m[2] + " min"
	}
	if isBare(s) {
		return nil, fault.Invalid("", "%q has no unit; write it like %s", shorten(text), fields[kind].examples)
	}
	parts, _, err := lead(kind, fields[kind], s, text, US)
	for i := range parts {
		if negative {
			parts[i].value = -parts[i].value
		}
	}
	return parts, err
}

// isWeighed reports whether an amount of something is counted in a kind.
func isWeighed(kind Kind) bool { return kind == OfMass || kind == OfSmallVolume }

// forAmount picks the unit of mass or volume among those a word may mean.
func forAmount(target []part, to string) (part, error) {
	i := slices.IndexFunc(target, func(p part) bool { return isWeighed(p.unit.kind) })
	if i < 0 {
		return part{}, fault.Invalid("to", "an amount is given in a mass or a volume such as g, kg, lb or mL, not in %s", shorten(to))
	}
	return target[i], nil
}

// convertSize answers a size: its sides in a length, or its area.
func convertSize(text string, w part) (Converted, bool, error) {
	if w.unit.kind != OfLength && w.unit.kind != OfArea || !by.MatchString(tidy(text)) {
		return Converted{}, false, nil
	}
	a, b, err := sides(text, US)
	if err != nil {
		return Converted{}, true, at("text", err)
	}
	side := w
	if w.unit.kind == OfArea {
		side.unit, _ = named(OfLength, "m")
	}
	first, err1 := express(a, side, nil, Span{})
	second, err2 := express(b, side, nil, Span{})
	if err := fault.First(err1, err2); err != nil {
		return Converted{}, true, err
	}
	steps := append(first.Steps, second.Steps...)
	if w.unit.kind == OfLength {
		first.Side, first.Steps = second.Value, steps
		return first, true, nil
	}
	v := first.Value * second.Value
	area := Step{"area", shortNumber(first.Value) + " × " + shortNumber(second.Value), shortResult(v, own(OfArea)), "definition"}
	c := Converted{Value: v, Low: v, High: v, Unit: own(OfArea), Steps: append(steps, area)}
	c.into(w.unit)
	return c, true, nil
}

// unitsOf finds the units a word may mean, one to a kind, in the order of
// kindsConverted.
func unitsOf(field, text string) ([]part, error) {
	if tooLong(text) {
		return nil, fault.Invalid(field, "%q is not a unit known here", shorten(text))
	}
	s := strings.TrimSpace(strings.TrimSuffix(tidy(text), "."))
	var out []part
	for _, kind := range kindsConverted {
		w, after, ok := longest(kind, s)
		if !ok || after != "" {
			continue
		}
		p := part{unit: w.unit}
		if w.unsure {
			p.unsure = w.text
		}
		out = append(out, p)
	}
	if len(out) > 0 {
		return out, nil
	}
	if s == "" {
		return nil, fault.Invalid(field, "give a unit such as g, lb, lb bond, g/m2, US fl oz or in")
	}
	for _, kind := range []Kind{OfSheets, OfGrammage} {
		if hint := trap(kind, s); hint != "" {
			return nil, fault.Invalid(field, "%s; write it like %s", hint, fields[kind].examples)
		}
	}
	return nil, fault.Invalid(field, "%q is not a unit known here; write one such as g, lb, lb bond, g/m2, US fl oz or in", shorten(text))
}

// pair chooses the two units of one kind, or a mass and a volume.
func pair(from, to []part, said [2]string) (part, part, error) {
	var bridge [2]part
	for _, f := range from {
		for _, t := range to {
			if f.unit.kind == t.unit.kind {
				return f, t, nil
			}
			if isWeighed(f.unit.kind) && isWeighed(t.unit.kind) {
				bridge = [2]part{f, t}
			}
		}
	}
	for i, side := range [2][]part{to, from} {
		field := [2]string{"from", "to"}[i]
		for _, other := range side {
			hint := trap(other.unit.kind, tidy(said[i]))
			if hint != "" && (bridge[0].unit.factor == 0 || strings.HasPrefix(hint, "points")) {
				return part{}, part{}, fault.Invalid(field, "%s; write it like %s", hint, fields[other.unit.kind].examples)
			}
		}
	}
	if bridge[0].unit.factor != 0 {
		return bridge[0], bridge[1], nil
	}
	return part{}, part{}, fault.Invalid("to", "%s (%s) cannot be turned into %s (%s)", article(from[0].unit.kind), from[0].unit.name,
		article(to[0].unit.kind), to[0].unit.name)
}

// at gives faults a field.
func at(field string, err error) error {
	var f *fault.Error
	if errors.As(err, &f) {
		return &fault.Error{Kind: f.Kind, Field: field, Text: f.Text}
	}
	return err
}
