package sheet

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// How far six readings may fail to fit one sheet before one of them is taken
// for a slip of the tape. Practice: deckle edges read to 2 mm.
const (
	outlineGap  = 0.01 // diagonals longer than the sides allow, share
	outlineSkew = 0.10 // middles of the two diagonals apart, share of the long side
)

// Outline is what a tape says of a sheet or a mould: opposite sides and both
// diagonals. Any four-sided sheet will do. In vectors, half the sum of opposite
// sides is a line across the middle; the diagonals are the sum and the
// difference of the two lines, and everything below follows from that.
type Outline struct {
	Long, Short, Diagonal [2]measure.Length // mm
}

// middles returns the squared lengths of the lines across the middle, along
// the long and along the short sides, and their scalar product, mm².
func (o Outline) middles() (long2, short2, dot float64, err error) {
	for _, pair := range [3][2]measure.Length{o.Long, o.Short, o.Diagonal} {
		for _, l := range pair {
			if !measure.Within(l, SmallestLength, 2*LargestLength) {
				return 0, 0, 0, fault.OutOfRange("", "Sides and diagonals must be between 5 mm and 10,000 mm; this says %.4g mm.", float64(l))
			}
		}
	}
	squares := func(pair [2]measure.Length) float64 {
		return float64(pair[0])*float64(pair[0]) + float64(pair[1])*float64(pair[1])
	}
	a, b, d := squares(o.Long), squares(o.Short), squares(o.Diagonal)
	long2, short2 = (d+a-b)/4, (d+b-a)/4
	dot = (float64(o.Diagonal[0])*float64(o.Diagonal[0]) - float64(o.Diagonal[1])*float64(o.Diagonal[1])) / 4
	apart2 := (a + b - d) / 4 // squared distance between the diagonals' middles (Euler)
	switch {
	case long2 <= 0 || short2 <= 0 || dot*dot >= long2*short2,
		d > (a+b)*(1+outlineGap)*(1+outlineGap), apart2 > outlineSkew*outlineSkew*math.Max(a, b)/2:
		return 0, 0, 0, fault.OutOfRange("", "Sides and diagonals must fit one sheet: the squares of the diagonals add up to those of the four sides, within about %.0f %%; measure again.", 100*2*outlineGap)
	}
	return long2, short2, dot, nil
}

// Size returns the size of a sheet across its middle.
//
//	L² = (d₁² + d₂² + a₁² + a₂² − b₁² − b₂²) / 4, and S² with a and b exchanged
//
// Contract:
//
//   - Quantity: length and breadth, each between the middles of opposite sides, mm
//   - Inputs: sides a (long) and b (short), diagonals d, mm
//   - Valid: each 5 to 10,000 mm and all of one four-sided sheet; outside: fault.OutOfRange
//   - Assumes: straight sides
//   - Error: exact for the model; about as one reading
//   - Source: derived, docs/models/sheet.md
//   - Checked: a rectangle gives its sides; four-sided sheets from drawn corners
func (o Outline) Size() (long, short measure.Length, err error) {
	l, s, _, err := o.middles()
	return measure.Length(math.Sqrt(l)), measure.Length(math.Sqrt(s)), err
}

// Area returns the area of a sheet that need not be square.
//
//	A = √(L²S² − ((d₁² − d₂²)/4)²)
//
// Contract:
//
//   - Quantity: area, m²
//   - Inputs: as Size
//   - Valid: as Size; outside: fault.OutOfRange
//   - Assumes: straight sides
//   - Error: exact for the model; a deckle edge is uncertain by about 2 mm a side
//   - Source: derived, docs/models/sheet.md
//   - Checked: four-sided sheets from drawn corners, against the corners' own area
func (o Outline) Area() (measure.Area, error) {
	l, s, dot, err := o.middles()
	if err != nil {
		return 0, err
	}
	return measure.Area(math.Sqrt(l*s-dot*dot) / 1e6), nil
}

// OutOfSquare returns how far the long side leans over its length, and which
// diagonal is the longer: 0 neither, 1 the first, 2 the second.
//
//	lean = |d₁² − d₂²| / (4 S)
//
// Contract:
//
//   - Quantity: how far the end of the long side stands off from where a square would put it, mm over the long side
//   - Inputs: as Size
//   - Valid: as Size; outside: fault.OutOfRange
//   - Assumes: straight sides
//   - Error: readings good to 1 mm leave about 1.2 mm at A4
//   - Source: derived, docs/models/sheet.md
//   - Checked: parallelograms drawn with a known lean; none for a rectangle; the other diagonal for its mirror
func (o Outline) OutOfSquare() (lean measure.Length, longer int, err error) {
	_, s, dot, err := o.middles()
	switch {
	case err != nil || dot == 0:
		return 0, 0, err
	case dot > 0:
		return measure.Length(dot / math.Sqrt(s)), 1, nil
	}
	return measure.Length(-dot / math.Sqrt(s)), 2, nil
}
