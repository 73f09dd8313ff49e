package num

// Claimed accuracy: counts exact, chances to ten digits. Achieved: counts
// exact, chances to half a unit of the last printed digit.

import (
	"math"
	"testing"

	"vatside/internal/testkit/published"
)

func TestOveragePublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "overage.csv") {
		need, p, conf, want := int(published.Number(t, r[0])), published.Number(t, r[1]), published.Number(t, r[2]), int(published.Number(t, r[4]))
		chance := func(n int) float64 { return AtLeast(need, n, p) }
		if r[3] != "" {
			recorded := published.Number(t, r[3])
			a, b := 0.5+recorded*p, 0.5+recorded*(1-p)
			chance = func(n int) float64 { return AtLeastUncertain(need, n, a, b) }
		}
		n, ok := Fewest(need, 100000, conf, chance)
		if !ok || n != want {
			t.Errorf("%v: %d sheets, want %d", r, n, want)
		}
		if r[5] != "" {
			if got := chance(want); math.Abs(got-published.Number(t, r[5])) > 0.5e-10 {
				t.Errorf("%v: chance %.12f", r, got)
			}
		}
	}
}
