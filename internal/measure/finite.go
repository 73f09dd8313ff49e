package measure

import (
	"math"
	"strconv"

	"vatside/internal/fault"
)

// counted is a quantity, or a count of things.
type counted interface{ ~int | ~float64 }

// Finite reports whether a quantity is a number at all: neither NaN nor
// infinite.
func Finite[T counted](v T) bool { return !math.IsNaN(float64(v)) && !math.IsInf(float64(v), 0) }

// Within reports whether v is a number from low to high, both included.
func Within[T counted](v, low, high T) bool { return Finite(v) && v >= low && v <= high }

// Inside is Within as a check: the fault belongs to field, and its sentence
// says what the number is, carries the range with its unit, and repeats it.
func Inside[T counted](field, what string, v, low, high T, unit string) error {
	if Within(v, low, high) {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	plain := func(v T) string { return strconv.FormatFloat(float64(v), 'f', -1, 64) }
	return fault.OutOfRange(field, "%s must be between %s and %s%s; this says %.6g", what, plain(low), plain(high), unit, float64(v))
}
