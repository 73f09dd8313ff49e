package part

import (
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
)

// Speech is how a reader wants numbers said. It changes words only: nothing is
// computed from it.
type Speech struct {
	System   measure.System
	Currency string // ISO 4217 code of the studio
}

// US reports whether the reader reads US units.
func (s Speech) US() bool { return s.System == measure.US }

// Show says a value in the reader's units: the number and its unit apart, so
// that the page can set them in two sizes.
func (s Speech) Show(v float64, unit string) (number, u string) {
	number, u = measure.Show(v, unit, s.System)
	return number, s.unit(u)
}

// One says a value and its unit in one piece.
func (s Speech) One(v float64, unit string) string {
	n, u := s.Show(v, unit)
	return join(n, u)
}

// Span says a band: "370–460 g".
func (s Speech) Span(low, high float64, unit string) string {
	n, u := measure.ShowBand(low, high, unit, s.System)
	return join(n, s.unit(u))
}

// unit says the studio's currency where a figure is money.
func (s Speech) unit(u string) string {
	if u == "money" {
		return s.Currency
	}
	return u
}

func join(n, u string) string {
	if u == "" {
		return n
	}
	if u == "%" {
		return n + "\u202f%"
	}
	return n + "\u00a0" + u
}

// bare are the units of bare numbers, metric and US, of what forms ask for; the
// readings of both are compared under test.
var bare = map[measure.Kind][2]string{
	measure.OfMass: {"g", "oz"}, measure.OfLength: {"mm", "in"}, measure.OfVolume: {"L", "US gal"}, measure.OfSmallVolume: {"mL", "US fl oz"},
	measure.OfConsistency: {"g/L", "oz/US gal"}, measure.OfForce: {"kN", "US tons"}, measure.OfAirflow: {"m³/s", "cfm"},
	measure.OfTemperature: {"°C", "°F"}, measure.OfAltitude: {"m", "ft"},
}

// Bare is the unit a bare number is taken in; "" where it is the same in both
// systems.
func (s Speech) Bare(kind measure.Kind) string {
	if s.US() {
		return bare[kind][1]
	}
	return bare[kind][0]
}

// Read reads a quantity as typed; a number without a unit is taken in the
// reader's. The fault belongs to the field.
func (s Speech) Read(field, typed string, kind measure.Kind) (float64, error) {
	v, err := measure.Parse(kind, typed, s.System)
	if err != nil {
		return 0, fault.Invalid(field, "%s", fault.All(err)[0].Text)
	}
	return v, nil
}

// Count reads a whole number.
func Count(field, typed string, least, most int, what string) (int, error) {
	text := strings.Join(strings.Fields(typed), "")
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, fault.Invalid(field, "write how many %s as a whole number, such as 50", what)
	}
	if n < least || n > most {
		return 0, fault.OutOfRange(field, "between %d and %d %s, not %d", least, most, what, n)
	}
	return n, nil
}

// UsualGood is how many good sheets a paper is thought of for where nobody has
// asked for any; ours: a day at the vat.
const UsualGood = 50

// GoodSheets reads how many good sheets are wanted, as many as a plan is made
// for.
func GoodSheets(field, typed string) (int, error) {
	return Count(field, typed, 1, plan.MostGood, "good sheets")
}

// plain writes a number without a unit, three figures that count.
func plain(v float64) string {
	n, _ := measure.Show(v, "", measure.Metric)
	return n
}

// RestsOn says in plain words what a figure rests on.
func RestsOn(g source.Grade) string {
	switch g {
	case source.Standard:
		return "arithmetic alone"
	case source.Measured:
		return "what you measured"
	case source.Paper:
		return "a published study"
	case source.Handbook:
		return "the handbook"
	case source.Secondary:
		return "a second-hand report"
	case source.Practice:
		return "common practice"
	default:
		return "memory"
	}
}

// Range says two bounds in full, without rounding them to the width between.
func (s Speech) Range(low, high float64, unit string) string {
	a, ua := s.Show(low, unit)
	b, ub := s.Show(high, unit)
	if ua == ub {
		return a + "–" + join(b, ub)
	}
	return join(a, ua) + "–" + join(b, ub)
}
