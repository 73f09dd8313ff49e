package store

import (
	"path/filepath"
	"reflect"
	"testing"

	"vatside/internal/studio"
	"vatside/internal/testkit/years"
)

// A plan read without how its figures were summed is else the same.
func TestPlanWithoutSums(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	if err := years.Fill(t.Context(), s.Records(), years.Size{Papers: 5, Makings: 5, Sheets: 20}, start); err != nil {
		t.Fatal(err)
	}
	u := useCases(s)
	read := func(f studio.MakingFilter) []studio.Making {
		t.Helper()
		list, err := u.Makings(t.Context(), f)
		if err != nil || len(list) != 5 {
			t.Fatalf("%d makings, %v", len(list), err)
		}
		return list
	}
	whole, short := read(studio.MakingFilter{}), read(studio.MakingFilter{NoSums: true})
	sums := 0
	for _, m := range whole {
		for key, f := range m.Plan.Figures {
			sums += len(f.Sum)
			f.Sum = nil
			m.Plan.Figures[key] = f
		}
	}
	if sums == 0 {
		t.Error("no figure was summed")
	}
	if !reflect.DeepEqual(whole, short) {
		t.Error("more than the sums is left out")
	}
}
