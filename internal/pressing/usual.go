package pressing

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// usual are the pressures that each kind of press gives on the sheets it is
// used for, kPa, with a 90 % band.
var usual = map[string]struct {
	low, mid, high measure.Pressure
	source         string
}{
	Jack:    {400, 700, 1300, "bottle-jack-press-page"}, // 60 to 190 psi
	Screw:   {50, 200, 800, source.KeyMemory},
	Lever:   {20, 80, 300, source.KeyMemory},
	Weights: {1, 4, 10, "practice"}, // two buckets are 3.7, 60 lb on 100 in² 4.1
	Vacuum:  {65, 85, 95, "practice"},
}

// UsualPressure returns the pressure a kind of press usually gives, for a
// studio that knows neither force nor gauge: low and high are a 90 % band
// around mid.
//
//	a table, no formula
//
// Contract:
//
//   - Quantity: pressure on the sheets, kPa, with its band
//   - Inputs: kind, one of jack, screw, lever, weights, vacuum
//   - Valid: those words; rolling is refused, as nobody has stated what it gives; others: fault.Invalid
//   - Assumes: sheets of the size that kind of press is built for
//   - Error: the band itself
//   - Source: bottle-jack-press-page for jacks; practice for weights and vacuum tables; memory for screw and lever
//   - Checked: unverified for screw and lever, remembered values; property: low < mid < high, the press-pressure table's studio presses lie in the jack's band
func UsualPressure(kind string) (low, mid, high measure.Pressure, sourceKey string, err error) {
	u, ok := usual[kind]
	if kind == Rolling {
		return 0, 0, 0, "", fault.Invalid("press", "what rolling presses with is not known; weigh three sheets after it")
	}
	if !ok {
		return 0, 0, 0, "", fault.Invalid("press", "%q is not a kind of press; say jack, screw, lever, weights, vacuum or rolling", kind)
	}
	return u.low, u.mid, u.high, u.source, nil
}
