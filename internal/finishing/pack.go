package finishing

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Counting of sheets. A quire and a ream are always stated with their number.
const (
	// QuireHandmade and QuireModern are sheets to a quire (source: quires-reams).
	QuireHandmade = 24
	QuireModern   = 25
	// QuiresToReam makes 480 of the one and 500 of the other (source:
	// quires-reams). Mills also counted 472 and 516 to a ream (source:
	// modern-paper-making, ream-dictionary): write the sheets on the label.
	QuiresToReam = 20
	// SortLeast and SortMost are the seconds a sheet takes to be held against
	// the light and laid on its pile, taking it off its board included (source:
	// memory).
	SortLeast = 30.0
	SortMost  = 60.0
)

// Counted is a number of sheets as the trade counts them.
type Counted struct {
	Reams, Quires, Sheets int
}

// Count returns sheets in reams, quires and single sheets.
//
//	sheets = (reams · quires to a ream + quires) · quire + rest
//
// Contract:
//
//   - Quantity: reams, quires, single sheets
//   - Inputs: sheets; quire, sheets in it; ream, quires in it
//   - Valid: sheets 0 to 1000000; quire 10 to 50; ream 5 to 50; outside: fault.OutOfRange
//   - Assumes: all good sheets alike; outside quires of poorer sheets are counted apart
//   - Error: exact
//   - Source: quires-reams
//   - Checked: published/quires.csv; property: no sheet is lost
func Count(sheets, quire, ream int) (Counted, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, int(mostSheets), ""),
		measure.Inside("quire", "the sheets in a quire", quire, 10, 50, ""),
		measure.Inside("ream", "the quires in a ream", ream, 5, 50, ""),
	)
	if err != nil {
		return Counted{}, err
	}
	quires := sheets / quire
	return Counted{quires / ream, quires % ream, sheets % quire}, nil
}

// SortTime returns the time to sort sheets against the light.
//
//	time = sheets · seconds / 60
//
// Contract:
//
//   - Quantity: time at the sorting table, minutes
//   - Inputs: sheets; seconds for one, a number
//   - Valid: sheets 0 to 1000000; seconds 1 to 600; outside: fault.OutOfRange
//   - Assumes: one pass; a second pass by another eye finds more
//   - Error: as the seconds, 30 to 60 from memory
//   - Source: derived
//   - Checked: worked example; property: proportional to both
func SortTime(sheets measure.Sheets, seconds measure.Number) (measure.Minutes, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, mostSheets, ""),
		measure.Inside("seconds", "the seconds for one sheet", seconds, 1, 600, "s"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Minutes(float64(sheets) * float64(seconds) / 60), nil
}

// PacketSheets returns how many sheets go into one packet that somebody must
// lift, in whole quires.
//
//	sheets = quire · ⌊1000 limit / (quire · mass)⌋
//
// Contract:
//
//   - Quantity: sheets in a packet
//   - Inputs: each, mass of one conditioned sheet, g; limit, what the packet may weigh, kg; quire, sheets that stay together
//   - Valid: each 0.01 to 10000 g; limit 0.1 to 10000 kg; quire 1 to 500; outside: fault.OutOfRange; a quire over the limit: fault.Infeasible
//   - Assumes: wrapper and boards come on top: 3 to 5 % (from memory)
//   - Error: exact for the sheets
//   - Source: derived
//   - Checked: worked example; property: the packet is under the limit, one quire more is not
func PacketSheets(each measure.Mass, limit measure.Kilograms, quire int) (measure.Sheets, error) {
	err := fault.First(
		measure.Inside("each", "the mass of a sheet", each, 0.01, 10000, "g"),
		measure.Inside("limit", "the weight of a packet", limit, 0.1, mostWeight, "kg"),
		measure.Inside("quire", "the sheets that stay together", quire, 1, 500, ""),
	)
	if err != nil {
		return 0, err
	}
	quires := int(1000*float64(limit)/(float64(quire)*float64(each)) + 1e-9)
	if quires == 0 {
		return 0, fault.Infeasible("limit", "one quire is heavier than the packet may be: make smaller packets")
	}
	return measure.Sheets(quires * quire), nil
}

// Wrap returns the sheet of wrapping paper for a packet: it goes round the
// short way, and the ends fold in from four sides.
//
//	length = 2 (short + height) + overlap, width = long + height + overlap
//
// Contract:
//
//   - Quantity: both sides of the wrapper, mm
//   - Inputs: long and short side of the sheets, height of the packet, overlap of the seams, mm
//   - Valid: sides 10 to 10000 mm, short not over long; height 1 to 3000 mm; overlap 0 to 500 mm; outside: fault.OutOfRange
//   - Assumes: sharp folds; a board above and below is part of the height
//   - Error: exact
//   - Source: derived
//   - Checked: worked example; property: the wrapper is larger than the packet's surface
func Wrap(long, short, height, overlap measure.Length) (length, width measure.Length, err error) {
	err = fault.First(
		measure.Inside("long", "the long side of the sheets", long, leastSide, mostSide, "mm"),
		measure.Inside("height", "the height of the packet", height, 1, mostPile, "mm"),
		measure.Inside("overlap", "the overlap of the seams", overlap, 0, 500, "mm"),
	)
	if err != nil {
		return 0, 0, err
	}
	if err := measure.Inside("short", "the short side of the sheets", short, leastSide, long, "mm"); err != nil {
		return 0, 0, err
	}
	return 2*(short+height) + overlap, long + height + overlap, nil
}
