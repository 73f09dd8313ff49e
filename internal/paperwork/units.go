package paperwork

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is what the card's numbers are read in.
type System int

// The two systems.
const (
	Metric System = iota
	US
)

// Exact definitions: avoirdupois ounce, US fluid ounce, inch (source: definition).
const (
	gramsPerOunce = 28.349523125
	mlPerFluidOz  = 29.5735295625
	mmPerInch     = 25.4
)

// number prints v with so many decimals, without a trailing ".0".
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// three prints v to three significant figures or to the whole, whichever is
// finer.
func three(v float64) string {
	switch a := math.Abs(v); {
	case a >= 100 || a == 0:
		return number(v, 0)
	case a >= 10:
		return number(v, 1)
	default:
		return number(v, 2)
	}
}

func (s System) mass(g float64) string {
	if s == US {
		return three(g/gramsPerOunce) + " oz"
	}
	return three(g) + " g"
}

func (s System) massUnit() string {
	if s == US {
		return "oz"
	}
	return "g"
}

// litres prints a volume of a vat or a drain.
func (s System) litres(l float64) string {
	if s == US {
		return three(l*1000/mlPerFluidOz/128) + " gal"
	}
	return three(l) + " L"
}

// millilitres prints a volume that is measured out in a jug.
func (s System) millilitres(ml float64) string {
	if s == US {
		return three(ml/mlPerFluidOz) + " fl oz"
	}
	return number(ml, 0) + " mL"
}

// length prints a side without its unit.
func (s System) length(mm float64) string {
	if s == US {
		return number(mm/mmPerInch, 2)
	}
	return number(mm, 1)
}

func (s System) lengthUnit() string {
	if s == US {
		return "in"
	}
	return "mm"
}

// String returns the system's name as the card prints it.
func (s System) String() string {
	if s == US {
		return "US"
	}
	return "metric"
}

// hours prints a time given in hours.
func hours(h float64) string {
	switch {
	case h >= 48:
		return number(h/24, 1) + " days"
	case h >= 1:
		return number(h, 1) + " h"
	default:
		return number(h*60, 0) + " min"
	}
}

// hoursBetween prints a wait from least to most.
func hoursBetween(least, most float64) string {
	switch {
	case most <= 0 && least <= 0:
		return ""
	case most <= least:
		return hours(least)
	case least <= 0:
		return "up to " + hours(most)
	}
	a, b := hours(least), hours(most)
	if first, unit, _ := strings.Cut(a, " "); strings.HasSuffix(b, " "+unit) {
		a = first
	}
	return a + "–" + b
}

// minutes prints hands-on time.
func minutes(m float64) string {
	if m <= 0 {
		return ""
	}
	if m < 100 {
		return number(m, 0) + " min"
	}
	whole := math.Round(m/5) * 5
	h, rest := math.Floor(whole/60), math.Mod(whole, 60)
	if rest == 0 {
		return number(h, 0) + " h"
	}
	return fmt.Sprintf("%s h %s min", number(h, 0), number(rest, 0))
}

// between prints a band with its dash.
func between(low, high string) string {
	if low == high {
		return ""
	}
	return low + "–" + high
}

// quarters returns jugs as whole jugs and quarters, to the nearest quarter.
func quarters(jugs float64) (whole, quarter int) {
	q := int(math.Round(jugs * 4))
	return q / 4, q % 4
}

// jugs prints jugs to the nearest quarter, with the word.
func jugs(n float64) string {
	whole, quarter := quarters(n)
	word := "jugs"
	if whole == 0 || whole == 1 && quarter == 0 {
		word = "jug"
	}
	switch {
	case whole == 0 && quarter == 0:
		return "less than ¼ jug"
	case quarter == 0:
		return fmt.Sprintf("%d %s", whole, word)
	case whole == 0:
		return fraction(quarter) + " " + word
	}
	return fmt.Sprintf("%d %s %s", whole, fraction(quarter), word)
}

func fraction(quarter int) string { return [...]string{"", "¼", "½", "¾"}[quarter] }
