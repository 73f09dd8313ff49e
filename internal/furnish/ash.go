package furnish

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Ash is a burnt sheet and what is known of what was in it.
type Ash struct {
	OfPaper  measure.Share // ash over the bone-dry sheet
	OfFibre  measure.Share // the same of a sheet without additive: 0.001 to 0.02
	OfFiller measure.Share // what a gram of the filler leaves: Additive.Ash
	Dose     measure.Dose  // of the filler on bone-dry fibre
}

// RetainedFromAsh returns the share of a filler that stayed in the sheet.
//
//	r = (a − a0) / ((k − a) · d)
//
// Contract:
//
//   - Quantity: share retained, fraction
//   - Inputs: a ash of the bone-dry sheet; a0 ash of its fibre alone; k ash of the filler alone; d dose of filler on bone-dry fibre; all fractions
//   - Valid: 0 ≤ a0 ≤ a < k ≤ 1; 0.005 ≤ d ≤ 1; and no more retained than was added, save 5 % for the scales; outside: fault.OutOfRange
//   - Assumes: one filler; k is for the heat it was burnt at: chalk keeps all of itself at 525 °C and 56 % at 900 °C
//   - Error: with 0.2 points on the ash and 5 % filler, 5 points
//   - Source: derived, docs/models/furnish.md
//   - Checked: property: inverse of AshOfPaper; published/dose-worked.csv
func RetainedFromAsh(s Ash) (measure.Share, error) {
	if err := fault.First(
		checkShare("the ash of the filler", s.OfFiller, 0.01, 1),
		checkShare("the ash of the fibre", s.OfFibre, 0, s.OfFiller/2),
		checkShare("the ash of the paper", s.OfPaper, s.OfFibre, s.OfFiller*0.99),
		checkShare("the dose on fibre", s.Dose, 0.005, mostDose),
	); err != nil {
		return 0, err
	}
	r := measure.Share(float64(s.OfPaper-s.OfFibre) / (float64(s.OfFiller-s.OfPaper) * float64(s.Dose)))
	if err := checkShare("the share retained", r, 0, 1.05); err != nil {
		return 0, err
	}
	return min(1, r), nil
}

// AshOfPaper returns the ash of a sheet that holds a filler.
//
//	a = (a0 + k·d·r) / (1 + d·r)
//
// Contract:
//
//   - Quantity: ash over bone-dry paper, fraction
//   - Inputs: a0 ash of the fibre alone; k ash of the filler alone; d dose on bone-dry fibre; r share retained; all fractions
//   - Valid: 0 ≤ a0 ≤ 1; 0 ≤ k ≤ 1; 0 ≤ d ≤ 1; 0 ≤ r ≤ 1; outside: fault.OutOfRange
//   - Assumes: one filler
//   - Error: exact for the model
//   - Source: derived, docs/models/furnish.md
//   - Checked: property: RetainedFromAsh finds the share again
func AshOfPaper(fibre, filler measure.Share, dose measure.Dose, retained measure.Share) (measure.Share, error) {
	if err := fault.First(
		checkShare("the ash of the fibre", fibre, 0, 1),
		checkShare("the ash of the filler", filler, 0, 1),
		checkShare("the dose on fibre", dose, 0, mostDose),
		checkShare("the share retained", retained, 0, 1),
	); err != nil {
		return 0, err
	}
	kept := float64(dose) * float64(retained)
	return measure.Share((float64(fibre) + float64(filler)*kept) / (1 + kept)), nil
}
