package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Marks of printed numbers.
const (
	minus     = "−"
	thinSpace = "\u202f"
	nothing   = "–" // shown for what is not a number
)

// rounding is how a number is cut for people.
type rounding int

const (
	threeDigits rounding = iota // three significant digits
	whole                       // counts
	tenths                      // temperatures
	millimetres                 // whole from 10 up, below that two digits
	sixteenths                  // inches, in fractions; below 1/4 in two digits
	duration                    // whole from 10 up, below that two digits
	cents                       // money
)

// plain are the units that read the same in both systems, with their rounding;
// what stands in neither table keeps three digits.
var plain = map[string]rounding{
	"sheets": whole, "loads": whole, "posts": whole, "min": duration, "h": duration, "days": duration, "money": cents,
}

// shape is how values of one unit are shown: in which unit, how rounded.
type shape struct {
	from, to unit
	name     string
	round    rounding
}

// value takes a number in the stated unit to the one shown.
func (s shape) value(v float64) float64 {
	if s.from.factor == 0 || s.from.name == s.to.name {
		return v
	}
	return s.to.shown(s.from.canonical(v))
}

// shapeOf chooses the shown unit for values as large as v.
func shapeOf(v float64, name string, sys System) shape {
	kind, to, round := choose(math.Abs(v), name, sys)
	if kind == "" {
		return shape{name: name, round: plain[name]}
	}
	from, ok1 := named(kind, name)
	target, ok2 := named(kind, to)
	if !ok1 || !ok2 {
		return shape{name: name}
	}
	return shape{from: from, to: target, name: to, round: round}
}

// choose returns the kind of a unit and the unit its values are shown in.
func choose(v float64, name string, sys System) (Kind, string, rounding) {
	us := sys == US
	switch name {
	case "mm":
		if us {
			return OfLength, "in", sixteenths
		}
		return OfLength, "mm", millimetres
	case "g", "kg":
		return OfMass, massUnit(v, name, us), threeDigits
	case "L":
		return OfVolume, volumeUnit(1000*v, name, us), threeDigits
	case "mL":
		return OfSmallVolume, volumeUnit(v, name, us), threeDigits
	case "°C":
		return OfTemperature, pick(us, "°F", "°C"), tenths
	case "m²":
		return OfArea, pick(us, "sq ft", name), threeDigits
	case "g/L":
		return OfConsistency, pick(us, "oz/US gal", name), threeDigits
	case "kPa":
		return OfPressure, pick(us, "psi", name), threeDigits
	case "kN":
		return OfForce, pick(us, "US tons", name), threeDigits
	case "m":
		return OfAltitude, pick(us, "ft", name), threeDigits
	case "m³/s":
		return OfAirflow, pick(us, "cfm", name), threeDigits
	case "kg/h":
		return OfRate, pick(us, "lb/h", name), threeDigits
	}
	return "", name, threeDigits
}

func pick(us bool, yes, no string) string {
	if us {
		return yes
	}
	return no
}

// massUnit keeps grams where a bench scale reads them; under a tenth of an
// ounce grams serve everybody.
func massUnit(v float64, name string, us bool) string {
	grams := v
	if name == "kg" {
		grams = 1000 * v
	}
	switch {
	case us && grams >= pound:
		return "lb"
	case us && grams >= Ounce/10:
		return "oz"
	case us:
		return "g"
	case name == "g" && grams >= 10000:
		return "kg"
	case name == "kg" && grams < 100:
		return "g"
	}
	return name
}

func volumeUnit(millilitres float64, name string, us bool) string {
	fluidOunces := millilitres / (1000 * Gallon / 128)
	switch {
	case us && fluidOunces >= 128:
		return "US gal"
	case us && (fluidOunces >= 32 || name == "L" && fluidOunces >= 16):
		return "US qt"
	case us && fluidOunces >= 16:
		return "US cups"
	case us:
		return "US fl oz"
	case name == "mL" && millilitres >= 10000:
		return "L"
	}
	return name
}

// Show writes a value of a stated unit (one that Unit returns, or "%") as
// people of a system read it: three significant digits, counts whole, lengths
// in whole millimetres or sixteenths of an inch. It rounds for the eye only;
// what is stored and reckoned with stays as it is. What is not a number is
// shown as a dash.
func Show(value float64, unit string, sys System) (number, shownUnit string) {
	s := shapeOf(value, unit, sys)
	number = cut(s.value(value), s.round)
	return number, singular(number, s.name)
}

// ShowBand writes a band with its two ends in one unit, rounded to what its
// width carries: 370–460 g. Ends that read alike are written once.
func ShowBand(low, high float64, unit string, sys System) (numbers, shownUnit string) {
	s := shapeOf(math.Max(math.Abs(low), math.Abs(high)), unit, sys)
	from, to := s.value(low), s.value(high)
	a, b := cut(coarse(from, to-from), s.round), cut(coarse(to, to-from), s.round)
	if s.round == sixteenths { // a fraction is not made coarser by decimals
		a, b = cut(from, s.round), cut(to, s.round)
	}
	if a == b {
		return a, singular(a, s.name)
	}
	join := "–"
	if strings.ContainsAny(a+b, " "+minus) {
		join = " to "
	}
	return a + join + b, s.name
}

