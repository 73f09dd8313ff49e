package paperwork

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"vatside/internal/measure"
)

// system prints quantities as one studio reads them.
type system struct{ measure.System }

// show prints a value with its unit.
func (s system) show(v float64, unit string) string {
	number, shown := measure.Show(v, unit, s.System)
	return join(" ", number, shown)
}

// band prints two ends with one unit, or nothing when they read alike.
func (s system) band(low, high float64, unit string) string {
	numbers, _ := measure.ShowBand(low, high, unit, s.System)
	if low == high || !strings.ContainsAny(numbers, "–t") { // "–" or "to"
		return ""
	}
	return numbers
}

const mlPerFluidOunce = 1000 * measure.Gallon / 128

// mass prints what is weighed on the studio's scale: whole grams, tenths
// under 100 g; in the US system pounds and ounces. It is finer than what is
// only read, so that the parts of a furnish add up.
func (s system) mass(g float64) string {
	if s.System != measure.US {
		if g < 99.95 {
			return fmt.Sprintf("%.1f g", g)
		}
		return fmt.Sprintf("%.0f g", g)
	}
	oz := g / measure.Ounce
	switch {
	case oz < 9.995:
		return fmt.Sprintf("%.2f oz", oz)
	case oz < 15.95:
		return fmt.Sprintf("%.1f oz", oz)
	}
	tenths := math.Round(oz * 10)
	pounds := math.Floor(tenths / 160)
	return fmt.Sprintf("%.0f lb %.1f oz", pounds, (tenths-160*pounds)/10)
}

// millilitres prints what is measured in a jug: whole millilitres, or fluid
// ounces.
func (s system) millilitres(ml float64) string {
	if s.System != measure.US {
		return fmt.Sprintf("%.0f mL", ml)
	}
	return fmt.Sprintf("%.1f fl oz", ml/mlPerFluidOunce)
}

func (s system) litres(l float64) string { return s.show(l, "L") }

// sides prints two sides with their unit.
func (s system) sides(long, short float64) string {
	a, _ := measure.Show(long, "mm", s.System)
	b, unit := measure.Show(short, "mm", s.System)
	return a + " × " + b + " " + unit
}

// bare is the unit of a blank.
func (s system) bare(metric, us string) string {
	if s.System == measure.US {
		return us
	}
	return metric
}

// massUnit and lengthUnit are the units of the blanks.
func (s system) massUnit() string { return s.bare("g", "oz") }

func (s system) lengthUnit() string { return s.bare("mm", "in") }

// name returns the system's name as the card prints it.
func (s system) name() string {
	if s.System == measure.US {
		return "US"
	}
	return "metric"
}

// number prints v with at most so many decimals, for shares and percentages.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// duration prints a time given in hours.
func duration(h float64) string { return measure.ShowDuration(measure.Minutes(h * 60)) }

// wait prints a waiting time from least to most, in hours.
func wait(least, most float64) string {
	switch {
	case most <= 0 && least <= 0:
		return ""
	case most <= least:
		return waited(least, least)
	case least <= 0:
		return "up to " + waited(most, most)
	}
	from, to := waited(least, least), waited(most, least)
	if from == to {
		return to
	}
	return span(from, to)
}

// waited prints hours, or days for a wait of some days whose least is a day
// or more.
func waited(h, least float64) string {
	switch {
	case h >= 72 && least >= 24 || h >= 96:
		return number(h/24, 1) + " days"
	case h >= 10:
		return number(h, 0) + " h"
	}
	return number(h, 1) + " h"
}

// handsOn prints minutes of work.
func handsOn(minutes float64) string {
	if minutes <= 0 {
		return ""
	}
	return measure.ShowDuration(measure.Minutes(minutes))
}

// split parts a printed value into its number and its unit.
func split(s string) (number, unit string) {
	i := strings.LastIndexAny(s, "0123456789") + 1
	return s[:i], strings.TrimSpace(s[i:])
}

// span prints two ends with one unit where they share it.
func span(from, to string) string {
	a, unitA := split(from)
	_, unitB := split(to)
	if unitA == unitB {
		return a + "–" + to
	}
	return from + " – " + to
}

// quarters returns an amount as wholes and quarters, to the nearest quarter.
func quarters(n float64) (whole, quarter int) {
	q := int(math.Round(n * 4))
	return q / 4, q % 4
}

// jugs prints jugs to the nearest quarter, with the word.
func jugs(n float64) string {
	whole, quarter := quarters(n)
	word := jugWord(whole, quarter)
	switch {
	case whole == 0 && quarter == 0:
		return "less than ¼ " + word
	case quarter == 0:
		return fmt.Sprintf("%d %s", whole, word)
	case whole == 0:
		return quarterSign(quarter) + " " + word
	}
	return fmt.Sprintf("%d %s %s", whole, quarterSign(quarter), word)
}

// jugWord is "jug" up to one of them.
func jugWord(whole, quarter int) string {
	if whole*4+quarter <= 4 {
		return "jug"
	}
	return "jugs"
}

func quarterSign(quarter int) string { return [...]string{"", "¼", "½", "¾"}[quarter] }
