package furnish

import (
	"math"
	"slices"
	"strconv"

	"vatside/internal/measure"
)

// Requirement is what a standard of permanent paper asks, and how far this
// program can say anything on it. No paper made by hand is called permanent
// here: only a laboratory can.
type Requirement struct {
	Standard, Quantity string
	Low, High          float64 // infinite where there is no such limit
	Unit               string
	Here               string // what is reckoned or measured here, and what is not
}

// Requirements returns what the standards ask (source: permanence-comparison).
func Requirements() []Requirement { return slices.Clone(load().requirements) }

func (t *table) addRequirement(r []string) error {
	limit := func(text string, none int) (float64, error) {
		if text == "" {
			return math.Inf(none), nil
		}
		return strconv.ParseFloat(text, 64)
	}
	low, err := limit(r[2], -1)
	if err != nil {
		return err
	}
	high, err := limit(r[3], 1)
	if err != nil {
		return err
	}
	t.requirements = append(t.requirements, Requirement{r[0], r[1], low, high, r[4], r[5]})
	return nil
}

// What the tests of a reserve can see at all, as chalk over paper (source:
// tappi-t553). A sheet that does not fizz may still hold its 2 %.
const (
	LeastTitrated = measure.Share(0.02)
	LeastFizzing  = measure.Share(0.05) // under a drop of acid
)

// The cold extract of which the acidity is read (source: iso-6588-1). It is
// not comparable with a reading on the surface (tappi-t529).
const (
	ExtractPaper = measure.Mass(2)
	ExtractWater = measure.Milliliters(100)
	ExtractHours = measure.Hours(1)
)

// Tear is a tearing resistance in millinewtons.
type Tear float64

// Unit returns the unit the type is stated in.
func (Tear) Unit() string { return "mN" }

// TearAsked returns the tearing resistance that ISO 9706 asks of a grammage.
//
//	F = 6·g − 70, and 350 from 70 g/m² on
//
// Contract:
//
//   - Quantity: tearing resistance, mN, in either direction
//   - Inputs: g grammage, g/m²
//   - Valid: 25 to 3000 g/m²; outside: fault.OutOfRange
//   - Assumes: conditioned paper
//   - Error: exact
//   - Source: permanence-comparison
//   - Checked: published/check-permanence.csv
func TearAsked(g measure.GrammageConditioned) (Tear, error) {
	if err := measure.Inside("", "the grammage", g, 25, 3000, "g/m²"); err != nil {
		return 0, err
	}
	return Tear(min(350, 6*float64(g)-70)), nil
}