// coarse rounds v to the decimal step that half the width of its band spans.
func coarse(v, width float64) float64 {
	if !(width > 0) || math.IsInf(width, 0) || math.IsInf(v, 0) {
		return v
	}
	exponent := int(math.Floor(math.Log10(width / 2)))
	if exponent < -12 || exponent > 12 {
		return v
	}
	step := math.Pow10(exponent)
	return math.Round(v/step) * step
}

// ShowDuration writes a time as 45 min, 1 h 20 min, 26 h or 2.5 days, in steps
// that grow with it: a minute, five minutes, an hour, half a day.
func ShowDuration(m Minutes) string {
	v := float64(m)
	sign := ""
	if v < 0 {
		sign, v = minus, -v
	}
	switch {
	case math.IsNaN(v) || v > 1e9:
		return nothing
	case v < 59.5:
		return sign + cut(v, duration) + " min"
	case v < 597.5:
		five := 5 * int(math.Round(v/5))
		if five%60 == 0 {
			return fmt.Sprintf("%s%d h", sign, five/60)
		}
		return fmt.Sprintf("%s%d h %d min", sign, five/60, five%60)
	case v < 47.5*60:
		return fmt.Sprintf("%s%.0f h", sign, v/60)
	default:
		return sign + group(strconv.FormatFloat(math.Round(v/720)/2, 'f', -1, 64)) + " days"
	}
}

// cut writes a number rounded.
func cut(v float64, round rounding) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nothing
	}
	size := math.Abs(v)
	switch round {
	case whole:
		return decimals(v, 0)
	case tenths:
		return trim(decimals(v, 1))
	case cents:
		return decimals(v, 2)
	case millimetres, duration:
		if size >= 9.95 {
			return decimals(v, 0)
		}
		return digits(v, 2)
	case sixteenths:
		if size >= 0.25 {
			return fraction(v)
		}
		return digits(v, 2)
	default:
		return digits(v, 3)
	}
}

// digits writes v with n significant digits, closing zeros left out.
func digits(v float64, n int) string {
	return group(strconv.FormatFloat(Significant(v, n), 'f', -1, 64))
}

// Significant keeps n digits of v that count; what has none, or would round past
// the largest number, stays as it is.
func Significant(v float64, n int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil || math.IsInf(r, 0) {
		return v
	}
	return r
}

// decimals writes v with n decimals.
func decimals(v float64, n int) string { return group(strconv.FormatFloat(v, 'f', n, 64)) }

// trim takes off closing zeros after the point.
func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return tidySign(strings.TrimRight(strings.TrimRight(s, "0"), "."))
}

// fraction writes v in sixteenths, reduced: 17 1/4.
func fraction(v float64) string {
	sign := ""
	if v < 0 {
		sign, v = minus, -v
	}
	if v > 1e12 {
		return sign + digits(v, 3)
	}
	n := int64(math.Round(v * 16))
	full, rest, parts := n/16, n%16, int64(16)
	for rest > 0 && rest%2 == 0 {
		rest, parts = rest/2, parts/2
	}
	switch {
	case rest == 0:
		return sign + group(strconv.FormatInt(full, 10))
	case full == 0:
		return fmt.Sprintf("%s%d/%d", sign, rest, parts)
	}
	return fmt.Sprintf("%s%s %d/%d", sign, group(strconv.FormatInt(full, 10)), rest, parts)
}

// group parts thousands from five digits up by a narrow space, and writes a
// true minus; a rounded nothing has no sign.
func group(s string) string {
	body, negative := strings.CutPrefix(s, "-")
	full, rest, point := strings.Cut(body, ".")
	if len(full) > 4 {
		var b strings.Builder
		for i, r := range full {
			if i > 0 && (len(full)-i)%3 == 0 {
				b.WriteString(thinSpace)
			}
			b.WriteRune(r)
		}
		full = b.String()
	}
	if point {
		full += "." + rest
	}
	if negative {
		full = minus + full
	}
	return tidySign(full)
}

// tidySign drops the minus of a nothing.
func tidySign(s string) string {
	if body, ok := strings.CutPrefix(s, minus); ok && strings.Trim(body, "0.") == "" {
		return body
	}
	return s
}

// singular writes one of a counted thing without its s.
func singular(number, unit string) string {
	if number != "1" {
		return unit
	}
	switch unit {
	case "sheets", "loads", "posts", "days", "jugs", "US cups", "metric cups", "US tons", "metric tons", "long tons":
		return strings.TrimSuffix(unit, "s")
	}
	if noun, count, ok := strings.Cut(unit, "s of "); ok { // reams of 480
		return noun + " of " + count
	}
	return unit
}
