package arithmetic

import (
	"math"
	"testing"
)

// Sums done by hand.
func TestEval(t *testing.T) {
	t.Parallel()
	for working, want := range map[string]float64{
		"420 / (1 − 0.04)":                 437.5,
		"60 + 3":                           63,
		"7 / 2":                            3.5, // never whole-number division
		"2 + 3 × 4":                        14,
		"2 · (3 + 4) ÷ 7":                  2,
		"(−3.5) + 1":                       -2.5,
		"−2 × −3":                          6,
		"1 − 2 − 3":                        -4,
		"12 / 2 / 3":                       2,
		"11.65 × (1 / 0.1 − 1) / 1000":     0.10485,
		"(1 + 0.055) / (1 + 0.05)":         1.0047619047619047,
		"100 ± 5":                          105,
		"0.0000012":                        0.0000012,
		"((8 + 16) / 24) + 6.25 / (2 + 3)": 2.25,
	} {
		v, err := Eval(working)
		if err != nil || math.Abs(v.Is-want) > 1e-12 {
			t.Errorf("%q = %v, %v; want %v", working, v.Is, err, want)
		}
	}
}

func TestEvalRefuses(t *testing.T) {
	t.Parallel()
	for _, working := range []string{"", "5 +", "a + 1", "5 % 2", "2 ^ 3", `"5"`, "1 / 0", "0 / 0", "f(2)", "5 6", "1 == 1", "!3", "(2", "about 5"} {
		if v, err := Eval(working); err == nil {
			t.Errorf("%q was taken as %v", working, v)
		}
	}
}

func TestAgree(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		working, result string
		agrees          bool
	}{
		{"420 / (1 − 0.04)", "437.5 mm", true},
		{"420 / (1 − 0.04)", "437.6 mm", false},
		{"2 / 3", "0.66667", true},
		{"2 / 3", "0.66666", false},
		{"5 − 8", "−3 g", true},
		{"5 − 8", "3 g", false},
		{"{a}", "3", false},
		{"3", "three sheets", false},
		{"0", "0 g", true},
		{"1000.001 − 1000", "0.0012 L", true}, // the seventh digit of 1000.001 is a thousandth
		{"1000.001 − 1000", "0.0022 L", false},
	} {
		if err := Agree(c.working, c.result); (err == nil) != c.agrees {
			t.Errorf("%q against %q: %v", c.working, c.result, err)
		}
	}
}

func TestHalf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v     float64
		digit int
		want  float64
	}{{437.5, 5, 0.005}, {0.0012345, 5, 0.00000005}, {99999, 5, 0.5}, {-12, 2, 0.5}, {0, 5, 0}} {
		if got := Half(c.v, c.digit); math.Abs(got-c.want) > 1e-12*math.Max(1, c.want) {
			t.Errorf("half a unit of digit %d of %g is %g, want %g", c.digit, c.v, got, c.want)
		}
	}
}
