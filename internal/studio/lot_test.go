package studio_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
)

// lot puts a lot on the shelf.
func (b *bench) lot(l studio.Lot, grams float64) studio.Lot {
	b.t.Helper()
	if l.What == "" {
		l.What = "abaca"
	}
	if l.Form == "" {
		l.Form = studio.AsBought
	}
	return must[studio.Lot](b.t)(b.SaveLot(b.t.Context(), l, studio.Movement{ID: fmt.Sprintf("first-%s-%s", l.Name, l.Since), MassG: grams}))
}

// shelf is what there is of a lot, and its movements.
func (b *bench) shelf(id string) (float64, []studio.Movement) {
	b.t.Helper()
	l, moved, err := b.Lot(b.t.Context(), id)
	if err != nil {
		b.t.Fatal(err)
	}
	return l.AmountG, moved
}

// Whatever comes, is counted or is thrown away, each of it sent any number of
// times, the amount is the sum of the movements and what a model has.
func TestAmountIsItsMovements(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	run := 0
	rapid.Check(t, func(rt *rapid.T) {
		run++
		first := float64(rapid.IntRange(1, 5000).Draw(rt, "first")) / 10
		l := b.lot(studio.Lot{Name: fmt.Sprint("lot ", run)}, first)
		want, seen := first, 1
		for i := range rapid.IntRange(0, 12).Draw(rt, "changes") {
			m := studio.Movement{ID: fmt.Sprintf("%d/%d", run, i), MassG: float64(rapid.IntRange(1, 5000).Draw(rt, "grams")) / 10}
			do, now := b.Receive, want+m.MassG
			switch rapid.IntRange(0, 2).Draw(rt, "kind") {
			case 1:
				do, now = b.ThrowAway, want-m.MassG
			case 2:
				do, now = b.Count, m.MassG
			}
			if math.Abs(now-want) > 1e-6 {
				seen++
			}
			want = now
			for range rapid.IntRange(1, 3).Draw(rt, "times") {
				if err := do(t.Context(), l.ID, m); err != nil {
					rt.Fatal(err)
				}
			}
		}
		got, moved := b.shelf(l.ID)
		sum := 0.0
		for _, m := range moved {
			sum += m.MassG
		}
		if math.Abs(got-want) > 1e-6 || math.Abs(sum-want) > 1e-6 || len(moved) != seen {
			rt.Fatalf("%g g lie there by the list, %g by %d movements; want %g by %d", got, sum, len(moved), want, seen)
		}
	})
}

// What adding in binary leaves over is no fibre: a lot used to the last gram is
// used up.
func TestUsedUpIsNothing(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	l := b.lot(studio.Lot{Name: "linters"}, 0.3)
	for i, g := range []float64{0.1, 0.2} {
		if err := b.ThrowAway(t.Context(), l.ID, studio.Movement{ID: fmt.Sprint(i), MassG: g}); err != nil {
			t.Fatal(err)
		}
	}
	open := must[[]studio.Lot](t)(b.Lots(t.Context(), studio.LotFilter{Open: true}))
	if got, _ := b.shelf(l.ID); got != 0 || math.Signbit(got) || len(open) != 0 {
		t.Errorf("%g g are left, %d lots with something in them", got, len(open))
	}
}

// An id stands for one thing: sent again with another amount, for another lot
// or as something else it is refused, and what was written first stands.
func TestAnIDStandsForOneMovement(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	l, other := b.lot(studio.Lot{Name: "one"}, 500), b.lot(studio.Lot{Name: "two"}, 500)
	if err := b.Receive(ctx, l.ID, studio.Movement{ID: "m", MassG: 100}); err != nil {
		t.Fatal(err)
	}
	wantKind(t, b.Receive(ctx, l.ID, studio.Movement{ID: "m", MassG: 101}), fault.KindConflict)
	wantKind(t, b.Receive(ctx, other.ID, studio.Movement{ID: "m", MassG: 100}), fault.KindConflict)
	wantKind(t, b.ThrowAway(ctx, l.ID, studio.Movement{ID: "m", MassG: 100}), fault.KindConflict)
	if err := b.Count(ctx, l.ID, studio.Movement{ID: "c", MassG: 550}); err != nil {
		t.Fatal(err)
	}
	if err := b.Receive(ctx, l.ID, studio.Movement{ID: "n", MassG: 10}); err != nil {
		t.Fatal(err)
	}
	if err := b.Count(ctx, l.ID, studio.Movement{ID: "c", MassG: 550}); err != nil {
		t.Errorf("counted and sent again: %v", err)
	}
	wantKind(t, b.Count(ctx, l.ID, studio.Movement{ID: "c", MassG: 560}), fault.KindConflict)
	if got, _ := b.shelf(l.ID); got != 560 {
		t.Errorf("%g g, want 560", got)
	}

	again := must[studio.Lot](t)(b.SaveLot(ctx, studio.Lot{Name: "one", What: "abaca", Form: studio.AsBought}, studio.Movement{ID: "first-one-", MassG: 500}))
	if again.ID != l.ID {
		t.Error("a form sent twice made two lots")
	}
	_, err := b.SaveLot(ctx, studio.Lot{Name: "one", What: "abaca", Form: studio.AsBought}, studio.Movement{ID: "first-one-", MassG: 600})
	wantKind(t, err, fault.KindConflict)
	_, err = b.SaveLot(ctx, studio.Lot{Name: "one", What: "flax", Form: studio.AsBought}, studio.Movement{ID: "first-one-", MassG: 500})
	wantKind(t, err, fault.KindConflict)
}

