package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// The kinds of press, in the trade's words. Each has a formula that gives its
// force, but a vacuum table, which gives a pressure (VacuumPressure), and
// rolling, of which nobody has stated either: weigh three sheets instead.
const (
	Jack    = "jack"
	Screw   = "screw"
	Lever   = "lever"
	Weights = "weights" // boards under buckets or stones
	Vacuum  = "vacuum"
	Rolling = "rolling"
)

// Efficiency of a press screw, from greased with a bearing under it to dry
// against its plate (source: memory). What it turns into heat keeps the screw
// from turning back.
const (
	EfficiencyOfScrew measure.Number = 0.25
	EfficiencyLow     measure.Number = 0.15
	EfficiencyHigh    measure.Number = 0.40
)

const (
	// gravity is standard gravity, m/s², exact (source: definition); real
	// gravity is within 0.3 %.
	gravity = 9.80665

	leastWeight measure.Kilograms = 0.1
	mostWeight  measure.Kilograms = 50000
)

// ForceOfJack returns the force of a jack that is worked to a share of the
// rating marked on it.
//
//	F = rated · share
//
// Contract:
//
//   - Quantity: force on the post, kN
//   - Inputs: rated, as marked on the jack or on the frame, whichever is less, kN; share of it that is used
//   - Valid: rated 0.01 to 5000 kN; share 0.01 to 1; outside: fault.OutOfRange
//   - Assumes: the share is read from a gauge or known from the handle's last stroke
//   - Error: without a gauge a third either way (from memory); the jack's friction takes up to about 10 %
//   - Source: definition
//   - Checked: published/press-force.csv; property: never over the rating
func ForceOfJack(rated measure.Force, share measure.Share) (measure.Force, error) {
	err := fault.First(
		measure.Inside("rated", "the rating marked on the jack", rated, leastForce, mostForce, "kN"),
		measure.Inside("share", "the share of the rating that is used", share, 0.01, 1, "as a fraction"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Force(float64(rated) * float64(share)), nil
}

// ForceOfScrew returns the force of a screw press from the pull at the end of
// its bar.
//
//	F = η · 2π · pull · bar / lead
//
// Contract:
//
//   - Quantity: force on the post, kN
//   - Inputs: pull at the bar's end, kN (0.3 kN is about what one person pulls steadily); bar, from axis to hand, mm; lead, the way of the platen in one turn (pitch times starts), mm; efficiency η, a number
//   - Valid: pull 0.001 to 5 kN; bar 50 to 3000 mm; lead 0.5 to 100 mm; efficiency 0.01 to 0.95; outside: fault.OutOfRange
//   - Assumes: the screw keeps its force when let go, less what the post gives way: pull again until it no longer turns
//   - Error: as the efficiency, 0.15 to 0.40
//   - Source: derived
//   - Checked: published/press-force.csv; property: the work of one turn is conserved
func ForceOfScrew(pull measure.Force, bar, lead measure.Length, efficiency measure.Number) (measure.Force, error) {
	err := fault.First(
		measure.Inside("pull", "the pull on the bar", pull, 0.001, 5, "kN"),
		measure.Inside("bar", "the length of the bar", bar, 50, 3000, "mm"),
		measure.Inside("lead", "the lead of the screw", lead, 0.5, 100, "mm"),
		measure.Inside("efficiency", "the efficiency of the screw", efficiency, 0.01, 0.95, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Force(float64(efficiency) * 2 * math.Pi * float64(pull) * float64(bar/lead)), nil
}

// ScrewEfficiency returns the share of the work at the bar that a square thread
// passes on, with the collar or plate that its end turns on.
//
//	η = l / (2π (d/2 · (l + π μ d)/(π d − μ l) + μ c/2))
//
// Contract:
//
//   - Quantity: efficiency, a number
//   - Inputs: lead l, mean diameter d of the thread and c of the collar it turns on (0 on a ball bearing), mm; friction μ of both
//   - Valid: lead 0.5 to 100 mm; thread 5 to 300 mm and wider than the lead; collar 0 to 500 mm; friction 0.01 to 0.5; outside: fault.OutOfRange
//   - Assumes: square thread; a slanted one loses a few per cent more
//   - Error: as the friction: greased 0.08 to 0.15, dry 0.15 to 0.3 (from memory)
//   - Source: derived; the form after any handbook of machine elements
//   - Checked: published/press-force.csv; property: falls with friction
func ScrewEfficiency(lead, thread, collar measure.Length, friction measure.Number) (measure.Number, error) {
	err := fault.First(
		measure.Inside("lead", "the lead of the screw", lead, 0.5, 100, "mm"),
		measure.Inside("thread", "the mean diameter of the thread", thread, max(5, lead), 300, "mm"),
		measure.Inside("collar", "the mean diameter of the collar", collar, 0, 500, "mm"),
		measure.Inside("friction", "the friction", friction, 0.01, 0.5, ""),
	)
	if err != nil {
		return 0, err
	}
	l, d, c, mu := float64(lead), float64(thread), float64(collar), float64(friction)
	arm := d/2*(l+math.Pi*mu*d)/(math.Pi*d-mu*l) + mu*c/2 // mm of torque to a newton of force
	return measure.Number(l / (2 * math.Pi * arm)), nil
}

// ForceOfLever returns the force of a beam with a weight hung on its end, the
// post between the weight and the pivot.
//
//	F = m g · long / short
//
// Contract:
//
//   - Quantity: force on the post, kN
//   - Inputs: weight hung on the beam, kg; long, from pivot to weight, and short, from pivot to post, mm
//   - Valid: weight 0.1 to 50000 kg; long 10 to 20000 mm; short 10 mm to long; outside: fault.OutOfRange; over 5000 kN: fault.OutOfRange
//   - Assumes: the beam is near level and its own weight left out: add half of it to the weight
//   - Error: 5 % while the beam is within 20° of level
//   - Source: derived
//   - Checked: published/press-force.csv; property: the moments balance
func ForceOfLever(weight measure.Kilograms, long, short measure.Length) (measure.Force, error) {
	err := fault.First(
		measure.Inside("weight", "the weight on the beam", weight, leastWeight, mostWeight, "kg"),
		measure.Inside("long", "the way from pivot to weight", long, 10, 20000, "mm"),
	)
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("short", "the way from pivot to post", short, 10, long, "mm"); err != nil {
		return 0, err
	}
	f := measure.Force(float64(weight) * gravity / 1000 * float64(long/short))
	if err := measure.Inside("force", "the force of the lever", f, 0, mostForce, "kN"); err != nil {
		return 0, err
	}
	return f, nil
}

// ForceOfWeights returns the force of what lies on the boards: stones, books or
// buckets of water.
//
//	F = m g / 1000
//
// Contract:
//
//   - Quantity: force on the post, kN
//   - Inputs: weight on the post, upper boards too, kg; a litre of water is a kilogram
//   - Valid: 0.1 to 50000 kg; outside: fault.OutOfRange
//   - Assumes: the weight stands over the middle of the sheets
//   - Error: exact
//   - Source: definition
//   - Checked: published/press-force.csv
func ForceOfWeights(weight measure.Kilograms) (measure.Force, error) {
	if err := measure.Inside("weight", "the weight on the post", weight, leastWeight, mostWeight, "kg"); err != nil {
		return 0, err
	}
	return measure.Force(float64(weight) * gravity / 1000), nil
}

// CheckPlaten refuses a sheet that the platen does not cover: what hangs out is
// not pressed, stays wet and cockles.
func CheckPlaten(sheetLong, sheetShort, platenLong, platenShort measure.Length) error {
	err := fault.First(
		measure.Inside("sheet_long", "the long side of the sheet", sheetLong, 10, 5000, "mm"),
		measure.Inside("sheet_short", "the short side of the sheet", sheetShort, 10, 5000, "mm"),
		measure.Inside("platen_long", "the long side of the platen", platenLong, 10, 5000, "mm"),
		measure.Inside("platen_short", "the short side of the platen", platenShort, 10, 5000, "mm"),
	)
	if err != nil {
		return err
	}
	const slack = 1 // mm; no ruler at a wet post reads closer
	if max(sheetLong, sheetShort) > max(platenLong, platenShort)+slack || min(sheetLong, sheetShort) > min(platenLong, platenShort)+slack {
		return fault.Infeasible("platen", "the sheet is larger than the platen of %.4g × %.4g mm: its edges would not be pressed. Lay a stiff board over the whole sheet, or form it smaller", float64(platenLong), float64(platenShort))
	}
	return nil
}
