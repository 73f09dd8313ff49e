package belief

import (
	"math"
	"strconv"
)

func times(n int) string {
	if n == 2 {
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

// sqrt1m returns √(1 − r²), what is left of a unit spread beside a correlation r.
func sqrt1m(r float64) float64 { return math.Sqrt(1 - r*r) }
