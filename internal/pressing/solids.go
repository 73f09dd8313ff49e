package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// The prior for pressed solids. From memory and unverified: one weighing of
// three sheets at parting replaces it.
const (
	// ReferencePressure is where ReferenceSolids is stated, kPa; near the
	// laboratory's 345 kPa (source: tappi-t205).
	ReferencePressure measure.Pressure = 350
	// ReferenceSolids at ReferencePressure, a fraction; ± 0.05 (source: memory).
	ReferenceSolids measure.Solids = 0.33
	// ReferenceSolidsSD is its standard deviation (source: memory).
	ReferenceSolidsSD = 0.05
	// Exponent of pressure, a number; ± 0.05, never negative (source: memory).
	Exponent measure.Number = 0.10
	// ExponentSD is its standard deviation (source: memory). Draw it on a
	// logarithmic scale, where ± 0.05 on 0.10 is a spread of about 0.5.
	ExponentSD = 0.05
	// MostSolids is the driest a hand press is taken to leave a post, a
	// fraction; ± 0.05 (source: memory).
	MostSolids measure.Solids = 0.50
	// LeastSolids is what couching alone leaves, a fraction; 0.08 to 0.12
	// (source: memory). No pressing makes a sheet wetter.
	LeastSolids measure.Solids = 0.10
	// FirstPress is how long a post is held, minutes: 10 to 15, until dripping
	// stops (source: make-paper-videos).
	FirstPressLeast measure.Minutes = 10
	FirstPressMost  measure.Minutes = 15
)

// SolidsAt returns the solids of a sheet pressed at a pressure until dripping
// stops.
//
//	s = S1 · (P / 350 kPa)^n, not under 0.10 and not over 0.50
//
// Contract:
//
//   - Quantity: solids of the pressed sheet, bone-dry mass over total mass
//   - Inputs: p pressure on the sheets, kPa; reference S1, solids at 350 kPa; exponent n
//   - Valid: p 0.1 to 10000 kPa; reference 0.02 to 0.90; exponent 0 to 2; outside: fault.OutOfRange
//   - Assumes: held until dripping stops; felts in good order; the same stock as the reference
//   - Error: with the prior ± 0.06 in solids at 50 to 1300 kPa; after one weighing about ± 0.02
//   - Source: memory for S1 and n; the power law after compressibility-1965
//   - Checked: the middles of the remembered ranges of docs/models/pressing.md lie in the prior's band; property: monotone in pressure, limits, the reference returns itself
func SolidsAt(p measure.Pressure, reference measure.Solids, exponent measure.Number) (measure.Solids, error) {
	err := fault.First(
		measure.Inside("pressure", "the pressure", p, leastPressure, mostPressure, "kPa"),
		measure.Inside("reference", "the solids at 350 kPa", reference, 0.02, 0.90, "as a fraction"),
		measure.Inside("exponent", "the exponent of pressure", exponent, 0, 2, ""),
	)
	if err != nil {
		return 0, err
	}
	s := float64(reference) * math.Pow(float64(p/ReferencePressure), float64(exponent))
	return measure.Solids(min(max(s, float64(LeastSolids)), float64(MostSolids))), nil
}

// ReferenceFromWeighing returns the solids at 350 kPa that explain a weighing
// at another pressure: SolidsAt turned round.
//
//	S1 = s / (P / 350 kPa)^n
//
// Contract:
//
//   - Quantity: solids at 350 kPa, a fraction
//   - Inputs: s weighed solids; p pressure of that pressing, kPa; exponent n
//   - Valid: s 0.10 to 0.50; p 0.1 to 10000 kPa; exponent 0 to 2; outside: fault.OutOfRange
//   - Assumes: as SolidsAt
//   - Error: exact for the model; three sheets on a 0.1 g scale give s to about 0.01
//   - Source: derived
//   - Checked: property: round trip with SolidsAt
func ReferenceFromWeighing(s measure.Solids, p measure.Pressure, exponent measure.Number) (measure.Solids, error) {
	err := fault.First(
		measure.Inside("solids", "the weighed solids", s, LeastSolids, MostSolids, "as a fraction"),
		measure.Inside("pressure", "the pressure", p, leastPressure, mostPressure, "kPa"),
		measure.Inside("exponent", "the exponent of pressure", exponent, 0, 2, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Solids(float64(s) / math.Pow(float64(p/ReferencePressure), float64(exponent))), nil
}

// WaterLeft returns the water that pressing leaves in sheets, to be dried out.
//
//	water = solids · (1/s − 1) / 1000
//
// Contract:
//
//   - Quantity: water in the pressed sheets, kg
//   - Inputs: solids, bone-dry grams of all the sheets; s solids after the press, a fraction
//   - Valid: solids 0 to 1000000 g; s 0.02 to 1; outside: fault.OutOfRange
//   - Assumes: all sheets alike; dried to bone-dry, so the few per cent that stay in paper are counted too
//   - Error: exact for the inputs; counts 5 to 8 % of the paper's mass too much, which is under 4 % of the water at 35 % solids
//   - Source: definition
//   - Checked: published/water-after-press.csv
func WaterLeft(solids measure.Mass, s measure.Solids) (measure.Kilograms, error) {
	err := fault.First(
		measure.Inside("solids_mass", "the bone-dry mass", solids, 0, 1e6, "g"),
		measure.Inside("solids", "the solids after the press", s, 0.02, 1, "as a fraction"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Kilograms(float64(solids) * (1/float64(s) - 1) / 1000), nil
}
