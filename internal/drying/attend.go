package drying

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Hands at the dryer, minutes (source: memory, all of them; half or twice in
// another studio).
const (
	minutesALoad   = 5.0  // setting up and taking apart one filling
	minutesAChange = 10.0 // changing all blotters of a load, or tightening a stack
)

// minutesASheet are laying one sheet in and taking it out.
var minutesASheet = map[string]float64{Stack: 1.25, Exchange: 1.25, Board: 1.5, Loft: 0.7, Free: 0.5}

// Attended returns the hands-on time of a way of drying, so that ways can be
// compared by the minutes they take and not only by the hours they last.
//
//	minutes = sheets · each + loads · (5 + 10 · visits between); a plate: 60 · loads · hours
//
// Contract:
//
//   - Quantity: hands-on time, minutes
//   - Inputs: kind, a way of drying; sheets; loads of the dryer; hours that one load dries
//   - Valid: kind one of stack, exchange, board, loft, free, plate; sheets 0 to 1000000; loads 0 to 100000; hours 0 to 10000 h; others: fault.Invalid, outside: fault.OutOfRange
//   - Assumes: sheets pressed and parted; somebody is there at night too for changed blotters
//   - Error: half or twice
//   - Source: memory
//   - Checked: unverified, remembered values; property: more sheets, loads or changes never take less, a plate is attended all its time
func Attended(kind string, sheets measure.Sheets, loads measure.Loads, hours measure.Hours) (measure.Minutes, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, 1e6, ""),
		measure.Inside("loads", "the loads of the dryer", loads, 0, 1e5, ""),
	)
	if err != nil {
		return 0, err
	}
	visits, err := Visits(kind, hours)
	if err != nil {
		return 0, err
	}
	if kind == Plate {
		return measure.Minutes(60 * float64(loads) * float64(hours)), nil
	}
	between := float64(len(visits) - 1) // the last visit takes the sheets out
	return measure.Minutes(float64(sheets)*minutesASheet[kind] + float64(loads)*(minutesALoad+minutesAChange*between)), nil
}
