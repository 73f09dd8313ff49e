package studio_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"vatside/internal/beating"
	"vatside/internal/fibre"
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