// Whatever is weighed out, corrected and taken back, in any order of arrival
// and sent again: the lots hold what they held less what the making took by its
// record, and no sending moves anything twice.
func TestUsedInAMakingFollowsTheRecord(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.now = start.Add(24 * time.Hour)
	const there = 1e5
	lots := []string{b.lot(studio.Lot{Name: "one"}, there).ID, b.lot(studio.Lot{Name: "two"}, there).ID}
	run := 0
	rapid.Check(t, func(rt *rapid.T) {
		run++
		m := b.making()
		var before [2]float64
		for i := range lots {
			before[i], _ = b.shelf(lots[i])
		}
		weighed := func() studio.FibreWeighed {
			f := studio.FibreWeighed{Grams: float64(rapid.IntRange(0, 50).Draw(rt, "unnamed")) / 10}
			for _, id := range lots {
				if g := float64(rapid.IntRange(0, 300).Draw(rt, "grams")) / 10; g > 0 {
					f.Lots, f.Grams = append(f.Lots, studio.FromLot{Lot: id, Grams: g}), f.Grams+g
				}
			}
			return f
		}
		var events []studio.Event
		for i := range rapid.IntRange(1, 10).Draw(rt, "events") {
			id, at := fmt.Sprintf("%d-%d", run, i), start.Add(time.Duration(i)*time.Minute)
			kind := rapid.IntRange(0, 2).Draw(rt, "kind")
			if i == 0 || kind == 0 {
				events = append(events, studio.NewEvent(id, at, weighed()))
				continue
			}
			target := rapid.SampledFrom(events).Draw(rt, "target").ID
			if kind == 1 {
				events = append(events, studio.Void(id, at, target))
			} else {
				events = append(events, studio.Correction(id, at, target, weighed()))
			}
		}
		var st studio.State
		for _, e := range rapid.Permutation(events).Draw(rt, "arrival") {
			for range 2 {
				var err error
				if st, err = b.Record(t.Context(), m.ID, e); err != nil {
					rt.Fatal(err)
				}
			}
		}
		for i := range lots {
			after, moved := b.shelf(lots[i])
			if math.Abs(before[i]-after-st.FibreLots[lots[i]]) > 1e-5 {
				rt.Fatalf("%g g went off lot %d, and the record says %g", before[i]-after, i, st.FibreLots[lots[i]])
			}
			n := 0
			for _, v := range moved {
				if v.MakingID == m.ID {
					n++
				}
			}
			if n > len(events) {
				rt.Fatalf("%d movements of %d events", n, len(events))
			}
		}
	})
}

// A lot that is on no shelf cannot be used, and nothing of that sending stays.
func TestUsedFromNoLot(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	_, err := b.Record(t.Context(), m.ID, studio.NewEvent("f", start, studio.FibreWeighed{Grams: 5, Lots: []studio.FromLot{{Lot: "none", Grams: 5}}}))
	wantKind(t, err, fault.KindNotFound)
	if n := len(must[[]studio.Event](t)(b.Events(t.Context(), m.ID))); n != 0 {
		t.Errorf("%d entries stay", n)
	}
}

