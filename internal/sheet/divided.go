package sheet

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// HardToHold is the width above which one person hardly holds a mould out,
// [moulds-article]: about 25 in.
const HardToHold measure.Length = 635 // mm

const mostWays = 20 // panes each way; more is a comb, not a deckle

// Divided returns what a divided deckle, or a mould for several sheets, forms
// at one pull.
//
//	L = (L_inside − (n − 1)·bar) / n each way,  sheets = n_long · n_short
//
// Contract:
//
//   - Quantity: formed size of each sheet, mm, and sheets at one pull
//   - Inputs: inside of the whole deckle, mm; panes along each side; bar, the width between two panes, mm
//   - Valid: sides 5 to 5,000 mm; 1 to 20 panes each way; bar 0 to 200 mm; panes of 5 mm at least; outside: fault.OutOfRange
//   - Assumes: equal panes; what falls on a bar drains back
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md; that small sheets are made so: moulds-article
//   - Checked: by hand; panes and bars make up the deckle; PanesFor finds them again
func Divided(long, short measure.Length, waysLong, waysShort int, bar measure.Length) (eachLong, eachShort measure.Length, sheets measure.Sheets, err error) {
	if eachLong, err = pane(long, waysLong, bar); err != nil {
		return 0, 0, 0, err
	}
	if eachShort, err = pane(short, waysShort, bar); err != nil {
		return 0, 0, 0, err
	}
	return eachLong, eachShort, measure.Sheets(waysLong * waysShort), nil
}

func pane(inside measure.Length, ways int, bar measure.Length) (measure.Length, error) {
	if err := fault.First(checkShrink(inside, 0), checkBar(bar)); err != nil {
		return 0, err
	}
	if ways < 1 || ways > mostWays {
		return 0, fault.OutOfRange("", "A deckle is divided into 1 to 20 panes each way; this says %d.", ways)
	}
	each := (inside - measure.Length(ways-1)*bar) / measure.Length(ways)
	if each < SmallestLength {
		return 0, fault.OutOfRange("", "Each pane of a divided deckle must be at least 5 mm; these would be %.4g mm.", float64(each))
	}
	return each, nil
}

func checkBar(bar measure.Length) error {
	if !measure.Within(bar, 0, 200) {
		return fault.OutOfRange("", "The bar between two panes must be between 0 and 200 mm; this says %.4g mm.", float64(bar))
	}
	return nil
}

// PanesFor returns how many panes of at least a length one side of a deckle
// holds; none if the length is more than the side.
//
//	n = ⌊(L_inside + bar) / (L + bar)⌋
//
// Contract:
//
//   - Quantity: panes along one side
//   - Inputs: inside of the deckle and formed length wanted, mm; bar between two panes, mm
//   - Valid: lengths 5 to 5,000 mm; bar 0 to 200 mm; outside: fault.OutOfRange
//   - Assumes: equal panes; at most 20
//   - Error: exact for the model
//   - Source: derived, docs/models/sheet.md
//   - Checked: by hand; finds the panes of Divided again, and never one too many
func PanesFor(inside, wanted, bar measure.Length) (int, error) {
	if err := fault.First(checkShrink(inside, 0), checkShrink(wanted, 0), checkBar(bar)); err != nil {
		return 0, err
	}
	const crumb = 1e-9 // of rounding in a division that comes out even
	return min(mostWays, int(math.Floor(float64((inside+bar)/(wanted+bar))+crumb))), nil
}
