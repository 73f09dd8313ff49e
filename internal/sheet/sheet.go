// Package sheet models one sheet: its shape and size before and after drying,
// its grammage at a stated moisture, its caliper, how crowded the fibres are
// that it is formed from, the moisture it holds in a room, and how it moves
// when it is wetted again.
//
// Standing assumptions: shrinkage is linear and even over the sheet, and mass
// is bone-dry solids plus the water the room gives. Sources:
// docs/models/sheet.md. Missing: shrinkage that differs over a sheet, curl,
// scanning between the branches of sorption.
package sheet

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Largest lengths and grammages that can be meant: above them a unit is wrong.
const (
	LargestLength   measure.Length = 5000 // mm; larger than any hand mould
	SmallestLength  measure.Length = 5    // mm
	LargestGrammage                = 5000 // g/m²; thick board and castings
)

// FormedLength returns the length to form so that the sheet dries to size.
//
//	L_formed = L_dry / (1 − e)
//
// Contract:
//
//   - Quantity: length inside the deckle, mm
//   - Inputs: dry finished length, mm; e linear drying shrinkage, fraction of the formed length
//   - Valid: 5 ≤ dry ≤ 5,000 mm; 0 ≤ e ≤ 0.6; outside: fault.OutOfRange
//   - Assumes: even shrinkage along the length
//   - Error: exact for the model; e is uncertain by 40 % until a sheet is measured
//   - Source: derived, docs/models/sheet.md
//   - Checked: worked values of the trade (A4 at 2, 6, 12 %); inverse of DryLength
func FormedLength(dry measure.Length, e measure.Shrinkage) (measure.Length, error) {
	if err := checkShrink(dry, e); err != nil {
		return 0, err
	}
	return measure.Length(float64(dry) / (1 - float64(e))), nil
}

// DryLength returns the length a formed length dries to.
//
//	L_dry = L_formed · (1 − e)
//
// Contract:
//
//   - Quantity: dry length, mm
//   - Inputs: formed length inside the deckle, mm; e linear drying shrinkage, fraction
//   - Valid: 5 ≤ formed ≤ 5,000 mm; 0 ≤ e ≤ 0.6; outside: fault.OutOfRange
//   - Assumes: even shrinkage along the length
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md
//   - Checked: flax sheet of [drying-flax-2006], 457 mm to 343 mm at 25.0 %; inverse of FormedLength
func DryLength(formed measure.Length, e measure.Shrinkage) (measure.Length, error) {
	if err := checkShrink(formed, e); err != nil {
		return 0, err
	}
	return measure.Length(float64(formed) * (1 - float64(e))), nil
}

func checkShrink(l measure.Length, e measure.Shrinkage) error {
	if !measure.Within(l, SmallestLength, LargestLength) {
		return fault.OutOfRange("", "A sheet's side must be between 5 mm and 5,000 mm; this says %.4g mm.", float64(l))
	}
	if !measure.Within(e, 0, 0.6) {
		return fault.OutOfRange("", "Linear shrinkage must be between 0 and 60 %%; this says %.4g %%.", float64(e)*100)
	}
	return nil
}

// AreaOf returns the area of a sheet from its sides.
//
//	A = a · b
//
// Contract:
//
//   - Quantity: area, m²
//   - Inputs: long and short side, mm
//   - Valid: each 5 to 5,000 mm; outside: fault.OutOfRange
//   - Assumes: square corners
//   - Error: exact for the model; a deckle edge is uncertain by about 2 mm a side
//   - Source: definition
//   - Checked: ISO 216 sizes
func AreaOf(long, short measure.Length) (measure.Area, error) {
	for _, l := range [2]measure.Length{long, short} {
		if !measure.Within(l, SmallestLength, LargestLength) {
			return 0, fault.OutOfRange("", "A sheet's side must be between 5 mm and 5,000 mm; this says %.4g mm.", float64(l))
		}
	}
	return measure.Area(float64(long) * float64(short) / 1e6), nil
}

