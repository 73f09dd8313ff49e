package sheet

import (
	"math"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Shapes a deckle can have.
const (
	Rectangle = "rectangle"
	Round     = "round"
	Oval      = "oval"
	Odd       = "odd" // any other: its area as a share of the box around it
)

// Shapes are the shapes a deckle can have.
func Shapes() []string { return []string{Rectangle, Round, Oval, Odd} }

// ShapeArea returns the area of a sheet of a shape.
//
//	A = k · a · b,  k = 1 rectangle, π/4 round and oval, the share for odd
//
// Contract:
//
//   - Quantity: area, m²
//   - Inputs: shape, one of Shapes; a, b sides of the box around it, mm: for a round sheet a is the diameter and b the same or 0; share of the box that is paper, read for odd alone
//   - Valid: each length 5 to 5,000 mm; for odd 0.01 ≤ share ≤ 1; outside: fault.OutOfRange; another shape: fault.Invalid
//   - Assumes: nothing further
//   - Error: exact; a share taken by eye is uncertain by a tenth, one by cut and weighed card by a hundredth (practice)
//   - Source: definition
//   - Checked: 20 cm round at 100 g/m² is 3.14 g (common practice); a round is the oval of equal axes; odd at share 1 is the rectangle
func ShapeArea(shape string, long, short measure.Length, share measure.Share) (measure.Area, error) {
	k := 1.0
	switch shape {
	case Rectangle:
	case Round:
		if short != 0 && short != long {
			return 0, fault.Invalid("", "A round sheet has one diameter; give both ways the same, or call it oval.")
		}
		short, k = long, math.Pi/4
	case Oval:
		k = math.Pi / 4
	case Odd:
		if !measure.Within(share, 0.01, 1) {
			return 0, fault.OutOfRange("", "The share of its box that an odd shape fills must be between 1 and 100 %%; this says %.4g %%.", float64(share)*100)
		}
		k = float64(share)
	default:
		return 0, fault.Invalid("", "%q is not a shape; the shapes are %s.", shape, strings.Join(Shapes(), ", "))
	}
	box, err := AreaOf(long, short)
	return measure.Area(k * float64(box)), err
}

// DryArea returns the area a formed area dries to, of whatever shape: a round
// sheet that shrinks more one way dries oval.
//
//	A_dry = A · (1 − e_long)(1 − e_short)
//
// Contract:
//
//   - Quantity: dried area, m²
//   - Inputs: A formed area, m²; e linear shrinkage each way, fraction
//   - Valid: 0 < A ≤ 25 m²; 0 ≤ e ≤ 0.6; outside: fault.OutOfRange
//   - Assumes: even shrinkage over the sheet
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md
//   - Checked: fibre is kept: area falls as GrammageRise rises; ovals by their dried axes; inverse of FormedArea
func DryArea(formed measure.Area, long, short measure.Shrinkage) (measure.Area, error) {
	rise, err := riseOn(formed, long, short)
	if err != nil {
		return 0, err
	}
	return measure.Area(float64(formed) / rise), nil
}

// FormedArea returns the area to form so that it dries to an area.
//
//	A = A_dry / ((1 − e_long)(1 − e_short))
//
// Contract:
//
//   - Quantity: area inside the deckle, m²
//   - Inputs: A_dry dried area, m²; e linear shrinkage each way, fraction
//   - Valid: as DryArea; outside: fault.OutOfRange
//   - Assumes: even shrinkage over the sheet
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md
//   - Checked: inverse of DryArea
func FormedArea(dry measure.Area, long, short measure.Shrinkage) (measure.Area, error) {
	rise, err := riseOn(dry, long, short)
	if err != nil {
		return 0, err
	}
	return measure.Area(float64(dry) * rise), nil
}

func riseOn(a measure.Area, long, short measure.Shrinkage) (float64, error) {
	if err := checkArea(a); err != nil {
		return 0, err
	}
	rise, err := GrammageRise(long, short)
	return float64(rise), err
}
