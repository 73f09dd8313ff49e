package sheet

// Claimed accuracy: exact. Achieved: exact.

import (
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/published"
)

func TestNamedSizesPublished(t *testing.T) {
	t.Parallel()
	mm := map[string]float64{"in": 25.4, "mm": 1}
	rows, all := published.Table(t, "paper-sizes.csv"), NamedSizes()
	if len(rows) != len(all) {
		t.Fatalf("%d sizes, printed are %d", len(all), len(rows))
	}
	for i, r := range rows {
		near(t, r["name"]+" long", float64(all[i].Long), published.Number(t, r["long"])*mm[r["unit"]], 1e-9)
		near(t, r["name"]+" short", float64(all[i].Short), published.Number(t, r["short"])*mm[r["unit"]], 1e-9)
		if all[i].Name != r["name"] || all[i].Source != r["source"] || all[i].Long < all[i].Short {
			t.Errorf("%+v, printed is %v", all[i], r)
		}
		if _, ok := source.Get(all[i].Source); !ok {
			t.Errorf("%s rests on %s, which is not in the registry", all[i].Name, all[i].Source)
		}
		for _, name := range []string{r["name"], strings.ToUpper(r["name"]), " " + strings.ToLower(strings.ReplaceAll(r["name"], " ", "-"))} {
			if got, err := FindSize(name); got != all[i] || err != nil {
				t.Errorf("%q is found as %v, %v", name, got, err)
			}
		}
	}
	for _, name := range []string{"", "A11", "Elephant's", "297x210"} {
		if s, err := FindSize(name); fault.KindOf(err) != fault.KindNotFound || s != (NamedSize{}) {
			t.Errorf("%q is found as %v, %v", name, s, err)
		}
	}
}

// A sheet dipped from a food box: a round of 20 cm and 100 g/m² weighs 3.14 g
// (common practice).
func TestRoundSheet(t *testing.T) {
	t.Parallel()
	a := must[measure.Area](t)(ShapeArea(Round, 200, 0, 0))
	near(t, "round of 20 cm", float64(must[measure.Mass](t)(ConditionedMass(100, a))), 3.14, 0.005)
}
