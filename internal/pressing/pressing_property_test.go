package pressing

import (
	"fmt"
	"math"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func TestSolidsAtGrowsWithPressure(t *testing.T) {
	t.Parallel()
	for _, n := range []measure.Number{0, 0.05, 0.10, 0.15, 0.7} {
		last := measure.Solids(0)
		for p := measure.Pressure(0.2); p < 9000; p *= 1.3 {
			s, err := SolidsAt(p, ReferenceSolids, n)
			if err != nil {
				t.Fatal(err)
			}
			if s < last || s < LeastSolids || s > MostSolids {
				t.Errorf("n %g, %g kPa: %g after %g", n, p, s, last)
			}
			last = s
		}
	}
	if s, err := SolidsAt(ReferencePressure, 0.31, 0.12); err != nil || math.Abs(float64(s)-0.31) > 1e-12 {
		t.Errorf("the reference does not return itself: %v, %v", s, err)
	}
}

func TestReferenceRoundTrip(t *testing.T) {
	t.Parallel()
	for p := measure.Pressure(20); p < 2000; p *= 1.7 {
		s, err := SolidsAt(p, 0.32, 0.1)
		if err != nil {
			t.Fatal(err)
		}
		back, err := ReferenceFromWeighing(s, p, 0.1)
		if err != nil || math.Abs(float64(back)-0.32) > 1e-12 {
			t.Errorf("%g kPa: %v, %v", p, back, err)
		}
	}
}

func TestWaterIsConserved(t *testing.T) {
	t.Parallel()
	for s := measure.Solids(0.05); s < 1; s += 0.05 {
		kg, err := WaterLeft(1000, s)
		if err != nil {
			t.Fatal(err)
		}
		if total := 1 + float64(kg); math.Abs(1/total-float64(s)) > 1e-12 {
			t.Errorf("1 kg bone-dry and its water are %g solids, want %g", 1/total, s)
		}
	}
	if kg, err := WaterLeft(500, 1); err != nil || kg != 0 {
		t.Errorf("bone-dry sheets hold %v, %v", kg, err)
	}
}

func TestPostsHoldAllSheets(t *testing.T) {
	t.Parallel()
	for sheets := 1; sheets < 200; sheets += 7 {
		for per := 1; per < 60; per += 9 {
			n, err := Posts(measure.Sheets(sheets), per)
			if err != nil {
				t.Fatal(err)
			}
			if float64(n)*float64(per) < float64(sheets) || (float64(n)-1)*float64(per) >= float64(sheets) {
				t.Errorf("%d sheets, %d to a post: %g posts", sheets, per, n)
			}
		}
	}
	if n, _ := Posts(98, 49); n != 2 {
		t.Errorf("98 sheets in posts of 49 are %g posts", n)
	}
}

func TestPostWeightGrows(t *testing.T) {
	t.Parallel()
	a, _ := PostWeight(10, 12, 0.10, 800)
	b, _ := PostWeight(11, 12, 0.10, 800)
	if math.Abs(float64(b-a)-0.92) > 1e-9 { // one sheet of 120 g wet and one felt of 800 g
		t.Errorf("one sheet more weighs %g kg, want 0.92", b-a)
	}
}

func TestBadNumbersAreFaults(t *testing.T) {
	t.Parallel()
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e12}
	for _, x := range bad {
		calls := map[string]error{
			"PressureOn force": second(PressureOn(measure.Force(x), 0.1)),
			"PressureOn area":  second(PressureOn(60, measure.Area(x))),
			"SolidsAt p":       second(SolidsAt(measure.Pressure(x), 0.33, 0.1)),
			"SolidsAt s1":      second(SolidsAt(350, measure.Solids(x), 0.1)),
			"SolidsAt n":       second(SolidsAt(350, 0.33, measure.Number(x))),
			"Reference s":      second(ReferenceFromWeighing(measure.Solids(x), 350, 0.1)),
			"Reference p":      second(ReferenceFromWeighing(0.3, measure.Pressure(x), 0.1)),
			"WaterLeft m":      second(WaterLeft(measure.Mass(x), 0.33)),
			"WaterLeft s":      second(WaterLeft(100, measure.Solids(x))),
			"Posts":            second(Posts(measure.Sheets(x), 10)),
			"PostWeight n":     second(PostWeight(measure.Sheets(x), 12, 0.1, 800)),
			"PostWeight m":     second(PostWeight(10, measure.Mass(x), 0.1, 800)),
			"PostWeight s":     second(PostWeight(10, 12, measure.Solids(x), 800)),
			"PostWeight f":     second(PostWeight(10, 12, 0.1, measure.Mass(x))),
			"AtMost a":         second(PostWeightAtMost(measure.Area(x), 100)),
			"AtMost h":         second(PostWeightAtMost(0.4, measure.Length(x))),
			"Vacuum":           second(VacuumPressure(measure.Pressure(x), OneAtmosphere)),
			"Atmosphere":       second(VacuumPressure(50, measure.Pressure(x))),
			"Rating planned":   CheckRating(measure.Force(x), 80),
			"Rating marked":    CheckRating(60, measure.Force(x)),
		}
		for name, err := range calls {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s with %g: %v", name, x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"zero area":     second(PressureOn(60, 0)),
		"zero force":    second(PressureOn(0, 0.1)),
		"zero solids":   second(WaterLeft(100, 0)),
		"one felt":      second(PostSheets(1)),
		"post of none":  second(Posts(10, 0)),
		"over rating":   CheckRating(80.1, 80),
		"over pressure": second(SolidsAt(10001, 0.33, 0.1)),
	} {
		if fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := CheckRating(80, 80); err != nil {
		t.Errorf("the rating itself is refused: %v", err)
	}
}

// second drops the value of a result and keeps its error; a value beside an
// error must be zero.
func second[T ~float64 | ~int](v T, err error) error {
	if err != nil && v != 0 {
		return fmt.Errorf("a number %g came with the fault", float64(v))
	}
	return err
}

func TestCautions(t *testing.T) {
	t.Parallel()
	if len(Cautions()) == 0 {
		t.Fatal("no cautions")
	}
	for _, kind := range everyPress {
		if len(CautionsOf(kind)) == 0 {
			t.Errorf("%s: no caution", kind)
		}
		for _, c := range CautionsOf(kind) {
			if c.Code == "" || c.Text == "" || c.Source == "" {
				t.Errorf("%s: caution with a gap: %+v", kind, c)
			}
		}
	}
	if _, is := LiftCaution(22.9); is {
		t.Error("22.9 kg is under what one may lift")
	}
	if c, is := LiftCaution(90); !is || c.Source == "" {
		t.Error("90 kg needs a caution")
	}
}

func ExamplePressureOn() {
	// A bottle jack of 6 short tons (53.4 kN) on 12 x 15 in (0.116 m²).
	p, _ := PressureOn(53.4, 0.116)
	fmt.Printf("%.0f kPa\n", float64(p))
	// Output: 460 kPa
}

func ExampleSolidsAt() {
	// Twice the reference pressure: 0.33 times the tenth root of two, 1.0718.
	s, _ := SolidsAt(700, 0.33, 0.10)
	fmt.Printf("%.3f\n", float64(s))
	// Output: 0.354
}

func ExampleWaterLeft() {
	// 98 sheets of 16.5 g, pressed to 35 % solids.
	w, _ := WaterLeft(98*16.5, 0.35)
	fmt.Printf("%.1f kg\n", float64(w))
	// Output: 3.0 kg
}

func ExamplePostWeight() {
	// Ten sheets of 12 g couched at 10 % (120 g wet), eleven felts of 800 g wet:
	// 1.2 kg and 8.8 kg.
	w, _ := PostWeight(10, 12, 0.10, 800)
	fmt.Printf("%.1f kg\n", float64(w))
	// Output: 10.0 kg
}
