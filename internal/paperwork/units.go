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

func (s system) mass(g float64) string         { return s.show(g, "g") }
func (s system) litres(l float64) string       { return s.show(l, "L") }
func (s system) millilitres(ml float64) string { return s.show(ml, "mL") }

// sides prints two sides with their unit.
func (s system) sides(long, short float64) string {
	a, _ := measure.Show(long, "mm", s.System)
	b, unit := measure.Show(short, "mm", s.System)
	return a + " × " + b + " " + unit
}

// massUnit and lengthUnit are the units of the blanks.
func (s system) massUnit() string {
	if s.System == measure.US {
		return "oz"
	}
	return "g"
}

func (s system) lengthUnit() string {
	if s.System == measure.US {
		return "in"
	}
	return "mm"
}

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
		return duration(least)
	case least <= 0:
		return "up to " + duration(most)
	}
	from, to := duration(least), duration(most)
	if from == to {
		return to
	}
	if first, unit, _ := strings.Cut(from, " "); strings.HasSuffix(to, " "+unit) && strings.Count(to, " ") == 1 {
		from = first
	}
	return from + "–" + to
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