// A plan gets what has something left and is not past its day, the oldest
// first; on its last day a lot still counts.
func TestPlansGetTheOldestLotFirst(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.now = time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	water := 97.0
	b.lot(studio.Lot{Name: "newest", Since: "2026-11-18"}, 100)
	b.lot(studio.Lot{Name: "oldest", Since: "2026-03-02"}, 100)
	b.lot(studio.Lot{Name: "last day", Form: studio.WetStock, MoisturePct: &water, Since: "2026-11-15", KeepBy: "2026-11-20"}, 100)
	b.lot(studio.Lot{Name: "a day late", Form: studio.WetStock, MoisturePct: &water, Since: "2026-11-14", KeepBy: "2026-11-19"}, 100)
	gone := b.lot(studio.Lot{Name: "used up", Since: "2026-01-01"}, 100)
	if err := b.Count(t.Context(), gone.ID, studio.Movement{ID: "none", MassG: 0}); err != nil {
		t.Fatal(err)
	}
	p := must[studio.Paper](t)(b.SavePaper(t.Context(), aPaper()))
	req, _, err := b.PlanBrief(t.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 5, Sheet: p.Sheet, ConfidencePct: 90})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, l := range req.Studio.Lots {
		names = append(names, l.Name)
	}
	if want := []string{"oldest", "last day", "newest"}; !slices.Equal(names, want) {
		t.Errorf("the plan gets %q, want %q", names, want)
	}
}

// Stock and broke left over are kept once each, with the making and the solids
// they were left with; a wet lot keeps its solids until somebody says otherwise.
func TestLeftoversAreKeptOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("left", start, studio.StockLeft{Litres: 4}),
		studio.NewEvent("dry", start, studio.WeighedDry{Sheets: 10, Grams: 130, RHPct: 50}), studio.NewEvent("g", start, studio.Graded{Good: 50, Broke: 6})))
	stock := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.WetStock))
	broke := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.Scraps))
	if got, _ := b.shelf(broke.ID); math.Abs(got-6*13) > 1e-6 { // six of ten sheets of 130 g, weighed at 50 % RH
		t.Errorf("%g g of broke, want 78", got)
	}
	if stock.KeepBy != "2026-11-25" || stock.FromMaking != m.ID || broke.KeepBy != "" {
		t.Errorf("kept %+v and %+v", stock, broke)
	}
	// The record is put right afterwards: the lot has a life of its own.
	must[studio.State](t)(b.Record(ctx, m.ID, studio.Correction("right", start, "left", studio.StockLeft{Litres: 7})))
	if again := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.WetStock)); again.ID != stock.ID || again.AmountG != 4000 {
		t.Errorf("kept again: %+v", again)
	}
	dry := func() measure.Mass {
		l, _, err := b.Lot(ctx, stock.ID)
		if err != nil {
			t.Fatal(err)
		}
		g, ok := l.Dry()
		if !ok {
			t.Fatal("the solids of kept stock are not known")
		}
		return g
	}
	whole := dry()
	solids := (100 - *stock.MoisturePct) / 100
	if math.Abs(float64(whole)-4000*solids) > 1e-6 || solids <= 0.01 {
		t.Errorf("%g g of solids in 4 L of stock with %g %% water", float64(whole), *stock.MoisturePct)
	}
	if err := b.ThrowAway(ctx, stock.ID, studio.Movement{ID: "half", MassG: 2000}); err != nil {
		t.Fatal(err)
	}
	if half := dry(); math.Abs(float64(whole-2*half)) > 1e-6 {
		t.Errorf("half of %g g of solids are %g", float64(whole), float64(half))
	}
	bare := b.making()
	_, err := b.KeepLeft(ctx, bare.ID, studio.WetStock)
	wantKind(t, err, fault.KindInfeasible)
}

