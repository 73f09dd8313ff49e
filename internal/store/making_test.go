package store

import (
	"path/filepath"
	"reflect"
	"sync"
	"sync/atomic"
	"testing"

	"vatside/internal/belief"
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

// However many ask at once of a file that an older program wrote, it is worked
// out anew once.
func TestAnewOnce(t *testing.T) {
	t.Parallel()
	s := open(t, fixture(t, "testdata/schema_0001.sql"))
	u, ctx := useCases(s), t.Context()
	var times atomic.Int32
	u.Learner = func(m studio.Making, st studio.State) []belief.Observation {
		times.Add(1)
		return nil
	}
	var wait sync.WaitGroup
	for range 6 {
		wait.Go(func() {
			if list, err := u.Find(ctx, studio.Wanted{Words: []string{"cover"}}); err != nil || len(list) != 1 {
				t.Errorf("%d found, %v", len(list), err)
			}
			if list, err := u.Makings(ctx, studio.MakingFilter{Light: true}); err != nil || len(list) != 1 || list[0].Progress.GoodPct == nil {
				t.Errorf("listed: %+v, %v", list, err)
			}
		})
	}
	wait.Wait()
	if n := times.Load(); n != 1 {
		t.Errorf("worked out %d times", n)
	}
}
