package plan_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/testkit/laps"
)

// What a plan costs when nothing is fixed: the aim is under 6 ms.
func BenchmarkMakeUnknown(b *testing.B) {
	r := worked(b)
	r.Known = nil
	benchmarkMake(b, r)
}

func BenchmarkMakeFixed(b *testing.B) {
	r := worked(b)
	benchmarkMake(b, r)
}

func benchmarkMake(b *testing.B, r plan.Request) {
	b.ReportAllocs()
	l := laps.Start()
	for b.Loop() {
		l.Do(func() {
			if _, err := plan.Make(r, belief.Known{}); err != nil {
				b.Fatal(err)
			}
		})
	}
	l.Report(b)
}

// BenchmarkMakeLearned plans for a studio of 3,000 makings of sixty papers, each
// of which taught six numbers: once with what is known gathered anew, as after
// it was read, and once more with it in hand.
func BenchmarkMakeLearned(b *testing.B) {
	r := worked(b)
	r.Known = nil
	list := evidence(b, r, 3000)
	b.Run("gathered", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			known := belief.NewKnown(list, nil)
			b.StartTimer()
			if _, err := plan.Make(r, known); err != nil {
				b.Fatal(err)
			}
		}
	})
	known := belief.NewKnown(list, nil)
	b.Run("in hand", func(b *testing.B) {
		for b.Loop() {
			if _, err := plan.Make(r, known); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("beliefs alone, gathered", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			known := belief.NewKnown(list, nil)
			b.StartTimer()
			if _, err := plan.Beliefs(r, known); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// evidence is what so many makings of sixty papers taught.
func evidence(b testing.TB, r plan.Request, makings int) []belief.Observation {
	var papers [][]belief.Belief
	for i := range 60 {
		p := r
		share := float64(10 + i%9*10)
		fibres := []string{"abaca", "cotton rag", "flax", "hemp", "kozo"}
		hours := 1 + float64(i%7)/2
		p.Paper.BeatingHours = &hours
		p.Paper.Furnish = []plan.Part{{Fibre: fibres[i%5], SharePct: share}, {Fibre: fibres[(i+1)%5], SharePct: 100 - share}}
		list, err := plan.Beliefs(p, belief.Known{})
		if err != nil {
			b.Fatal(err)
		}
		papers = append(papers, list)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var out []belief.Observation
	for i := range makings {
		for j, key := range plan.KnownKeys() {
			x := papers[i%60][j]
			switch key {
			case "effective_depth_mm", "shrink_long_pct", "shrink_short_pct", "solids_pressed_pct", "density_g_cm3", "lost_later_pct":
				o := belief.Observation{ID: fmt.Sprint(i, key), Making: fmt.Sprint(i), SD: 0.02}
				if o.Value = x.From(x.Mean + x.SD*rng.NormFloat64()); x.Link == belief.Count {
					o.Hits, o.Trials = float64(rng.IntN(6)), 60
				}
				out = append(out, x.Observed(o))
			}
		}
	}
	return out
}
