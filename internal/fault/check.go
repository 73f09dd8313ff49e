package fault

import (
	"math"
	"slices"
	"strings"
)

// The checks of a request: each adds at most one fault, in one sentence that
// says what would be right. The ones that end in If take what may be left out.

// Inside demands a number in a closed range.
func (l *List) Inside(field string, v, low, high float64, unit string) {
	if math.IsNaN(v) || v < low || v > high {
		l.Add(OutOfRange(field, "It must be from %.6g to %.6g %s; this says %.6g.", low, high, unit, v))
	}
}

// InsideIf is Inside where a number is given.
func (l *List) InsideIf(field string, v *float64, low, high float64, unit string) {
	if v != nil {
		l.Inside(field, *v, low, high, unit)
	}
}

// WholeIf demands a whole number in a closed range where one is given.
func (l *List) WholeIf(field string, v *int, low, high int) {
	if v != nil && (*v < low || *v > high) {
		l.Add(OutOfRange(field, "It must be a whole number from %d to %d; this says %d.", low, high, *v))
	}
}

// OneOf demands one of some words; an empty one says nothing.
func (l *List) OneOf(field, v string, words []string) {
	if v != "" && !slices.Contains(words, v) {
		l.Add(Invalid(field, "It must be one of %s; this says %q.", strings.Join(words, ", "), v))
	}
}
