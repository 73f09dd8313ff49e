package fibre

import (
	"math"
	"slices"
	"testing"
)

// Every quantity stands in a group, and is read in the unit that the table
// states it in, whatever the fibre keeps.
func TestQuantitiesAreReadAsStated(t *testing.T) {
	t.Parallel()
	for _, q := range quantities {
		if !slices.Contains(Groups(), q.Group) {
			t.Errorf("%s stands in no group: %q", q.Key, q.Group)
		}
		stated := Band{q.low, (q.low + q.high) / 2, q.high}.stated()
		if got := q.Read(q.kept(stated)); math.Abs(got.Low-stated.Low) > 1e-9 || math.Abs(got.Mid-stated.Mid) > 1e-9 || math.Abs(got.High-stated.High) > 1e-9 {
			t.Errorf("%s stated as %+v is read as %+v", q.Key, stated, got)
		}
	}
	kozo, _ := Get("kozo")
	moisture, _ := quantityOf("bought_moisture")
	if v := moisture.Read(kozo.Bought); moisture.Bare() != "%" || v.Mid < 1 {
		t.Errorf("moisture as bought is read as %g %s", v.Mid, moisture.Bare())
	}
}
