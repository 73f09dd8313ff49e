package beating

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Limits of what is taken for a beater: from a kitchen blender to the
// full-size Hollander of a mill (half a tonne of fibre; modern-paper-making).
const (
	leastMass  measure.Mass   = 0.1       // g
	mostMass   measure.Mass   = 1_000_000 // g
	leastWater measure.Volume = 0.05      // L
	mostWater  measure.Volume = 50_000    // L
	mostLoads  measure.Loads  = 10_000
)

// slack keeps a division that is whole on paper from being rounded up: shares
// and percentages before it leave errors of a few parts in 10^15, no scale
// weighs to one in 10^9.
const slack = 1e-9

// Loads returns how many fillings of the beater a mass of fibre makes.
//
//	n = ⌈ fibre / rated ⌉
//
// Contract:
//
//   - Quantity: fillings of the beater, a whole number
//   - Inputs: fibre to be beaten, bone-dry g; rated, the most bone-dry fibre the beater takes, g
//   - Valid: both 0.1 to 1,000,000 g, at most 10,000 loads; outside: fault.OutOfRange
//   - Assumes: the rating holds for this fibre; long raw fibre takes less (Wraps)
//   - Error: exact
//   - Source: derived, docs/models/beating.md
//   - Checked: worked by hand; property: loads × rated ≥ fibre > (loads − 1) × rated
func Loads(fibre, rated measure.Mass) (measure.Loads, error) {
	if err := measure.Inside("fibre", "the fibre to be beaten", fibre, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	if err := measure.Inside("rated", "the beater's rating", rated, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	n := measure.Loads(math.Max(1, math.Ceil(float64(fibre)/float64(rated)*(1-slack))))
	if n > mostLoads {
		return 0, fault.OutOfRange("rated", "%g g of fibre would take more than %g loads of a beater rated %g g", float64(fibre), float64(mostLoads), float64(rated))
	}
	return n, nil
}

// LoadEach returns the fibre in each of so many equal loads. Equal loads are
// beaten alike: a last small load is cut more than brushed.
//
//	load = fibre / n
//
// Contract:
//
//   - Quantity: bone-dry fibre in one load, g
//   - Inputs: fibre to be beaten, bone-dry g; loads, a whole number
//   - Valid: fibre 0.1 to 1,000,000 g; loads 1 to 10,000 and whole; outside: fault.OutOfRange
//   - Assumes: all loads are made equal
//   - Error: exact
//   - Source: derived; that thin stock is cut more: modern-paper-making
//   - Checked: worked by hand; property: loads × load = fibre, and never more than the rating
func LoadEach(fibre measure.Mass, loads measure.Loads) (measure.Mass, error) {
	if err := measure.Inside("fibre", "the fibre to be beaten", fibre, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	if err := measure.Inside("loads", "the number", loads, 1, mostLoads, "loads"); err != nil {
		return 0, err
	}
	if loads != measure.Loads(math.Trunc(float64(loads))) {
		return 0, fault.OutOfRange("loads", "the number of loads must be a whole number between 1 and %g", float64(mostLoads))
	}
	return fibre / measure.Mass(loads), nil
}

// Consistency returns how thick a load is.
//
//	c = fibre / water
//
// Contract:
//
//   - Quantity: bone-dry fibre per litre of stock, g/L (10 g/L is 1 %)
//   - Inputs: fibre, bone-dry g; water put in, L
//   - Valid: fibre 0.1 to 1,000,000 g; water 0.05 to 50,000 L; outside: fault.OutOfRange
//   - Assumes: a litre of stock is a litre of water
//   - Error: up to +3 % at 50 g/L, since the fibre takes room too
//   - Source: definition
//   - Checked: published/beater-loads.csv
func Consistency(fibre measure.Mass, water measure.Volume) (measure.Consistency, error) {
	if err := measure.Inside("fibre", "the fibre in the load", fibre, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	if err := measure.Inside("water", "the water of the beater", water, leastWater, mostWater, "L"); err != nil {
		return 0, err
	}
	return measure.Consistency(float64(fibre) / float64(water)), nil
}

// WaterFor returns the water for a load smaller than the rating, so that it is
// as thick as a full one.
//
//	V = water · load / rated
//
// Contract:
//
//   - Quantity: water to put in, L
//   - Inputs: load, bone-dry g; rated, the full load, bone-dry g; water of the full load, L
//   - Valid: load and rated 0.1 to 1,000,000 g, load not over rated; water 0.05 to 50,000 L; outside: fault.OutOfRange
//   - Assumes: the beater turns a smaller filling as well; check Underfilled
//   - Error: exact
//   - Source: derived, docs/models/beating.md
//   - Checked: worked by hand; property: the consistency is that of the full load
func WaterFor(load, rated measure.Mass, water measure.Volume) (measure.Volume, error) {
	if err := measure.Inside("load", "the load", load, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	if err := measure.Inside("rated", "the beater's rating", rated, leastMass, mostMass, "g"); err != nil {
		return 0, err
	}
	if err := measure.Inside("water", "the water of the beater", water, leastWater, mostWater, "L"); err != nil {
		return 0, err
	}
	if load > rated*(1+slack) {
		return 0, fault.OutOfRange("load", "a load of %.4g g is over the beater's rating of %.4g g: make more loads", float64(load), float64(rated))
	}
	return water * measure.Volume(float64(load)/float64(rated)), nil
}
