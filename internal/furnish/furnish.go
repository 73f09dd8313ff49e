// Package furnish models the blend: shares of bone-dry fibre, what is added on
// it, and what to weigh out of moist lots.
//
// It also holds the table of additives: usual doses, how much stays in the
// sheet, how strong the product is as bought, how it is made up, in which order
// it goes in and with what it does not go; and the reserve of alkali that a
// paper is to keep.
//
// Standing assumptions: shares and doses are of active substance on bone-dry
// fibre; additive that is not retained runs off and is in no sheet; solutions
// weigh what their water weighs unless a density is given. Most numbers of the
// table are from memory. Sources: docs/models/furnish.md. Missing: retention
// worked out from chemistry, colour, what additives do to strength and shrinkage.
package furnish

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// FibreInSolids returns the bone-dry fibre in the solids of a sheet that also
// holds retained additive.
//
//	m_fibre = m_solids / (1 + d·r)
//
// Contract:
//
//   - Quantity: bone-dry fibre, g
//   - Inputs: m_solids bone-dry solids, g; d dose on fibre, fraction; r share of the additive retained
//   - Valid: m_solids ≥ 0; 0 ≤ d ≤ 1; 0 ≤ r ≤ 1; outside: fault.OutOfRange
//   - Assumes: one retained share for all additives
//   - Error: exact for the model; r is uncertain by about 15 points until ash is measured
//   - Source: derived, docs/models/furnish.md
//   - Checked: worked values of docs/models/furnish.md; property: fibre plus retained additive is the solids
func FibreInSolids(solids measure.Mass, dose measure.Dose, retained measure.Share) (measure.Mass, error) {
	if err := checkAdditive(solids, dose, retained); err != nil {
		return 0, err
	}
	return measure.Mass(float64(solids) / (1 + float64(dose)*float64(retained))), nil
}

// SolidsOnFibre returns the solids that fibre and its retained additive make
// together: the inverse of FibreInSolids.
//
//	m_solids = m_fibre · (1 + d·r)
//
// Contract:
//
//   - Quantity: bone-dry solids, g
//   - Inputs: m_fibre bone-dry fibre, g; d dose on fibre, fraction; r share of the additive retained
//   - Valid: m_fibre ≥ 0; 0 ≤ d ≤ 1; 0 ≤ r ≤ 1; outside: fault.OutOfRange
//   - Assumes: one retained share for all additives
//   - Error: exact for the model
//   - Source: derived, docs/models/furnish.md
//   - Checked: property: inverse of FibreInSolids
func SolidsOnFibre(fibre measure.Mass, dose measure.Dose, retained measure.Share) (measure.Mass, error) {
	if err := checkAdditive(fibre, dose, retained); err != nil {
		return 0, err
	}
	return measure.Mass(float64(fibre) * (1 + float64(dose)*float64(retained))), nil
}

func checkAdditive(m measure.Mass, dose measure.Dose, retained measure.Share) error {
	switch {
	case !measure.Within(m, 0, 1e7):
		return fault.OutOfRange("", "A mass must be between 0 and 10 t; this says %.4g g.", float64(m))
	case !measure.Within(dose, 0, 1):
		return fault.OutOfRange("", "A dose must be between 0 and 100 %% on fibre; this says %.4g %%.", float64(dose)*100)
	case !measure.Within(retained, 0, 1):
		return fault.OutOfRange("", "The share retained must be between 0 and 100 %%; this says %.4g %%.", float64(retained)*100)
	}
	return nil
}

// BeforeLoss returns what must go in so that after a loss the wanted mass is
// left.
//
//	m_in = m_out / (1 − l)
//
// Contract:
//
//   - Quantity: mass before the loss, g
//   - Inputs: m_out wanted mass, g; l share lost
//   - Valid: m_out ≥ 0; 0 ≤ l ≤ 0.99; outside: fault.OutOfRange
//   - Assumes: the loss is a share of what goes in
//   - Error: exact for the model
//   - Source: derived, docs/models/furnish.md
//   - Checked: worked values of docs/models/furnish.md; monotone
func BeforeLoss(out measure.Mass, lost measure.Share) (measure.Mass, error) {
	if !measure.Within(out, 0, 1e7) {
		return 0, fault.OutOfRange("", "A mass must be between 0 and 10 t; this says %.4g g.", float64(out))
	}
	if !measure.Within(lost, 0, 0.99) {
		return 0, fault.OutOfRange("", "A loss must be between 0 and 99 %%; this says %.4g %%.", float64(lost)*100)
	}
	return measure.Mass(float64(out) / (1 - float64(lost))), nil
}

// ToWeigh returns the mass of a moist lot that holds the wanted bone-dry mass.
//
//	m_lot = m_dry / (1 − M_wet)
//
// Contract:
//
//   - Quantity: mass of the lot as it lies on the shelf, g
//   - Inputs: m_dry wanted bone-dry mass, g; M_wet moisture of the lot on wet basis, fraction
//   - Valid: m_dry ≥ 0; 0 ≤ M_wet ≤ 0.98; outside: fault.OutOfRange
//   - Assumes: the lot is evenly moist
//   - Error: exact for the model; a lot not weighed and dried is uncertain by two points
//   - Source: definition
//   - Checked: linter at 6 % (common practice): 940 g bone-dry are 1,000 g; inverse of DryOfLot
func ToWeigh(dry measure.Mass, moisture measure.MoistureWet) (measure.Mass, error) {
	if err := checkLot(dry, moisture); err != nil {
		return 0, err
	}
	return measure.Mass(float64(dry) / (1 - float64(moisture))), nil
}

// DryOfLot returns the bone-dry mass in a moist lot.
//
//	m_dry = m_lot · (1 − M_wet)
//
// Contract:
//
//   - Quantity: bone-dry mass, g
//   - Inputs: m_lot mass as it lies, g; M_wet moisture on wet basis, fraction
//   - Valid: m_lot ≥ 0; 0 ≤ M_wet ≤ 0.98; outside: fault.OutOfRange
//   - Assumes: the lot is evenly moist
//   - Error: exact for the model
//   - Source: definition
//   - Checked: 5 lb at 8, 18 and 92 % solids are 181, 408 and 2,087 g (common practice); inverse of ToWeigh
func DryOfLot(lot measure.Mass, moisture measure.MoistureWet) (measure.Mass, error) {
	if err := checkLot(lot, moisture); err != nil {
		return 0, err
	}
	return measure.Mass(float64(lot) * (1 - float64(moisture))), nil
}

func checkLot(m measure.Mass, moisture measure.MoistureWet) error {
	if !measure.Within(m, 0, 1e7) {
		return fault.OutOfRange("", "A mass must be between 0 and 10 t; this says %.4g g.", float64(m))
	}
	if !measure.Within(moisture, 0, 0.98) {
		return fault.OutOfRange("", "Moisture on wet basis must be between 0 and 98 %%; this says %.4g %%.", float64(moisture)*100)
	}
	return nil
}
