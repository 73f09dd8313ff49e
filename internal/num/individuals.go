package num

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// The mean range of two normal values, and where three of its standard
// deviations lie above it, in standard deviations and in mean ranges: the
// constants d2 and D4 of a sample of two.
var (
	rangeOfTwo  = 2 / math.Sqrt(math.Pi)
	rangeMostOf = 1 + 3*math.Sqrt(2-4/math.Pi)/(2/math.Sqrt(math.Pi))
)

// Individuals is what single values, one after another, do when nothing but
// chance moves them: the limits of a chart of them and of their moving ranges.
// Sigma comes from the step from each value to the next, so that a slow drift
// does not widen the limits that are to show it.
type Individuals struct {
	Centre, Sigma float64
	Low, High     float64 // three sigma either way
	Range         float64 // the mean step
	RangeMost     float64 // the largest step that chance makes
}

// NewIndividuals takes values in the order in which they came; two at the least.
// Faults: ErrFew.
func NewIndividuals(values []float64) (Individuals, error) {
	if len(values) < 2 {
		return Individuals{}, ErrFew
	}
	steps := make([]float64, len(values)-1)
	floats.SubTo(steps, values[1:], values[:len(values)-1])
	for i, s := range steps {
		steps[i] = math.Abs(s)
	}
	c := Individuals{Centre: stat.Mean(values, nil), Range: stat.Mean(steps, nil)}
	c.Sigma = c.Range / rangeOfTwo
	c.Low, c.High = c.Centre-3*c.Sigma, c.Centre+3*c.Sigma
	c.RangeMost = c.Range * rangeMostOf
	return c, nil
}
