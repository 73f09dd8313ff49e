package studio_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"vatside/internal/beating"
	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// rising are readings of a load that rises as the handbook has the fibre, so
// many times as fast.
func rising(t testing.TB, load int, name string, pace float64) []studio.BeatReading {
	t.Helper()
	f, _ := fibre.Get(name)
	rate, err := beating.HandbookRate(beating.BySchopperRiegler, f)
	if err != nil {
		t.Fatal(err)
	}
	var list []studio.BeatReading
	for _, h := range []float64{0.5, 1, 1.5, 2} {
		v := 100 / (1 + math.Exp(-(math.Log(0.16/0.84) + pace*rate.Mid*h)))
		list = append(list, studio.BeatReading{Load: load, Hours: h, Scale: beating.BySchopperRiegler, Value: &v})
	}
	return list
}

// What a making's own readings taught is not laid on its curve a second time.
func TestReadingsCountOnce(t *testing.T) {
	t.Parallel()
	told := func(learner studio.Learner) studio.Beating {
		b, ctx := newBench(t), t.Context()
		b.Learner = learner
		m := b.making()
		for i, r := range rising(t, 1, "abaca", 2) {
			must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent(fmt.Sprint("r", i), start.Add(time.Duration(i)*time.Hour/2), r)))
		}
		return must[studio.Beating](t)(b.Beating(ctx, m.ID, 1, 60))
	}
	if d := cmp.Diff(told(nil), told(studio.Learn)); d != "" {
		t.Errorf("what the making taught moved its own curve:\n%s", d)
	}
}

// Batches beaten apart rise each by its own fibre, and teach that fibre's pace.
func TestBatchesAreReadByTheirOwnFibre(t *testing.T) {
	t.Parallel()
	m := planned(t, func(r *plan.Request) {
		hours := 1.0
		r.Paper.Furnish = []plan.Part{{Fibre: "cotton rag", SharePct: 70}, {Fibre: "abaca", SharePct: 30, BeatingHours: &hours}}
	})
	if n := len(m.Plan.Loads); n != 2 {
		t.Fatalf("%d batches: %+v", n, m.Plan.Loads)
	}
	first := m.Plan.Loads[0].Loads
	var s studio.State
	for load, name := range map[int]string{1: "cotton rag", first + 1: "abaca"} {
		for _, r := range rising(t, load, name, 1.5) {
			s.Beats = append(s.Beats, studio.BeatSeen{BeatReading: r, At: start})
		}
	}
	machine := m.Plan.Loads[0].Machine
	for _, name := range []string{"cotton rag", "abaca"} {
		f, _ := fibre.Get(name)
		pace := must[belief.Belief](t)(plan.BeatingPace(machine, f))
		if o, ok := seen(t, m, s, pace.Key); !ok || math.Abs(o.Value-1.5) > 0.05 {
			t.Errorf("%s beaten half as fast again is seen as %.2f (%v)", name, o.Value, ok)
		}
	}

	b, ctx := newBench(t), t.Context()
	br := must[studio.Brief](t)(b.SaveBrief(ctx, studio.Brief{PaperID: must[studio.Paper](t)(b.SavePaper(ctx, aPaper())).ID, GoodSheets: 50, Sheet: m.Request.Sheet, ConfidencePct: 90}))
	m = must[studio.Making](t)(b.StartMaking(ctx, br.ID, m.Request, m.Plan))
	for load, want := range map[int]string{1: "cotton rag", first + 1: "abaca"} {
		if got := must[studio.Beating](t)(b.Beating(ctx, m.ID, load, 0)); got.Fibre != want {
			t.Errorf("load %d is reckoned by %s, want %s", load, got.Fibre, want)
		}
	}
}
