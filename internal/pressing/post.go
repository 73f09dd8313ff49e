package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Sizes of a post that makers report.
const (
	// PostLeast and PostMost bound a small studio's post, sheets; above 20 the
	// pressure gets uneven (source: pressing-methods-page).
	PostLeast measure.Sheets = 8
	PostMost  measure.Sheets = 20
	// StackTypical is the height of a post in a home press, mm; ± 30 (source:
	// wooden-press-page).
	StackTypical measure.Length = 100
	// LiftAlone is what one person may lift in the best posture, kg. Local
	// rules may be lower (source: practice, after the NIOSH lifting equation
	// read in a summary).
	LiftAlone measure.Kilograms = 23
	// waterDensity is kg of water per litre; ± 0.2 % from 10 to 25 °C (source:
	// definition).
	waterDensity = 1.0
)

// PostSheets returns the most sheets that a set of felts takes in one post: a
// felt between any two, and one on each end.
//
//	sheets = felts − 1
//
// Contract:
//
//   - Quantity: sheets in one post
//   - Inputs: felts, pieces
//   - Valid: felts 2 to 10000; outside: fault.OutOfRange
//   - Assumes: one sheet to a layer, one felt between; spare felts for the next post are counted apart
//   - Error: exact
//   - Source: derived
//   - Checked: 50 sheets on 52 felts (two-thousand-sheets-2016) stay within it
func PostSheets(felts int) (measure.Sheets, error) {
	if err := measure.Inside("felts", "the number of felts", felts, 2, 10000, ""); err != nil {
		return 0, err
	}
	return measure.Sheets(felts - 1), nil
}

// Posts returns how many posts a number of sheets makes.
//
//	posts = ⌈sheets / sheets per post⌉
//
// Contract:
//
//   - Quantity: posts, whole
//   - Inputs: sheets; perPost, sheets to a post
//   - Valid: sheets 0 to 1000000; perPost 1 to 10000; outside: fault.OutOfRange
//   - Assumes: the last post may be short
//   - Error: exact
//   - Source: derived
//   - Checked: 98 sheets in two posts of 49; property: posts hold all sheets and one post fewer does not
func Posts(sheets measure.Sheets, perPost int) (measure.Posts, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, 1e6, ""),
		measure.Inside("per_post", "the sheets to a post", perPost, 1, 10000, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Posts(math.Ceil(float64(sheets) / float64(perPost))), nil
}

// PostWeight returns the weight of a post as it goes to the press.
//
//	weight = (n · m / s + (n + 1) · f) / 1000
//
// Contract:
//
//   - Quantity: weight of sheets and felts, kg; boards come on top
//   - Inputs: sheets n; solids m, bone-dry grams of one sheet; couched s, solids after couching; wetFelt f, grams of one wet felt
//   - Valid: sheets 1 to 10000; solids 0.01 to 10000 g; couched 0.02 to 1; wetFelt 0 to 20000 g; outside: fault.OutOfRange
//   - Assumes: one felt more than sheets; nothing has dripped off yet
//   - Error: as good as the weighed felt; couched solids are 0.08 to 0.12 (from memory)
//   - Source: derived
//   - Checked: worked example; property: more sheets weigh more
func PostWeight(sheets measure.Sheets, solids measure.Mass, couched measure.Solids, wetFelt measure.Mass) (measure.Kilograms, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 1, 10000, ""),
		measure.Inside("solids_mass", "the bone-dry mass of a sheet", solids, 0.01, 10000, "g"),
		measure.Inside("couched", "the solids after couching", couched, 0.02, 1, "as a fraction"),
		measure.Inside("wet_felt", "the mass of a wet felt", wetFelt, 0, 20000, "g"),
	)
	if err != nil {
		return 0, err
	}
	n := float64(sheets)
	return measure.Kilograms((n*float64(solids)/float64(couched) + (n+1)*float64(wetFelt)) / 1000), nil
}

// PostWeightAtMost returns a bound on the weight of a post from its size: as
// if it were all water.
//
//	weight <= A · height · 1 kg/L
//
// Contract:
//
//   - Quantity: weight of a dripping post, kg, at most
//   - Inputs: area of the felts, m²; height of the stack, mm
//   - Valid: area 0.0001 to 20 m²; height 1 to 2000 mm; outside: fault.OutOfRange
//   - Assumes: soaked through; wool and fibre are denser than water by a third to a half but fill under a tenth of it
//   - Error: a real post is 80 to 100 % of it
//   - Source: derived
//   - Checked: a production post of 22 x 30 in and 230 mm weighs up to 90 kg (wet-pressing-2001)
func PostWeightAtMost(area measure.Area, height measure.Length) (measure.Kilograms, error) {
	err := fault.First(
		measure.Inside("area", "the area of the felts", area, leastArea, mostArea, "m²"),
		measure.Inside("height", "the height of the post", height, 1, 2000, "mm"),
	)
	if err != nil {
		return 0, err
	}
	litres := float64(area) * float64(height) // m² · mm = L
	return measure.Kilograms(litres * waterDensity), nil
}
