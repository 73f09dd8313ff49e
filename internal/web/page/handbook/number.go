package handbook

import (
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// Number is a value of the handbook's tables with its band, in the reader's
// units, and what it rests on.
type Number struct {
	Name, Value, Band, Note string
	Source                  part.Cited
}

// number tells a value; it reports false where the table has none.
func number(s part.Speech, name string, v source.Value, unit string) (Number, bool) {
	if !v.Known() {
		return Number{}, false
	}
	low, mid, high, unit := inUnits(s, v, unit)
	say := func(a float64) string { return strconv.FormatFloat(a, 'g', -1, 64) }
	n := Number{Name: name, Value: said(mid, unit), Note: part.Upper(v.Note), Source: part.Cite(v.Source, v.Grade)}
	if say(low) != say(high) {
		n.Band = say(low) + "–" + said(high, unit)
	}
	return n, true
}

// inUnits turns a value into the unit that the reader reads it in, rounded for
// the eye. Lengths of fibre and prices by the pound need finer units than sheets
// do.
func inUnits(s part.Speech, v source.Value, unit string) (low, mid, high float64, shown string) {
	factor, shown := 1.0, unit
	us := s.System == measure.US
	switch unit {
	case "mm":
		if us {
			factor, shown = converted("mm", "in"), "in"
		}
	case "USD/kg":
		if us {
			factor, shown = converted("lb", "kg"), "USD/lb"
		}
	case "g/L":
		if us {
			factor, shown = converted("g/L", "oz/US gal"), "oz/US gal"
		}
	}
	return round(v.Low * factor), round(v.Mid * factor), round(v.High * factor), shown
}

// converted is one of a unit in another; 1 where the program knows neither,
// which a test excludes.
func converted(from, to string) float64 {
	c, err := measure.Convert(1, from, to, nil)
	if err != nil {
		return 1
	}
	return c.Value
}

// round keeps three digits that count.
func round(v float64) float64 { return measure.Significant(v, 3) }

// said writes a number with its unit.
func said(v float64, unit string) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	switch {
	case unit == "":
		return text
	case unit[0] == '%':
		return text + "\u202f" + unit
	}
	return text + "\u00a0" + unit
}
