package finishing

// Claimed accuracy: exact counts; half a unit of the last printed digit of the
// pressures. Achieved: within it.

import (
	"math"
	"strconv"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestCountPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "quires.csv") {
		var n [6]int
		for i := range n {
			var err error
			if n[i], err = strconv.Atoi(r[i]); err != nil {
				t.Fatal(err)
			}
		}
		got, err := Count(n[0], n[1], n[2])
		if want := (Counted{n[3], n[4], n[5]}); err != nil || got != want {
			t.Errorf("%v: %+v, %v", r, got, err)
		}
	}
}

// 60 lb on 10 x 10 in press with 0.6 psi, two buckets of 83 lb on 11 x 14 in
// with 0.54; turned round, the weight for that pressure.
func TestWeightForPublished(t *testing.T) {
	t.Parallel()
	const squareInch, psi, pound = 0.0254 * 0.0254, 6.894757293, 0.45359237 // exact (inch-pound-1959)
	for _, c := range []struct{ area, psi, pounds, half float64 }{{100, 0.6, 60, 0.05}, {154, 0.54, 83, 0.005}} {
		got, err := WeightFor(measure.Area(c.area*squareInch), measure.Pressure(c.psi*psi))
		if err != nil || math.Abs(float64(got)/pound/c.pounds-1) > c.half/c.psi {
			t.Errorf("%g psi on %g in²: %.1f lb, %v; want %g", c.psi, c.area, float64(got)/pound, err, c.pounds)
		}
	}
}