// ConditionedMass returns the mass of a sheet of a given conditioned grammage.
//
//	m = g · A
//
// Contract:
//
//   - Quantity: mass at the room moisture the grammage is stated for, g
//   - Inputs: grammage conditioned, g/m²; area dried, m²
//   - Valid: 0 < grammage ≤ 5,000 g/m²; 0 < area ≤ 25 m²; outside: fault.OutOfRange
//   - Assumes: nothing further
//   - Error: exact
//   - Source: definition
//   - Checked: laboratory sheets, [tappi-t205]: 60 g/m² on 200 cm² is 1.200 g
func ConditionedMass(grammage measure.GrammageConditioned, area measure.Area) (measure.Mass, error) {
	if err := checkGrammage(float64(grammage)); err != nil {
		return 0, err
	}
	if err := checkArea(area); err != nil {
		return 0, err
	}
	return measure.Mass(float64(grammage) * float64(area)), nil
}

func checkArea(a measure.Area) error {
	if !measure.Finite(a) || a <= 0 || a > 25 {
		return fault.OutOfRange("", "A sheet's area must be above 0 and at most 25 m²; this says %.4g m².", float64(a))
	}
	return nil
}

func checkGrammage(g float64) error {
	if !measure.Finite(measure.Number(g)) || g <= 0 || g > LargestGrammage {
		return fault.OutOfRange("", "A grammage must be above 0 and at most 5,000 g/m²; this says %.4g g/m².", g)
	}
	return nil
}

// DrySolids returns the bone-dry solids of a conditioned sheet.
//
//	m_dry = m / (1 + M)
//
// Contract:
//
//   - Quantity: bone-dry mass (fibre and what is retained with it), g
//   - Inputs: m conditioned mass, g; M moisture on dry basis, fraction
//   - Valid: m ≥ 0 and at most 100 kg; 0 ≤ M ≤ 0.4; outside: fault.OutOfRange
//   - Assumes: the sheet is in balance with the room
//   - Error: exact for the model; M is uncertain by about one point
//   - Source: definition
//   - Checked: air-dry linter at 6 % wet basis (common practice): 1,000 g hold 940 g
func DrySolids(m measure.Mass, moisture measure.MoistureDry) (measure.Mass, error) {
	if !measure.Within(m, 0, 1e5) {
		return 0, fault.OutOfRange("", "A mass must be between 0 and 100 kg here; this says %.4g g.", float64(m))
	}
	if !measure.Within(moisture, 0, 0.4) {
		return 0, fault.OutOfRange("", "Moisture on dry basis must be between 0 and 40 %%; this says %.4g %%.", float64(moisture)*100)
	}
	return measure.Mass(float64(m) / (1 + float64(moisture))), nil
}

// GrammageFromSheet returns the conditioned grammage of a weighed and measured
// dry sheet.
//
//	g = m / A
//
// Contract:
//
//   - Quantity: conditioned grammage, g/m²
//   - Inputs: m mass at room moisture, g; A dried area, m²
//   - Valid: m > 0; 0 < A ≤ 25 m²; result at most 5,000 g/m²; outside: fault.OutOfRange
//   - Assumes: the sheet is in balance with the room
//   - Error: 1.4 % for one A4 sheet on a 0.1 g scale, mostly from the edges
//   - Source: definition
//   - Checked: 1.22 g on 200 cm² is 61.0 g/m² ([tappi-t220]); ten pieces of 100 cm² ([iso-536]); flax of [calgary-flax-sample] to 3.5 %; inverse of ConditionedMass
func GrammageFromSheet(m measure.Mass, area measure.Area) (measure.GrammageConditioned, error) {
	if err := checkArea(area); err != nil {
		return 0, err
	}
	g := float64(m) / float64(area)
	if err := checkGrammage(g); err != nil {
		return 0, err
	}
	return measure.GrammageConditioned(g), nil
}

// GrammageRise returns how much a sheet's grammage rises by shrinking.
//
//	1 / ((1 − e_long) · (1 − e_short))
//
// Contract:
//
//   - Quantity: factor from formed to dried grammage
//   - Inputs: linear shrinkage along each side, fraction
//   - Valid: 0 ≤ e ≤ 0.6 each; outside: fault.OutOfRange
//   - Assumes: no fibre is lost in drying
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md
//   - Checked: 1.041, 1.132, 1.291 at 2, 6, 12 % (common practice); flax of [drying-flax-2006], 1.68
func GrammageRise(long, short measure.Shrinkage) (measure.Number, error) {
	for _, e := range [2]measure.Shrinkage{long, short} {
		if err := checkShrink(100, e); err != nil {
			return 0, err
		}
	}
	return measure.Number(1 / ((1 - float64(long)) * (1 - float64(short)))), nil
}
