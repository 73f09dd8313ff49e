package ownfibre

import (
	"regexp"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// banded is one number, the two between which it lies, or all three, the middle
// first: 9, 6–12, 9 (6–12). A unit may follow each.
var banded = func() *regexp.Regexp {
	const number, to = `(\d+(?:[.,]\d+)*|\.\d+)\s*([^\d(),;–-]*?)\s*`, `(?:-|–|to|and)\s*`
	return regexp.MustCompile(`^(?:` + number + `[(,;]\s*` + number + to + number + `|` + number + `(?:` + to + number + `)?)$`)
}()

// read reads a value as it was typed. One number alone lies within as much of
// itself as the near fibre's does.
func (v value) read(s part.Speech, like source.Value, typed string) (fibre.Band, error) {
	if k := v.kind(); k == measure.OfNumber || k == measure.OfPercent {
		typed = strings.NewReplacer(v.Unit, "", v.Bare(), "").Replace(strings.ReplaceAll(typed, "cm3", "cm³"))
	}
	m := banded.FindStringSubmatch(strings.TrimSpace(strings.ReplaceAll(typed, ")", "")))
	if m == nil {
		return fibre.Band{}, fault.Invalid(v.field, "write one number, such as 9, or between what it lies, such as 6–12, or both, such as 9 (6–12)")
	}
	var numbers []float64
	unit := "" // the last one is that of all that have none
	for i := len(m) - 2; i > 0; i -= 2 {
		if m[i] == "" {
			continue
		}
		if m[i+1] != "" {
			unit = m[i+1]
		}
		n, err := s.Read(v.field, m[i]+" "+unit, v.kind())
		if err != nil {
			return fibre.Band{}, err
		}
		numbers = slices.Insert(numbers, 0, n)
	}
	switch len(numbers) {
	case 3:
		return fibre.Band{Low: numbers[1], Mid: numbers[0], High: numbers[2]}, nil
	case 2:
		return fibre.Band{Low: numbers[0], Mid: tidy((numbers[0] + numbers[1]) / 2), High: numbers[1]}, nil
	}
	if !like.Known() {
		return fibre.Band{}, fault.Invalid(v.field, "say between what it lies, such as 6–12: the near fibre has no number here, and so no width to go by")
	}
	return likewise(numbers[0], v.band(like)), nil
}

// likewise is a number with the width of another in parts of it.
func likewise(mid float64, like fibre.Band) fibre.Band {
	if like.Mid == 0 {
		return fibre.Band{Low: mid, Mid: mid, High: mid + like.High}
	}
	return fibre.Band{Low: min(mid, tidy(mid*like.Low/like.Mid)), Mid: mid, High: max(mid, tidy(mid*like.High/like.Mid))}
}

// tidy keeps three digits that count.
func tidy(x float64) float64 { return measure.Significant(x, 3) }
