package sheet

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Coarseness is the mass of a metre of one fibre, mg/m.
type Coarseness float64

// Unit returns the unit the type is stated in.
func (Coarseness) Unit() string { return "mg/m" }

// Ranges of papermaking fibres, and of stock that can be stirred.
const (
	leastFibre, mostFibre   measure.Length      = 0.05, 100 // mm; fines to uncut flax
	leastCoarse, mostCoarse Coarseness          = 0.01, 5   // mg/m
	mostStirred             measure.Consistency = 150       // g/L
)

// Limits of the crowding number. The published ones are 60 and 130, between
// which coherent flocs are found, and about 1, where fibres move freely
// [crowding-1990]. The limit of 16, below which fibres hardly hold each other,
// is remembered; that stock above 130 needs formation aid, or is dipped several
// times, is our reading of what makers of long bast fibre do (practice).
const (
	MostMobile measure.Number = 16
	FlocsFrom  measure.Number = 60
	FlocsTo    measure.Number = 130
)

// Crowding returns how many fibres share the sphere in which one could turn.
//
//	N = 5 · C · λ² / d
//
// Contract:
//
//   - Quantity: crowding number
//   - Inputs: C consistency, in the source mass %, here g/L; λ fibre length, mm, weighted by length; d coarseness, mg/m
//   - Valid: 0 < C ≤ 150 g/L; 0.05 ≤ λ ≤ 100 mm; 0.01 ≤ d ≤ 5 mg/m; outside: fault.OutOfRange
//   - Assumes: a litre of stock weighs a kilogram; no formation aid
//   - Error: exact for the model; length after beating is hardly known, and 20 % of it is 40 % of N
//   - Source: crowding-1990, crowding-drying-chapter
//   - Checked: published/crowding.csv, seven fibres at 0.5 and 0.1 %; inverse of CrowdedTo
func Crowding(c measure.Consistency, length measure.Length, d Coarseness) (measure.Number, error) {
	if !measure.Within(c, 0, mostStirred) || c == 0 {
		return 0, fault.OutOfRange("", "A consistency must be above 0 and at most 150 g/L here; this says %.4g g/L.", float64(c))
	}
	if err := checkFibre(length, d); err != nil {
		return 0, err
	}
	massPercent := float64(c) / 10
	return measure.Number(5 * massPercent * float64(length) * float64(length) / float64(d)), nil
}

// CrowdedTo returns the consistency at which fibres are crowded to a number:
// how thin the vat must be.
//
//	C = N · d / (5 λ²)
//
// Contract:
//
//   - Quantity: consistency, g/L
//   - Inputs: N wanted crowding number; λ fibre length, mm; d coarseness, mg/m
//   - Valid: 0.1 ≤ N ≤ 10,000; λ and d as Crowding; result at most 150 g/L; outside: fault.OutOfRange
//   - Assumes: as Crowding
//   - Error: as Crowding
//   - Source: crowding-1990, turned round
//   - Checked: inverse of Crowding
func CrowdedTo(n measure.Number, length measure.Length, d Coarseness) (measure.Consistency, error) {
	if !measure.Within(n, 0.1, 10000) {
		return 0, fault.OutOfRange("", "A crowding number must be between 0.1 and 10,000; this says %.4g.", float64(n))
	}
	if err := checkFibre(length, d); err != nil {
		return 0, err
	}
	c := measure.Consistency(10 * float64(n) * float64(d) / (5 * float64(length) * float64(length)))
	if c > mostStirred {
		return 0, fault.OutOfRange("", "Fibres as short as these are not so crowded below 150 g/L, the thickest stock reckoned with here.")
	}
	return c, nil
}

func checkFibre(length measure.Length, d Coarseness) error {
	if !measure.Within(length, leastFibre, mostFibre) {
		return fault.OutOfRange("", "A fibre's length must be between 0.05 and 100 mm; this says %.4g mm.", float64(length))
	}
	if !measure.Within(d, leastCoarse, mostCoarse) {
		return fault.OutOfRange("", "A fibre's coarseness must be between 0.01 and 5 mg/m; this says %.4g mg/m.", float64(d))
	}
	return nil
}

// Crowd is how fibres of a crowding number behave in the vat.
type Crowd string

// The ways, from the thinnest stock on.
const (
	Mobile   Crowd = "mobile"
	Crowded  Crowd = "crowded"
	Flocs    Crowd = "flocs"
	NeedsAid Crowd = "needs formation aid"
)

// CrowdOf tells how fibres of a crowding number behave.
func CrowdOf(n measure.Number) (Crowd, error) {
	switch {
	case !measure.Finite(n) || n < 0:
		return "", fault.OutOfRange("", "A crowding number must be 0 or more; this says %.4g.", float64(n))
	case n <= MostMobile:
		return Mobile, nil
	case n <= FlocsFrom:
		return Crowded, nil
	case n <= FlocsTo:
		return Flocs, nil
	}
	return NeedsAid, nil
}

// Advice says what to do about it, and what the sentence rests on.
func (c Crowd) Advice() (text, source string) {
	switch c {
	case Mobile:
		return "The fibres move freely; they form evenly as long as the vat is stirred.", "memory"
	case Crowded:
		return "The fibres touch. Stir well and form without waiting; clouds gather in stock that stands.", "practice"
	case Flocs:
		return "The fibres hang together in flocs. Thin the vat, and dip deeper for the weight; shake while the sheet drains.", "crowding-1990"
	case NeedsAid:
		return "Thinning alone seldom opens fibre as crowded as this. Use formation aid and several thin dips, or cut the fibre shorter in the beater.", "practice"
	}
	return "", ""
}
