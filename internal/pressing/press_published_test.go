package pressing

// Claimed accuracy: half a unit of the last printed digit. Achieved: within it
// in every row.

import (
	"math"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestForcePublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "press-force.csv") {
		in := [4]float64{}
		for i := range in {
			if r[i+1] != "" {
				in[i] = published.Number(t, r[i+1])
			}
		}
		force, mm := measure.Force(in[0]), func(i int) measure.Length { return measure.Length(in[i]) }
		var got float64
		var err error
		switch r[0] {
		case "jack":
			force, err = ForceOfJack(force, measure.Share(in[1]))
			got = float64(force)
		case "screw":
			force, err = ForceOfScrew(force, mm(1), mm(2), measure.Number(in[3]))
			got = float64(force)
		case "thread":
			var e measure.Number
			e, err = ScrewEfficiency(mm(0), mm(1), mm(2), measure.Number(in[3]))
			got = float64(e)
		case "lever":
			force, err = ForceOfLever(measure.Kilograms(in[0]), mm(1), mm(2))
			got = float64(force)
		case "weights":
			force, err = ForceOfWeights(measure.Kilograms(in[0]))
			got = float64(force)
		default:
			t.Fatalf("unknown kind %q", r[0])
		}
		if want := published.Number(t, r[5]); err != nil || math.Abs(got-want) > published.Number(t, r[7]) {
			t.Errorf("%v: %.5g, %v", r, got, err)
		}
	}
}

// Two 5-gallon buckets of water are 83 lb; on 11 x 14 in they press with 0.54
// psi, about a hundredth of a jack press of 20 short tons on 22 x 30 in. A
// bookbinder's 60 lb on 10 x 10 in are 0.6 psi.
func TestWeightsPublished(t *testing.T) {
	t.Parallel()
	const gallon, pound = 3.785411784, 0.45359237 // L (us-gallon), kg (inch-pound-1959)
	buckets := measure.Kilograms(2 * 5 * gallon)  // a litre is a kilogram
	if lb := float64(buckets) / pound; math.Abs(lb-83) > 0.5 {
		t.Errorf("two buckets weigh %.2f lb, want 83", lb)
	}
	psi := func(weight measure.Kilograms, squareInches float64) float64 {
		force, err := ForceOfWeights(weight)
		if err != nil {
			t.Fatal(err)
		}
		p, err := PressureOn(force, measure.Area(squareInches*squareInchInM2))
		if err != nil {
			t.Fatal(err)
		}
		return float64(p) / kPaPerPsi
	}
	two := psi(buckets, 11*14)
	if math.Abs(two-0.54) > 0.005 {
		t.Errorf("two buckets press with %.3f psi, want 0.54", two)
	}
	if share := two / 61; math.Abs(share-0.01) > 0.005 {
		t.Errorf("that is %.3f of a jack press, want about 1 %%", share)
	}
	if got := psi(60*pound, 100); math.Abs(got-0.6) > 0.005 {
		t.Errorf("60 lb on 100 in² press with %.3f psi, want 0.6", got)
	}
}

// What the law says of no press at all: sheets under two buckets come out
// wetter, with nearly twice the water of a jack press.
func TestBucketsLeaveMoreWater(t *testing.T) {
	t.Parallel()
	water := func(p measure.Pressure) float64 {
		s, err := SolidsAt(p, ReferenceSolids, Exponent)
		if err != nil {
			t.Fatal(err)
		}
		kg, err := WaterLeft(1000, s)
		if err != nil {
			t.Fatal(err)
		}
		return float64(kg)
	}
	// By hand: 0.33 (3.7/350)^0.1 = 0.209 and 0.33 (418/350)^0.1 = 0.336.
	if ratio := water(3.7) / water(418); math.Abs(ratio-1.91) > 0.02 {
		t.Errorf("%.2f times the water, want 1.91", ratio)
	}
}

// A platen for 22 x 30 in takes that sheet either way round; an old standing
// press that worked only to 11 x 17 in does not.
func TestCheckPlaten(t *testing.T) {
	t.Parallel()
	const in = 25.4
	if err := CheckPlaten(22*in, 30*in, 30*in, 22*in); err != nil {
		t.Errorf("its own size: %v", err)
	}
	if err := CheckPlaten(30*in, 22*in, 17*in, 11*in); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("too large: %v", err)
	}
	if err := CheckPlaten(17*in, 12*in, 17*in, 11*in); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("too wide: %v", err)
	}
}
