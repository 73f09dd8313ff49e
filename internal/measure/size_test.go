package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
)

func TestReadSize(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		sys  System
		a, b Length
	}{
		{"22 x 30 in", Metric, 558.8, 762},
		{"22x30 in", Metric, 558.8, 762},
		{"22\" x 30\"", Metric, 558.8, 762},
		{"22 × 30\"", Metric, 558.8, 762},
		{"22 in by 30 in", Metric, 558.8, 762},
		{"22 in x 30", Metric, 558.8, 762},
		{"22 x 30", US, 558.8, 762},
		{"56 × 76 cm", US, 560, 760},
		{"56 x 76 CM", US, 560, 760},
		{"55,9 x 76,2 cm", Metric, 559, 762},
		{"560 x 760", Metric, 560, 760},
		{"22½ x 28½ in", Metric, 571.5, 723.9},
		{"8½ x 11 in", US, 215.9, 279.4},
		{"16 9/16 x 11 3/4 in", Metric, 420.6875, 298.45},
		{"2 ft 6 in x 3 ft", Metric, 762, 914.4},
		{"0.5 m * 70 cm", Metric, 500, 700},
	} {
		a, b, err := ReadSize(c.text, c.sys)
		if err != nil || math.Abs(float64(a-c.a)) > 1e-9 || math.Abs(float64(b-c.b)) > 1e-9 {
			t.Errorf("%q (%s) is %g by %g mm, %v; want %g by %g", c.text, c.sys, a, b, err, c.a, c.b)
		}
	}
	for _, text := range []string{"", "22", "22 x", "x 30 in", "22 x 30 x 4 in", "22 x 30 g", "0 x 30 in", "-5 x 30 in", "A4", "big x small", "2 ft 6 x 3",
		"22 x 1e9 in", "1,500 x 20 mm", strings.Repeat("9", 70) + " x 3 in", "NaN x Inf"} {
		if a, b, err := ReadSize(text, Metric); err == nil || a != 0 || b != 0 || fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%q is read as %g by %g, %v", text, a, b, err)
		}
	}
}

// A size shown is read back, each side within half a step: half a millimetre,
// or half a sixteenth of an inch.
func TestShownSizeIsReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(10, 20000)
		a, b := Length(side.Draw(t, "a")), Length(side.Draw(t, "b"))
		for sys, half := range map[System]float64{Metric: 0.5, US: inch / 32} {
			text := ShowSize(a, b, sys)
			for _, reader := range []System{Metric, US} {
				x, y, err := ReadSize(text, reader)
				if err != nil || math.Abs(float64(x-a)) > half+1e-9 || math.Abs(float64(y-b)) > half+1e-9 {
					t.Fatalf("%g by %g mm shown as %s is read as %g by %g, %v", a, b, text, x, y, err)
				}
			}
		}
	})
}

// A fraction of an inch on a sheet is a sixteenth at the finest, reduced.
func TestInchesAreFractions(t *testing.T) {
	t.Parallel()
	for mm, want := range map[Length]string{420.6875: "16 9/16", 215.9: "8 1/2", 558.8: "22", 19.05: "3/4", 435: "17 1/8", 436.5625: "17 3/16"} {
		if n, u := Show(float64(mm), "mm", US); n != want || u != "in" {
			t.Errorf("%g mm is %s %s, want %s in", mm, n, u, want)
		}
	}
}

// A caliper is shown in thousandths and read back within half of one.
func TestShownCaliperIsReadBack(t *testing.T) {
	t.Parallel()
	if n, u := ShowCaliper(0.2032, US); n != "0.008" || u != "in" {
		t.Errorf("8 pt is shown as %s %s", n, u)
	}
	if n, _ := ShowCaliper(Length(math.NaN()), US); n != nothing {
		t.Errorf("NaN is shown as %s", n)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 30).Draw(t, "mm")
		for sys, half := range map[System]float64{Metric: 0.0005, US: point / 2} {
			n, u := ShowCaliper(Length(v), sys)
			if got, err := Parse(OfCaliper, n+" "+u, sys); err != nil || math.Abs(got-v) > half*(1+1e-9) {
				t.Fatalf("%g mm shown as %s %s is read as %g, %v", v, n, u, got, err)
			}
		}
	})
}

func FuzzReadSize(f *testing.F) {
	for _, s := range []string{"22 x 30 in", "56 × 76 cm", "8½\" by 11\"", "2 ft 6 x 3 ft", "55,9 x 76,2 cm", "x", "1 x 1 x 1", "16 9/16 x 12 in"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, us bool) {
		sys := Metric
		if us {
			sys = US
		}
		a, b, err := ReadSize(text, sys)
		if err != nil {
			if a != 0 || b != 0 || fault.KindOf(err) != fault.KindInvalid || len(err.Error()) > 400 {
				t.Fatalf("%q: %g by %g, %v", text, a, b, err)
			}
			return
		}
		if !(a > 0) || !(b > 0) || a > mostValue || b > mostValue {
			t.Fatalf("%q is read as %g by %g", text, a, b)
		}
	})
}

func ExampleReadSize() {
	a, b, _ := ReadSize("22½ x 28½ in", Metric)
	fmt.Println(ShowSize(a, b, Metric), "·", ShowSize(a, b, US))
	// Output: 572 × 724 mm · 22 1/2 × 28 1/2 in
}
