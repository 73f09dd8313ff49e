package cooking

import (
	"fmt"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Lines in waste rules that a liquor may cross, by pH. They are for telling
// when to ask, never for telling that it may be tipped.
const (
	CorrosiveUS PH = 12.5 // hazardous waste from here (source: corrosive-waste-us)
	CorrosiveEU PH = 11.5 // presumed so where the make-up is not fully known (source: corrosive-waste-uk)
	SewerFloor  PH = 5.0  // nobody's drain below it (source: sewer-floor-us)
	targetLow   PH = 6    // where the local authority says nothing else
	targetHigh  PH = 9
)

// nearLine is how far under a line a predicted pH may lie and the reading over
// it: the balance is off by 0.1, alkali as bought and the meter by as much.
const nearLine PH = 0.2

// mostAMonth is how much liquor at pH 12.5 and over a small generator may make
// in a month, kg (source: small-generator-us).
const mostAMonth measure.Kilograms = 100

// WasteVolume returns what a cook leaves to be rid of: its liquor and the water
// of its rinses.
//
//	V = liquor + rinse
//
// Contract:
//
//   - Quantity: waste, L
//   - Inputs: liquor and rinse water, L
//   - Valid: each 0 to 100000 L; outside: fault.OutOfRange
//   - Assumes: what boils off is made up with water; what the fibre keeps is left out
//   - Error: 10 %
//   - Source: definition
//   - Checked: property: never under either
func WasteVolume(liquor, rinse measure.Volume) (measure.Volume, error) {
	if err := fault.First(
		measure.Inside("liquor", "the liquor", liquor, 0, 1e5, "L"),
		measure.Inside("rinse", "the rinse water", rinse, 0, 1e5, "L"),
	); err != nil {
		return 0, err
	}
	return liquor + rinse, nil
}

// FibreAMonth returns how much fibre may be cooked in a month before the
// liquor passes the allowance of a very small generator in the US.
//
//	dry = 100 kg / r
//
// Contract:
//
//   - Quantity: dry fibre a month, kg
//   - Inputs: r litres of liquor to a kilogram of dry fibre
//   - Valid: 1 to 200 L/kg; outside: fault.OutOfRange
//   - Assumes: liquor of pH 12.5 or over, not neutralised on the spot, 1 kg to a litre
//   - Error: exact for the rule as read; states differ
//   - Source: small-generator-us
//   - Checked: published/cook-worked.csv
func FibreAMonth(r measure.Number) (measure.Kilograms, error) {
	if err := measure.Inside("liquor", "the liquor", r, LeastLiquor, MostLiquor, "L/kg"); err != nil {
		return 0, err
	}
	return mostAMonth / measure.Kilograms(r), nil
}

// Limits are the local authority's for what may go into the drain.
type Limits struct {
	Low, High PH
	Said      bool // by the studio; else 6 to 9 stands in
}

// UsualLimits are those to aim at until the local authority has been asked.
func UsualLimits() Limits { return Limits{Low: targetLow, High: targetHigh} }

// Waste is what to do with a liquor of a predicted pH, in the order of weight;
// of caustic alkali every line is told, whatever was predicted. It never says to
// dilute.
func Waste(ph PH, caustic bool, limits Limits) []Caution {
	if !limits.Said || !(limits.Low < limits.High) {
		limits = UsualLimits()
	}
	limits.Low = max(limits.Low, SewerFloor)
	var out []Caution
	if caustic || ph >= CorrosiveUS-nearLine {
		out = append(out, caution("waste-corrosive"), caution("waste-month"))
	}
	if caustic || ph >= CorrosiveEU-nearLine {
		out = append(out, caution("waste-uk"))
	}
	target := Caution{Code: "waste-target", Source: "practice",
		Text: fmt.Sprintf("Neutralise the cold liquor slowly until it stays between pH %.4g and %.4g, write the readings down, and never go below 5. Do not add water to pass a limit: that is forbidden in many places.", float64(limits.Low), float64(limits.High))}
	if !limits.Said {
		target.Text += " These numbers stand in until you have asked: the local authority's own limits decide."
	}
	return append(out, target, caution("waste-business"), caution("waste-septic"), caution("neutralise"))
}
