package num

// Claimed accuracy: counts exact, chances to ten digits. Achieved: counts
// exact, chances to half a unit of the last printed digit.

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rd := csv.NewReader(f)
	rd.Comment = '#'
	all, err := rd.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	return all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestOveragePublished(t *testing.T) {
	t.Parallel()
	for _, r := range rows(t, "overage.csv") {
		need, p, conf, want := int(number(t, r[0])), number(t, r[1]), number(t, r[2]), int(number(t, r[4]))
		chance := func(n int) float64 { return AtLeast(need, n, p) }
		if r[3] != "" {
			recorded := number(t, r[3])
			a, b := 0.5+recorded*p, 0.5+recorded*(1-p)
			chance = func(n int) float64 { return AtLeastUncertain(need, n, a, b) }
		}
		n, ok := Fewest(need, 100000, conf, chance)
		if !ok || n != want {
			t.Errorf("%v: %d sheets, want %d", r, n, want)
		}
		if r[5] != "" {
			if got := chance(want); math.Abs(got-number(t, r[5])) > 0.5e-10 {
				t.Errorf("%v: chance %.12f", r, got)
			}
		}
	}
}
