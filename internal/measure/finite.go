package measure

import "math"

// Finite reports whether a quantity is a number at all: neither NaN nor
// infinite.
func Finite[T ~float64](v T) bool { return !math.IsNaN(float64(v)) && !math.IsInf(float64(v), 0) }

// Within reports whether v is a number from low to high, both included.
func Within[T ~float64](v, low, high T) bool { return Finite(v) && v >= low && v <= high }