// A lot comes back as it was saved, is changed in its place with a revision,
// and two who change it at once are told.
func TestLotRoundTrip(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	water, price := 9.25, 14.5
	l := b.lot(studio.Lot{Name: " Blue bale ", What: "ABACA", MoisturePct: &water, PriceKg: &price, Since: "2026-05-01", KeepBy: "2027-05-01", Note: "dusty"}, 3210.5)
	got, moved, err := b.Lot(ctx, l.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff(l, got); diff != "" {
		t.Errorf("lot (-saved +read):\n%s", diff)
	}
	if l.What != "abaca" || l.Name != "Blue bale" || len(moved) != 1 || moved[0].Kind != studio.Received || moved[0].MassG != 3210.5 {
		t.Errorf("kept %+v by %+v", l, moved)
	}
	mine, theirs := l, l
	mine.Note = "dusted"
	mine.AmountG = 1 // of no effect: only movements change it
	mine = must[studio.Lot](t)(b.SaveLot(ctx, mine, studio.Movement{}))
	if mine.AmountG != 3210.5 || mine.Revision != 2 {
		t.Errorf("changed: %+v", mine)
	}
	theirs.Note = "damp"
	_, err = b.SaveLot(ctx, theirs, studio.Movement{})
	wantKind(t, err, fault.KindConflict)
	_, err = b.SaveLot(ctx, studio.Lot{Name: "blue BALE", What: "flax", Form: studio.AsBought}, studio.Movement{ID: "x", MassG: 1})
	wantKind(t, err, fault.KindInvalid)
	_, err = b.SaveLot(ctx, studio.Lot{What: "flax", Form: studio.WetStock}, studio.Movement{ID: "x", MassG: 1})
	wantKind(t, err, fault.KindInvalid) // how thick?
}

// Good and retree sheets of a graded making are kept as lots that are counted:
// sold, given back, counted and thrown away to the last, whatever a sheet is
// found to weigh later; no plan weighs out of them.
func TestFinishedSheets(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	_, err := b.KeepLeft(ctx, m.ID, studio.Sheets)
	wantKind(t, err, fault.KindInfeasible)
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("dry", start, studio.WeighedDry{Sheets: 3, Grams: 40, RHPct: 50}),
		studio.NewEvent("g", start, studio.Graded{Good: 50, Retree: 7, Broken: 2, Broke: 1})))
	good := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.Sheets))
	retree := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.Retree))
	if again := must[studio.Lot](t)(b.KeepLeft(ctx, m.ID, studio.Sheets)); again.ID != good.ID {
		t.Error("the sheets are kept twice")
	}
	count := func(l studio.Lot) int {
		t.Helper()
		l, _, err := b.Lot(ctx, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		return l.Count(l.AmountG)
	}
	if good.What != m.PaperName || good.FromMaking != m.ID || good.GrammageG <= 0 || count(good) != 50 || count(retree) != 7 || good.Name == retree.Name {
		t.Errorf("kept %+v and %+v", good, retree)
	}
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("dry again", start, studio.WeighedDry{Sheets: 10, Grams: 190, RHPct: 50})))
	of := func(id string, n int) studio.Movement {
		return studio.Movement{ID: id, MassG: float64(n) * good.SheetG, Note: "fair"}
	}
	for i, step := range []struct {
		do   func() error
		left int
	}{
		{func() error { return b.GoOut(ctx, good.ID, of("fair", 12)) }, 38},
		{func() error { return b.GoOut(ctx, good.ID, of("fair", 12)) }, 38}, // sent twice
		{func() error { return b.Receive(ctx, good.ID, of("back", 2)) }, 40},
		{func() error { return b.Count(ctx, good.ID, of("counted", 37)) }, 37},
		{func() error { return b.ThrowAway(ctx, good.ID, of("wet", 36)) }, 1},
		{func() error { return b.GoOut(ctx, good.ID, of("last", 1)) }, 0},
	} {
		if err := step.do(); err != nil || count(good) != step.left {
			t.Errorf("step %d: %d sheets, %v; want %d", i, count(good), err, step.left)
		}
	}
	if got, _ := b.shelf(good.ID); got != 0 {
		t.Errorf("%g g are left of no sheets", got)
	}
	if lots := must[[]studio.Lot](t)(b.Lots(ctx, studio.LotFilter{Open: true})); len(lots) != 1 || lots[0].ID != retree.ID {
		t.Errorf("still there: %+v", lots)
	}
	wantKind(t, b.GoOut(ctx, b.lot(studio.Lot{Name: "bale"}, 900).ID, studio.Movement{ID: "x", MassG: 1}), fault.KindInvalid)
	good.Name = "Spring sheets"
	saved := must[studio.Lot](t)(b.SaveLot(ctx, good, studio.Movement{}))
	if saved.SheetG != good.SheetG || saved.GrammageG != good.GrammageG {
		t.Errorf("saved as %+v", saved)
	}
	saved.Form = studio.AsBought
	_, err = b.SaveLot(ctx, saved, studio.Movement{})
	wantKind(t, err, fault.KindInvalid)
	_, err = b.SaveLot(ctx, studio.Lot{What: "abaca", Form: studio.Sheets}, studio.Movement{ID: "new", MassG: 5})
	wantKind(t, err, fault.KindInvalid)
}
