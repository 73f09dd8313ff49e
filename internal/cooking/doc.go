// Package cooking models the raw-fibre shop: alkali by mass on dry fibre, the
// liquor and its pH, what altitude and a simmer below the boil cost in time,
// rinsing and waste, what a harvest yields, and how long wet pulp keeps.
//
// Standing assumptions: an open pot near the boil; alkali weighed, never
// spooned; water is the only solvent; the pH is that of the liquor before
// fibre takes alkali out of it. Sources: docs/models/cooking.md. Missing: a law
// of yield against alkali and time (yields go by fibre and by the studio's own
// cooks), how fast fibre uses the alkali up, pressure pots, bleaching.
//
// What a wrong step does to a person stands beside the act, as a fault where
// it must not be done and as a Caution where it may. Local rules, the maker's
// data sheet and licensed practice go first.
package cooking

import "vatside/internal/measure"

const (
	// kelvin is 0 °C on the absolute scale, exact (source: definition).
	kelvin = 273.15
	// waterDensity is kilograms in a litre of water at 25 °C; ± 0.003 from 15
	// to 30 °C (source: definition).
	waterDensity = 0.997
)

// Ranges of what a pot in a studio can be.
const (
	leastDry measure.Mass = 0.1 // g; a trial in a jar
	mostDry  measure.Mass = 1e6 // g; a tonne

	// LeastLiquor and MostLiquor bound the litres of liquor to a kilogram of
	// dry fibre: at less nothing is covered, and no recipe asks for more.
	LeastLiquor measure.Number = 1
	MostLiquor  measure.Number = 200
	// UsualLiquor is the litres of liquor to a kilogram of dry fibre; 12 to 20
	// in recipes (source: cooking-bark-sheet).
	UsualLiquor measure.Number = 15.6

	// MostCharge is more alkali on dry fibre than any recipe asks for, washing
	// soda crystals included.
	MostCharge measure.Dose = 1.5

	coldest measure.Temperature = 0
	hottest measure.Temperature = 100
)

// PH is the acidity of water: minus the logarithm of the activity of its
// hydrogen ions.
type PH float64

// Unit returns "": pH has none.
func (PH) Unit() string { return "" }

// Strength is grams of something dissolved in a litre.
type Strength float64

// Unit returns the unit the type is stated in.
func (Strength) Unit() string { return "g/L" }
