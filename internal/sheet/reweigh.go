package sheet

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Branch is where paper came from to the moisture it has.
type Branch int

// The branches of sorption. A sheet dried for the first time is on the drying
// one; a sheet that was drier since, in an oven or a heated winter room, is on
// the wetting one.
const (
	DryingDown Branch = iota
	WettingUp
)

// HistoryError is what not knowing the branch leaves, as a share of the mass:
// half of what lies between the branches at 50 % RH, from memory of the ratio.
const HistoryError measure.Share = 0.005

// MoistureOn returns the moisture of paper in a room on either branch.
//
//	M as MoistureAt drying down, 0.85 of it wetting up
//
// Contract:
//
//   - Quantity: moisture on dry basis, fraction
//   - Inputs: a relative humidity, fraction; the branch
//   - Valid: 0 ≤ a ≤ 0.9; outside: fault.OutOfRange; no branch: fault.Invalid
//   - Assumes: as MoistureAt; the same ratio at every humidity
//   - Error: as MoistureAt
//   - Source: as MoistureAt: [sorption-rhim-lee-2009]; ratio from memory; that they differ: [sorption-cotton-urquhart]
//   - Checked: published/sorption-curve.csv; published/textile-regain.csv, cotton, flax and hemp within a point of the wetting branch; drying down never holds less
func MoistureOn(rh measure.RelHumidity, branch Branch) (measure.MoistureDry, error) {
	m, err := MoistureAt(rh)
	switch {
	case err != nil || branch == DryingDown:
		return m, err
	case branch == WettingUp:
		return m * adsorbedShare, nil
	}
	return 0, fault.Invalid("", "Paper is either drying down or wetting up.")
}

// Reweighed returns what a sheet weighed in one room weighs in another.
//
//	m₂ = m₁ · (1 + M(a₂)) / (1 + M(a₁))
//
// Contract:
//
//   - Quantity: mass in the second room, g
//   - Inputs: m₁ mass in the first room, g; a₁, a₂ relative humidity of the rooms, fraction; the branch
//   - Valid: 0 ≤ m₁ ≤ 100 kg; 0 ≤ a ≤ 0.9; outside: fault.OutOfRange
//   - Assumes: the sheet has lain in each room for a night; one branch for both, no scanning between them
//   - Error: HistoryError, 0.5 % of the mass, when the branch is not known; a meter good to 3 points adds 0.3 %
//   - Source: derived, docs/models/sheet.md; the curve as MoistureOn: gab-isotherm
//   - Checked: published/sorption-curve.csv, mass factors to 50 % RH; there and back is the same
func Reweighed(m measure.Mass, from, to measure.RelHumidity, branch Branch) (measure.Mass, error) {
	there, err := MoistureOn(from, branch)
	if err != nil {
		return 0, err
	}
	here, err := MoistureOn(to, branch)
	if err != nil {
		return 0, err
	}
	dry, err := DrySolids(m, there)
	return dry * measure.Mass(1+float64(here)), err
}
