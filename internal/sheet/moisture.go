package sheet

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Constants of the sorption curve. The monolayer is published for vegetable
// parchment; the two shape constants were chosen to give 5.5 % at 50 % RH and
// are from memory.
const (
	monolayer     = 0.0345 // g/g at 25 °C, [sorption-rhim-lee-2009]; ±0.004 between papers
	shapeC        = 15.0   // from memory, ±10
	shapeK        = 0.85   // from memory, ±0.05
	adsorbedShare = 0.85   // adsorption over desorption, from memory; ±0.05
)

// MoistureAt returns the moisture that paper drying down to a room holds there.
//
//	M = M0·C·K·a / ((1 − K·a)(1 − K·a + C·K·a)) / 0.85
//
// Contract:
//
//   - Quantity: moisture on dry basis, fraction, on the drying branch
//   - Inputs: a relative humidity, fraction
//   - Valid: 0 ≤ a ≤ 0.9; outside: fault.OutOfRange
//   - Assumes: near 23 °C; the sheet came from the wet side; no filler
//   - Error: about one point at 50 % RH between papers; half a point from its history
//   - Source: [sorption-rhim-lee-2009] for M0; shape constants and branch ratio from memory
//   - Checked: the curve's own printed values (3.14 to 10.45 % for 20 to 80 % RH before the branch ratio); monotone
func MoistureAt(rh measure.RelHumidity) (measure.MoistureDry, error) {
	if !measure.Within(rh, 0, 0.9) {
		return 0, fault.OutOfRange("", "Relative humidity must be between 0 and 90 %% for paper; this says %.4g %%.", float64(rh)*100)
	}
	return measure.MoistureDry(adsorbed(float64(rh)) / adsorbedShare), nil
}

// adsorbed is the isotherm of Guggenheim, Anderson and de Boer.
func adsorbed(a float64) float64 {
	k := shapeK * a
	return monolayer * shapeC * k / ((1 - k) * (1 - k + shapeC*k))
}

// WetBasis returns a dry-basis moisture on wet basis.
//
//	M_wet = M / (1 + M)
//
// Contract:
//
//   - Quantity: moisture on wet basis, fraction of total mass
//   - Inputs: M moisture on dry basis, fraction
//   - Valid: 0 ≤ M ≤ 20; outside: fault.OutOfRange
//   - Assumes: nothing
//   - Error: exact
//   - Source: definition
//   - Checked: check values on moisture bases; inverse of DryBasis
func WetBasis(m measure.MoistureDry) (measure.MoistureWet, error) {
	if !measure.Within(m, 0, 20) {
		return 0, fault.OutOfRange("", "Moisture on dry basis must be between 0 and 2,000 %%; this says %.4g %%.", float64(m)*100)
	}
	return measure.MoistureWet(float64(m) / (1 + float64(m))), nil
}

// DryBasis returns a wet-basis moisture on dry basis.
//
//	M = M_wet / (1 − M_wet)
//
// Contract:
//
//   - Quantity: moisture on dry basis, fraction of bone-dry mass
//   - Inputs: M_wet moisture on wet basis, fraction
//   - Valid: 0 ≤ M_wet ≤ 0.95; outside: fault.OutOfRange
//   - Assumes: nothing
//   - Error: exact
//   - Source: definition
//   - Checked: check values on moisture bases; inverse of WetBasis
func DryBasis(m measure.MoistureWet) (measure.MoistureDry, error) {
	if !measure.Within(m, 0, 0.95) {
		return 0, fault.OutOfRange("", "Moisture on wet basis must be between 0 and 95 %%; this says %.4g %%.", float64(m)*100)
	}
	return measure.MoistureDry(float64(m) / (1 - float64(m))), nil
}
