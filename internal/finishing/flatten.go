package finishing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

const (
	// LightPressure keeps dry sheets flat, kPa; 1 to 5 (source: memory). It is
	// ten books on a sheet, not the press.
	LightPressure measure.Pressure = 2
	// ReshuffleEvery is how often a pile is taken up and laid anew, so that
	// every sheet has lain beside others, h; 12 to 48 (source: memory; that it
	// is done: linen-rag-sample).
	ReshuffleEvery measure.Hours = 24

	gravity = 9.80665 // m/s², exact (source: definition)
)

// Flattening returns how long dry sheets lie under weight before they stay
// flat: low and high are a 90 % band around mid. Mills let paper mature for
// weeks to months; a studio seldom can.
//
//	a table, no formula
//
// Contract:
//
//   - Quantity: time under weight, h, with its band
//   - Inputs: none
//   - Valid: sheets dried flat, or nearly; cockled ones are damped first
//   - Assumes: the room's air holds; moved to drier air they curl again
//   - Error: the band itself
//   - Source: memory; weeks to months: modern-paper-making
//   - Checked: unverified, remembered values
func Flattening() (low, mid, high measure.Hours, sourceKey string) {
	return 12, 24, 72, source.KeyMemory
}

// WeightFor returns the weight to lay on a pile of sheets for a pressure.
//
//	m = 1000 P A / g
//
// Contract:
//
//   - Quantity: weight with the upper board, kg
//   - Inputs: area of one sheet, m²; p pressure wanted, kPa
//   - Valid: area 0.0001 to 20 m²; p 0.01 to 5000 kPa; outside: fault.OutOfRange
//   - Assumes: a stiff board on the whole sheet, weight in the middle
//   - Error: exact
//   - Source: definition
//   - Checked: 60 lb on 10 x 10 in are 0.6 psi, two buckets of 83 lb on 11 x 14 in 0.54 psi (arithmetic)
func WeightFor(area measure.Area, p measure.Pressure) (measure.Kilograms, error) {
	err := fault.First(
		measure.Inside("area", "the area of the sheet", area, 1e-4, 20, "m²"),
		measure.Inside("pressure", "the pressure", p, leastPressure, mostPressure, "kPa"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Kilograms(1000 * float64(p) * float64(area) / gravity), nil
}

// Piles returns into how many piles sheets go that may stand only so high: in
// the press for flattening, or on a shelf.
//
//	piles = ⌈sheets · caliper / highest⌉
//
// Contract:
//
//   - Quantity: piles, a count
//   - Inputs: sheets; caliper of one, mm; highest a pile may be, mm
//   - Valid: sheets 0 to 1000000; caliper 0.005 to 20 mm and not over the highest; highest 1 to 3000 mm; outside: fault.OutOfRange
//   - Assumes: sheets lie close; loose handmade paper stands up to twice as high until it is weighted
//   - Error: one pile
//   - Source: derived
//   - Checked: worked example; property: no pile is too high, one fewer would be
func Piles(sheets measure.Sheets, caliper, highest measure.Length) (int, error) {
	err := fault.First(
		measure.Inside("sheets", "the number of sheets", sheets, 0, mostSheets, ""),
		measure.Inside("highest", "the height of a pile", highest, 1, mostPile, "mm"),
	)
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("caliper", "the thickness of a sheet", caliper, 0.005, min(20, highest), "mm"); err != nil {
		return 0, err
	}
	perPile := math.Floor(float64(highest/caliper) + 1e-9)
	return int(math.Ceil(float64(sheets) / perPile)), nil
}

// Reshuffles returns how often a pile is laid anew while it flattens.
//
//	reshuffles = ⌈hours / 24⌉ − 1, not under 0
//
// Contract:
//
//   - Quantity: reshuffles, whole
//   - Inputs: hours under weight
//   - Valid: 0 to 100000 h; outside: fault.OutOfRange
//   - Assumes: once a day, not at the very end
//   - Error: one
//   - Source: practice; linen-rag-sample
//   - Checked: three days are two reshuffles; property: grows with the hours
func Reshuffles(hours measure.Hours) (int, error) {
	if err := measure.Inside("hours", "the hours under weight", hours, 0, 100000, "h"); err != nil {
		return 0, err
	}
	return max(0, int(math.Ceil(float64(hours/ReshuffleEvery)))-1), nil
}
