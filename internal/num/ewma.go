package num

import (
	"errors"
	"math"
)

// ErrLimits is that no limits follow from what was said.
var ErrLimits = errors.New("num: limits need a weight up to 1, and a sigma and a width above 0")

// The weight of the newest value and the width of the limits that a Weighted is
// drawn with, unless there is reason for others: with known centre and sigma,
// chance alone then leaves the limits once in about 240 values, and a lasting
// shift by one sigma is seen after about nine. Ours, among those usual.
const (
	UsualWeight = 0.2
	UsualWidth  = 2.7
)

// Weighted is a chart of exponentially weighted moving averages: each value
// counts, the older the less, so that a small lasting shift gathers until it
// leaves the limits, where single values hide it.
//
//	z(i) = λ·x(i) + (1 − λ)·z(i−1),  z(0) the centre
//	limits(i) = centre ± L·σ·√(λ/(2 − λ)·(1 − (1 − λ)^(2i)))
type Weighted struct {
	Centre    float64
	Values    []float64
	Averages  []float64
	Low, High []float64 // at each average: they widen as fewer values stand behind it
	Out       []int     // places of the averages outside, from 0
}

// NewWeighted charts values in the order in which they came, about the centre
// and with the sigma that they have when only chance moves them. Faults: ErrFew
// where there is no value, ErrLimits where a weight does not lie between 0 and
// 1, or a sigma or width is no positive number.
func NewWeighted(values []float64, centre, sigma, weight, width float64) (Weighted, error) {
	if len(values) == 0 {
		return Weighted{}, ErrFew
	}
	if !(weight > 0 && weight <= 1) || !(sigma > 0 && !math.IsInf(sigma, 0)) || !(width > 0 && !math.IsInf(width, 0)) || math.IsNaN(centre) || math.IsInf(centre, 0) {
		return Weighted{}, ErrLimits
	}
	n := len(values)
	c := Weighted{Centre: centre, Values: values, Averages: make([]float64, n), Low: make([]float64, n), High: make([]float64, n)}
	z, left := centre, 1.0 // what is left of the square of the start's weight
	for i, x := range values {
		z += weight * (x - z)
		left *= (1 - weight) * (1 - weight)
		half := width * sigma * math.Sqrt(weight/(2-weight)*(1-left))
		c.Averages[i], c.Low[i], c.High[i] = z, centre-half, centre+half
		if math.Abs(z-centre) > half {
			c.Out = append(c.Out, i)
		}
	}
	return c, nil
}

// Began is from which place on, up to the one given, the values most likely lie
// off the centre all alike: of all beginnings it makes the sum of what they lie
// off, squared and over their number, the largest.
func (c Weighted) Began(at int) int {
	best, most, sum := at, -1.0, 0.0
	for i := at; i >= 0; i-- {
		sum += c.Values[i] - c.Centre
		if by := sum * sum / float64(at-i+1); by > most {
			best, most = i, by
		}
	}
	return best
}
