package furnish

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Alkalinity is moles of acid that a kilogram of paper can take up: the alkaline
// reserve, whatever the alkali.
type Alkalinity float64

// Unit returns the unit the type is stated in.
func (Alkalinity) Unit() string { return "mol/kg" }

// Molarity is moles in a litre of a titrating solution.
type Molarity float64

// Unit returns the unit the type is stated in.
func (Molarity) Unit() string { return "mol/L" }

const (
	// chalkMolar is grams of calcium carbonate in a mole; ± 0.005 (source: definition).
	chalkMolar = 100.086
	// chalkTakes is moles of acid that a mole of carbonate takes up, exact.
	chalkTakes = 2
	// chalkAlkalinity is what pure chalk takes up, mol/kg.
	chalkAlkalinity = 1000 * chalkTakes / chalkMolar
)

// mostReserve is more chalk than any paper holds.
const mostReserve = measure.Share(0.4)

// ReserveDose returns the chalk to add so that a share of it is in the finished
// paper.
//
//	d = w / ((1 − w) · r)
//
// Contract:
//
//   - Quantity: dose on bone-dry fibre, fraction
//   - Inputs: w wanted share of chalk in the bone-dry paper; r share of chalk retained
//   - Valid: 0 ≤ w ≤ 0.4; 0.05 ≤ r ≤ 1; outside: fault.OutOfRange. The answer may pass 1
//   - Assumes: fibre and chalk only; no acid eats chalk before the sheet is dry
//   - Error: exact for the model; r is uncertain by 15 points until a sheet is ashed. Counted on fibre instead of on paper, as recipes do, the dose is smaller by the share w
//   - Source: derived, docs/models/furnish.md
//   - Checked: published/check-permanence.csv; inverse of ReserveOf
func ReserveDose(wanted, retained measure.Share) (measure.Dose, error) {
	if err := fault.First(
		checkShare("the share of chalk in the paper", wanted, 0, mostReserve),
		checkShare("the share retained", retained, 0.05, 1),
	); err != nil {
		return 0, err
	}
	return measure.Dose(float64(wanted) / ((1 - float64(wanted)) * float64(retained))), nil
}

// ReserveOf returns the share of chalk in the finished paper.
//
//	w = d·r / (1 + d·r)
//
// Contract:
//
//   - Quantity: chalk over bone-dry paper, fraction
//   - Inputs: d dose of chalk on bone-dry fibre; r share of it retained
//   - Valid: 0 ≤ d ≤ 15; 0 ≤ r ≤ 1; outside: fault.OutOfRange
//   - Assumes: fibre and chalk only
//   - Error: exact for the model
//   - Source: derived, docs/models/furnish.md
//   - Checked: property: inverse of ReserveDose
func ReserveOf(dose measure.Dose, retained measure.Share) (measure.Share, error) {
	if err := fault.First(
		checkShare("the dose of chalk on fibre", dose, 0, 15),
		checkShare("the share retained", retained, 0, 1),
	); err != nil {
		return 0, err
	}
	kept := float64(dose) * float64(retained)
	return measure.Share(kept / (1 + kept)), nil
}

// AlkalinityOfChalk returns the reserve that a share of chalk is.
//
//	R = 2 · 1000 · w / 100.086
//
// Contract:
//
//   - Quantity: alkaline reserve, mol acid per kg paper
//   - Inputs: w chalk over paper, fraction
//   - Valid: 0 ≤ w ≤ 1; outside: fault.OutOfRange
//   - Assumes: pure calcium carbonate, two moles of acid to the mole
//   - Error: exact to five digits
//   - Source: astm-d4988, definition
//   - Checked: published/check-permanence.csv; inverse of ChalkOfAlkalinity
func AlkalinityOfChalk(w measure.Share) (Alkalinity, error) {
	if err := checkShare("the share of chalk in the paper", w, 0, 1); err != nil {
		return 0, err
	}
	return Alkalinity(chalkAlkalinity * float64(w)), nil
}

// ChalkOfAlkalinity returns the chalk that would give a reserve.
//
//	w = R · 100.086 / (2 · 1000)
//
// Contract:
//
//   - Quantity: chalk over paper, fraction
//   - Inputs: R alkaline reserve, mol/kg
//   - Valid: 0 ≤ R ≤ 19.9 mol/kg, which is pure chalk; outside: fault.OutOfRange
//   - Assumes: the reserve is stated as calcium carbonate, whatever it is
//   - Error: exact to five digits
//   - Source: tappi-t553, definition
//   - Checked: published/check-permanence.csv; inverse of AlkalinityOfChalk
func ChalkOfAlkalinity(r Alkalinity) (measure.Share, error) {
	if err := measure.Inside("", "the alkaline reserve", r, 0, chalkAlkalinity, "mol/kg"); err != nil {
		return 0, err
	}
	return measure.Share(float64(r) / chalkAlkalinity), nil
}

// Titration is a weighed sample of paper boiled or soaked in a measured volume
// of acid, and the base that the acid left over took.
type Titration struct {
	Paper measure.Mass // bone-dry
	Acid  measure.Milliliters
	AcidM Molarity // of an acid that gives one proton, such as hydrochloric
	Base  measure.Milliliters
	BaseM Molarity // of a base that takes one, such as lye
}

// AlkalinityFromTitration returns the alkaline reserve by back titration.
//
//	R = (V_acid·c_acid − V_base·c_base) / m
//
// Contract:
//
//   - Quantity: alkaline reserve, mol/kg
//   - Inputs: m bone-dry paper, g; V_acid, V_base mL; c_acid, c_base mol/L
//   - Valid: 0.01 ≤ m ≤ 1000 g; volumes 0 to 1000 mL; 0 < c ≤ 1 mol/L; the base not more than the acid; outside: fault.OutOfRange
//   - Assumes: every grain of alkali was reached by the acid, carbon dioxide driven off
//   - Error: with 1 g of paper and 0.05 mL on a burette 0.005 mol/kg
//   - Source: tappi-t553
//   - Checked: published/check-permanence.csv
func AlkalinityFromTitration(t Titration) (Alkalinity, error) {
	if err := fault.First(
		measure.Inside("", "the paper", t.Paper, 0.01, 1000, "g"),
		measure.Inside("", "the acid", t.Acid, 0, 1000, "mL"),
		measure.Inside("", "the base", t.Base, 0, 1000, "mL"),
		measure.Inside("", "the strength of the acid", t.AcidM, 1e-4, 1, "mol/L"),
		measure.Inside("", "the strength of the base", t.BaseM, 1e-4, 1, "mol/L"),
	); err != nil {
		return 0, err
	}
	// mL · mol/L over g is mol/kg
	acid, base := float64(t.Acid)*float64(t.AcidM), float64(t.Base)*float64(t.BaseM)
	if base > acid {
		return 0, fault.OutOfRange("", "The base must be between 0 and the %.4g mmol of acid put in; this says %.4g mmol, so the paper is acid or a reading is wrong.", acid, base)
	}
	return Alkalinity((acid - base) / float64(t.Paper)), nil
}
