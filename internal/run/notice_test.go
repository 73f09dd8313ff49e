package run

import (
	"math"
	"testing"
)

// What can be noticed of a forgotten recharge: by the lemma of Neyman and Pearson
// no test that is wrong in one sound run of twenty finds more than Φ(d − 1.645)
// of them, even one that knows which recharge to look at; d² adds, over the
// weighings, the square of what the recharge moves them over their variance.
// With two weighings of three sheets that is far below nine in ten while a
// recharge is a sheet's or three sheets' fibre, and above it for eight sheets'.
func TestWhatCanBeNoticed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		every, together int
		least, most     float64
	}{{1, 3, 0.05, 0.25}, {1, 10, 0.05, 0.30}, {3, 3, 0.30, 0.75}, {8, 3, 0.90, 1}, {8, 10, 0.90, 1}} {
		got := findable(t, c.every, c.together)
		t.Logf("a recharge every %d, %d weighed together: at most %.2f", c.every, c.together, got)
		if got < c.least || got > c.most {
			t.Errorf("a recharge every %d, %d weighed together: %.3f, outside %.2f to %.2f", c.every, c.together, got, c.least, c.most)
		}
	}
}

// findable is the mean of the bound over the recharges in the middle of a run of
// 60 sheets of 11 × 14 in from 80 L.
func findable(t *testing.T, every, together int) float64 {
	t.Helper()
	r, err := Start(Prior{
		Area: 0.0994, Target: 86, Sheets: 60, Vat: 80, FillStock: 11.5, Jug: 1, Every: every, Depth: 20, DepthDoubt: 0.15, Drift: 0.10,
		Stock: 30, StockDoubt: 0.05, Couched: 0.10, WaterDoubt: 0.30, Hand: 0.04, Pour: 0.02, Scale: 0.1, Forgetting: 0.2,
	})
	if err != nil {
		t.Fatal(err)
	}
	square, seen := map[int]float64{}, map[int]int{} // by recharge
	for n := 1; n <= 60; n++ {
		if n > 3 && (n-1)%every == 0 {
			act, err := r.Recharge()
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range act.Events() {
				if err := r.Happen(e); err != nil {
					t.Fatal(err)
				}
			}
		}
		r.f.pull()
		if n != 3 && n%10 != 0 {
			continue
		}
		var of []term
		sum := 0.0
		for i := sheets + max(0, n-together); i < sheets+n; i++ {
			of = append(of, term{i, math.Exp(r.f.at[i])})
			sum += math.Exp(r.f.at[i])
		}
		for i := range of {
			of[i].was /= sum
		}
		spread := r.f.variance(of) + math.Pow(0.1/sum, 2)
		for j, d := range r.f.doses {
			moved := 0.0
			for _, o := range of {
				moved += o.was * r.f.missed[o.of][j]
			}
			if d.before <= n && seen[j] < 2 {
				seen[j]++
				square[j] += moved * moved / spread
			}
		}
		r.f.observe(0, of, math.Pow(0.1/sum, 2)) // as expected: only the doubt moves
	}
	mean, many := 0.0, 0.0
	for j, d := range r.f.doses {
		if d.before > 10 && d.before <= 40 && seen[j] == 2 {
			mean += 0.5 * math.Erfc(-(math.Sqrt(square[j])-1.645)/math.Sqrt2)
			many++
		}
	}
	return mean / many
}
