package fibre

// These pins hold the curves to the tables they were drawn to follow. The
// tables are from memory: agreement with them is not evidence.

import (
	"math"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestShrinkageTablePin(t *testing.T) {
	t.Parallel()
	all := published.File(t, "testdata/shrinkage-table.csv")
	for _, r := range all[1:] {
		f, ok := Get(r[0])
		if !ok {
			t.Fatalf("%s is not in the table", r[0])
		}
		for c := 1; c < len(r); c++ {
			got, err := FreeShrinkage(f, measure.Hours(published.Number(t, all[0][c])))
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(got)*100-published.Number(t, r[c])) > 0.05 {
				t.Errorf("%s at %s h: %.3f %%, the table has %s", r[0], all[0][c], float64(got)*100, r[c])
			}
		}
	}
}

func TestShrinkageRangesPin(t *testing.T) {
	t.Parallel()
	drawn := map[string]bool{}
	for _, r := range published.File(t, "testdata/shrinkage-ranges.csv")[1:] {
		f, ok := Get(r[0])
		if !ok {
			t.Fatalf("%s is not in the table", r[0])
		}
		drawn[f.Name] = true
		got, err := FreeShrinkage(f, measure.Hours((published.Number(t, r[1])+published.Number(t, r[2]))/2))
		if err != nil {
			t.Fatal(err)
		}
		if s := float64(got) * 100; s < published.Number(t, r[3]) || s > published.Number(t, r[4]) {
			t.Errorf("%s in the middle of %s-%s h: %.2f %%, remembered %s-%s", r[0], r[1], r[2], s, r[3], r[4])
		}
	}
	for _, f := range All() {
		if f.ShrinkBand > 0.4 && !drawn[f.Name] {
			t.Errorf("%s: its curve is held by no row", f.Name)
		}
	}
}
