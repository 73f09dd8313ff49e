package cooking

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

// shelf returns the alkali of a formula.
func shelf(t testing.TB, formula string) Alkali {
	t.Helper()
	for _, a := range alkalis {
		if a.Formula == formula {
			return a
		}
	}
	t.Fatalf("no alkali %s", formula)
	return Alkali{}
}

// The balance meets both databases of the published table within 0.1 at 20 and
// 25 °C up to 50 g/kg; where they are 0.15 apart, it meets their middle. Hot
// and stronger, within 0.25 of the middle.
func TestPHOfAlkaliSolutions(t *testing.T) {
	t.Parallel()
	type point struct{ solute, temp, grams string }
	middle := map[point]float64{}
	var order []point
	for _, r := range published.Table(t, "alkali-solution-ph.csv") {
		p := point{r["solute"], r["temp_C"], r["g_per_kg_water"]}
		if _, seen := middle[p]; !seen {
			order = append(order, p)
		}
		middle[p] += published.Number(t, r["pH"]) / 2
	}
	if len(order) != 140 {
		t.Fatalf("%d points, want 140", len(order))
	}
	worst, hot := 0.0, 0.0
	for _, p := range order {
		temp, grams := published.Number(t, p.temp), published.Number(t, p.grams)
		s, err := Dissolved(shelf(t, p.solute), measure.Mass(grams), measure.Temperature(temp))
		if err != nil {
			t.Fatal(err)
		}
		got, err := PHOf(s, measure.Temperature(temp))
		if err != nil {
			t.Fatal(err)
		}
		by := 0.25
		off := math.Abs(float64(got) - middle[p])
		if temp <= 25 && grams <= 50 {
			by, worst = 0.1, max(worst, off)
		} else {
			hot = max(hot, off)
		}
		if off > by {
			t.Errorf("%s g/kg of %s at %s °C: pH %.3f, want %.3f within %g", p.grams, p.solute, p.temp, float64(got), middle[p], by)
		}
	}
	t.Logf("worst %.3f at 20–25 °C up to 50 g/kg, %.3f hot or stronger", worst, hot)
}

var _ = strings.TrimSpace
