package beating

import (
	"fmt"
	"math"

	"vatside/internal/measure"
)

type (
	// SchopperRiegler is slowness by that tester, degrees.
	SchopperRiegler float64
	// Freeness is Canadian standard freeness, mL. It falls as slowness rises.
	Freeness float64
)

// Unit returns the unit the type is stated in.
func (SchopperRiegler) Unit() string { return "°SR" }

// Unit returns the unit the type is stated in.
func (Freeness) Unit() string { return "mL CSF" }

// testerVolume is what both testers are filled with, mL.
const testerVolume = 1000

// What goes into each tester: 2 g and 3 g of bone-dry fibre in its litre
// (tester-mill-note, tappi-t227).
const (
	SchopperRieglerStock measure.Consistency = 2
	FreenessStock        measure.Consistency = 3
)

// Where the testers can be relied on: 10 to 90 °SR (iso-5267-1), 30 to 850 mL
// (tester-mill-note). Below 100 mL fine stuff makes the freeness rise again
// (tappi-t227).
const (
	SlownessLeast, SlownessMost SchopperRiegler = 10, 90
	FreenessLeast, FreenessMost Freeness        = 30, 850
	falseFreeness               Freeness        = 100
)

// repeatLimit is by how much two runs of a tester may differ, a share
// (tester-mill-note).
const repeatLimit = 0.04

// SchopperRieglerFromDischarge returns the slowness that a tester's side
// outlet tells.
//
//	SR = 100 − V/10
//
// Contract:
//
//   - Quantity: slowness, degrees Schopper-Riegler
//   - Inputs: side discharge of 2 g in one litre at 20 °C, mL
//   - Valid: 0 to 1,000 mL; outside: fault.OutOfRange; the test is reliable from 10 to 90 degrees (Unreliable)
//   - Assumes: the tester's own litre, cone and mesh; nothing is converted from or to other tests
//   - Error: two runs may differ by 4 %
//   - Source: iso-5267-1
//   - Checked: published/check-drainability.csv
func SchopperRieglerFromDischarge(side measure.Milliliters) (SchopperRiegler, error) {
	if err := measure.Inside("discharge", "the side discharge", side, 0, testerVolume, "mL"); err != nil {
		return 0, err
	}
	return SchopperRiegler(100 - float64(side)/10), nil
}

// Unreliable returns the warning for a slowness outside the tester's reach,
// and whether there is one.
func Unreliable(sr SchopperRiegler) (Warning, bool) {
	if measure.Within(sr, SlownessLeast, SlownessMost) {
		return Warning{}, false
	}
	return Warning{
		Code:   "slowness-unreliable",
		Text:   fmt.Sprintf("The Schopper-Riegler test is reliable from %g to %g degrees; go by the studio's own drain test.", float64(SlownessLeast), float64(SlownessMost)),
		Source: "iso-5267-1",
	}, true
}

// FalseFreeness returns the warning for a freeness so low that it may be
// false, and whether there is one.
func FalseFreeness(f Freeness) (Warning, bool) {
	if f >= falseFreeness {
		return Warning{}, false
	}
	return Warning{
		Code:   "freeness-false",
		Text:   fmt.Sprintf("Below %g mL fine stuff slips through the plate and makes the freeness seem higher than it is; go by the studio's own drain test.", float64(falseFreeness)),
		Source: "tappi-t227",
	}, true
}

// Repeat returns the warning for two runs of one test that lie too far apart,
// and whether there is one.
func Repeat[T ~float64](first, second T) (Warning, bool) {
	mean := (float64(first) + float64(second)) / 2
	if math.Abs(float64(first-second)) <= repeatLimit*mean {
		return Warning{}, false
	}
	return Warning{
		Code:   "test-repeat",
		Text:   fmt.Sprintf("The two runs differ by more than %g %%: stir the stock, rinse the tester and make another.", repeatLimit*100),
		Source: "tester-mill-note",
	}, true
}
