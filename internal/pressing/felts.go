package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// LayerThick is a felt with its sheet as laid, mm, at most: 27 sheets of 22 x
// 30 in stand in an opening of 230 mm (source: wet-pressing-2001). Under the
// press it gives way by a third or more (from memory), so the press needs that
// much travel.
const LayerThick measure.Length = 8.5

// PostLimits are what bounds a post: a limit of zero is no limit.
type PostLimits struct {
	Felts    int               // felts at hand
	Daylight measure.Length    // the opening of the press, less the boards, mm
	Layer    measure.Length    // one felt with its sheet, as laid, mm
	Lift     measure.Kilograms // what may be lifted, as if the post is carried
	Weight   measure.Kilograms // one wet felt with its sheet
}

// PostSheetsAtMost returns the most sheets in one post, and the word for what
// limits it: felts, daylight or lift.
//
//	sheets = min(felts, ⌊daylight / layer⌋, ⌊lift / weight⌋) − 1
//
// Contract:
//
//   - Quantity: sheets in one post; the limit by name
//   - Inputs: felts at hand; daylight of the press and thickness of one layer, felt and sheet as laid, mm; lift and weight of one layer, kg
//   - Valid: felts 0 to 10000; daylight 0 to 2000 mm with a layer of 0.1 to 100 mm; lift 0 to 1000 kg with a layer of 0.001 to 100 kg; at least one limit; outside: fault.OutOfRange or fault.Invalid; no room for one sheet: fault.Infeasible
//   - Assumes: one felt more than sheets, taken as a whole layer, to be safe
//   - Error: one sheet
//   - Source: derived
//   - Checked: 27 sheets in 230 mm at 8.2 mm a layer (wet-pressing-2001: at most 8.5); 50 on 52 felts (two-thousand-sheets-2016); property: no limit is broken, one sheet more breaks one
func PostSheetsAtMost(l PostLimits) (measure.Sheets, string, error) {
	err := fault.First(
		measure.Inside("felts", "the number of felts", l.Felts, 0, 10000, ""),
		measure.Inside("daylight", "the opening of the press", l.Daylight, 0, 2000, "mm"),
		measure.Inside("lift", "the weight that may be lifted", l.Lift, 0, 1000, "kg"),
	)
	if err != nil {
		return 0, "", err
	}
	layers, limit := math.Inf(1), ""
	bound := func(n float64, by string) {
		if n = math.Floor(n + 1e-9); n < layers {
			layers, limit = n, by
		}
	}
	if l.Felts > 0 {
		bound(float64(l.Felts), "felts")
	}
	if l.Daylight > 0 {
		if err := measure.Inside("layer", "the thickness of a felt with its sheet", l.Layer, 0.1, 100, "mm"); err != nil {
			return 0, "", err
		}
		bound(float64(l.Daylight/l.Layer), "daylight")
	}
	if l.Lift > 0 {
		if err := measure.Inside("weight", "the weight of a felt with its sheet", l.Weight, 0.001, 100, "kg"); err != nil {
			return 0, "", err
		}
		bound(float64(l.Lift/l.Weight), "lift")
	}
	switch {
	case limit == "":
		return 0, "", fault.Invalid("felts", "say how many felts there are, how far the press opens or what may be lifted")
	case layers < 2:
		return 0, "", fault.Infeasible(limit, "not even one sheet fits: a post is a felt below and a felt above it")
	}
	return measure.Sheets(layers - 1), limit, nil
}

// FeltsToKeepGoing returns the felts with which the vat never waits for the
// press: the next post is couched while the last is pressed.
//
//	felts = (post + 1) + (⌈rate · minutes / 60⌉ + 1)
//
// Contract:
//
//   - Quantity: felts, pieces
//   - Inputs: post, sheets in one; rate of forming, sheets an hour; minutes until the felts of a post are back: pressing and parting
//   - Valid: post 1 to 10000; rate 0.1 to 2000 an hour; minutes 0 to 1440; outside: fault.OutOfRange; pressing longer than the forming of a post: fault.Infeasible, as the press then holds up the vat with any number of felts
//   - Assumes: even forming; all felts of a post come back together; a felt below the first sheet and one on each
//   - Error: exact for even forming; give a few more for uneven
//   - Source: derived
//   - Checked: a crew of 2000 sheets in 9 h 15 with posts of 50 kept going on 72 felts and would not have on 52 (two-thousand-sheets-2016); property: against a count of felts sheet by sheet
func FeltsToKeepGoing(post measure.Sheets, rate measure.Number, minutes measure.Minutes) (int, error) {
	err := fault.First(
		measure.Inside("post", "the sheets in a post", post, 1, 10000, ""),
		measure.Inside("rate", "the sheets formed in an hour", rate, 0.1, 2000, "an hour"),
		measure.Inside("minutes", "the minutes in the press", minutes, 0, 1440, "min"),
	)
	if err != nil {
		return 0, err
	}
	meanwhile := math.Ceil(float64(rate)*float64(minutes)/60 - 1e-9) // sheets
	if meanwhile > float64(post) {
		return 0, fault.Infeasible("minutes", "a post takes %.0f minutes to form and longer to press: the press holds up the vat, and more felts do not help. Press larger posts or shorter", float64(post)/float64(rate)*60)
	}
	if minutes == 0 {
		return int(post) + 1, nil
	}
	return int(post) + 1 + int(meanwhile) + 1, nil
}
