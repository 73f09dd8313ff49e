package fibre

// Claimed accuracy: a number read in print lies within the band of the table.
// That is all that one figure of another's pulp can show.

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/published"
)

// within holds a row, a number or low-high, to lie within the band.
func within(t *testing.T, r published.Row, v source.Value) {
	t.Helper()
	scale := 1.0
	if strings.HasPrefix(r.Unit, "%") {
		scale = 0.01
	}
	for _, printed := range strings.Split(r.Expected, "-") {
		if x := published.Number(t, printed) * scale; x < v.Low-1e-12 || x > v.High+1e-12 {
			t.Errorf("%s, %s (%s): %s %s by %s is outside the band %g-%g", r.ID, r.Quantity, r.Inputs, r.Expected, r.Unit, r.Source, v.Low, v.High)
		}
	}
}

func TestHandbookPublished(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "fibre")
	of := func(name string) Fibre {
		f, err := Find("fibre", name)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	for id, c := range map[string]struct{ fibre, quantity string }{
		"FB001": {"kozo", "yield"}, "FB003": {"kozo", "yield"}, "FB004": {"kozo black bark", "yield"}, "FB006": {"home grown flax", "yield"},
		"FB007": {"millet stalk", "yield"}, "FB009": {"raw abaca", "yield"}, "FB010": {"banana stem", "yield"}, "FB011": {"banana stem", "yield"},
		"FB012": {"bagasse", "yield"}, "FB013": {"jute", "yield"}, "FB015": {"sisal", "yield"}, "FB016": {"hemp", "yield"}, "FB017": {"kenaf", "yield"},
		"FB020": {"kozo", "cook_alkali"}, "FB021": {"kozo", "cook_alkali"}, "FB022": {"kozo", "cook_alkali"}, "FB023": {"mitsumata", "cook_alkali"},
		"FB024": {"gampi", "cook_alkali"}, "FB025": {"flax", "cook_alkali"}, "FB026": {"kenaf", "cook_alkali"}, "FB027": {"home grown flax", "cook_alkali"},
		"FB028": {"abaca tow", "cook_alkali"}, "FB029": {"iris leaf", "cook_alkali"}, "FB030": {"kozo", "cook_hours"}, "FB031": {"kozo", "cook_hours"},
		"FB032": {"mitsumata", "cook_hours"}, "FB033": {"gampi", "cook_hours"}, "FB034": {"corn husk", "cook_hours"}, "FB035": {"yucca", "cook_hours"},
		"FB036": {"flax", "cook_hours"}, "FB037": {"kenaf", "cook_hours"},
		"FB040": {"cotton linters", "length"}, "FB041": {"abaca", "length"}, "FB042": {"mitsumata", "length"}, "FB043": {"hemp", "length"},
		"FB044": {"wheat straw", "length"}, "FB045": {"esparto", "length"}, "FB046": {"kenaf", "length"}, "FB047": {"rice straw", "length"},
		"FB048": {"bagasse", "length"}, "FB049": {"reed", "length"}, "FB050": {"rush", "length"},
		"FB060": {"corrugated board", "density"}, "FB061": {"corrugated board", "freeness"},
	} {
		within(t, topic.Row(id), of(c.fibre).Of(c.quantity))
	}
	for id, c := range map[string]struct{ fibre, use string }{
		"FB080": {"uncooked flax", Usual}, "FB081": {"uncooked flax", "sculpture"}, "FB082": {"home grown flax", Usual},
		"FB083": {"linen half-stuff", Usual}, "FB084": {"abaca tow", Usual},
	} {
		v, ok := of(c.fibre).HoursFor(c.use)
		if !ok {
			t.Errorf("%s has no hours for %s", c.fibre, c.use)
		}
		within(t, topic.Row(id), v)
	}
	for id, c := range map[string]struct {
		fibre string
		hours float64
	}{"FB070": {"uncooked flax", 9.25}, "FB071": {"kraft wood pulp", 1}} {
		v, err := FreeShrinkageBand(of(c.fibre), measure.Hours(c.hours))
		if err != nil {
			t.Fatal(err)
		}
		within(t, topic.Row(id), v)
	}
	// What the printed masses make, and of the stem through the bark.
	topic.Row("FB001").Near(t, 4.0/9*100, 0.5)
	topic.Row("FB006").Near(t, 852.0/8824*100, 0.05)
	bark := of("kozo").Yield
	within(t, topic.Row("FB002"), source.Value{Low: 0.09 * bark.Low, High: 0.09 * bark.High})
	if lost := math.Abs(0.09*bark.Mid*100 - 4); lost > 0.5 {
		t.Errorf("the middle yield makes %.2f %% of the stem", 0.09*bark.Mid*100)
	}
}
