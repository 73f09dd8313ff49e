package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/testkit/hidden"
)

// hiddenBriefs are what hidden studios are asked for: nothing is pinned, all
// rests on the handbook.
func hiddenBriefs(t testing.TB) map[string]plan.Request {
	base := func(change func(*plan.Request)) plan.Request {
		r := worked(t)
		r.Known = nil
		r.Studio.Moulds = nil
		change(&r)
		return r
	}
	return map[string]plan.Request{
		"book text, stack": base(func(*plan.Request) {}),
		"trimmed, more of them": base(func(r *plan.Request) {
			r.Sheet.Edges, r.Sheet.LongMM, r.Sheet.ShortMM = "trimmed", 297, 210
			*r.GoodSheets = 120
		}),
		"free abaca": base(func(r *plan.Request) {
			r.Paper.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 100}}
			r.Paper.Drying, r.Paper.Use, *r.Paper.BeatingHours = "free", "sculpture", 6
			*r.GoodSheets = 20
		}),
		"even chance, tight": base(func(r *plan.Request) {
			*r.ConfidencePct, *r.Paper.TolerancePct = 80, 5
			*r.GoodSheets = 30
		}),
		"loft cotton": base(func(r *plan.Request) {
			r.Paper.Furnish = []plan.Part{{Fibre: "cotton rag", SharePct: 100}}
			r.Paper.Drying = "loft"
			*r.ConfidencePct = 90
		}),
	}
}

// The headline: hidden studios that follow the plan keep its promise as often
// as it said, within sampling error, and never less than said by 3 points.
func TestPromiseKeptByHiddenStudios(t *testing.T) {
	t.Parallel()
	const runs = 1000
	for name, r := range hiddenBriefs(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p, err := plan.Make(r, belief.Known{})
			if err != nil {
				t.Fatal(err)
			}
			truths, err := hidden.Truths(r, belief.Known{}, runs, 20261125)
			if err != nil {
				t.Fatal(err)
			}
			kept, good, sized, heavy, within := 0, 0, 0, 0, 0.0
			lo, hi := p.Figures["grammage_g_m2"].Low, p.Figures["grammage_g_m2"].High
			inBand := 0
			for i, truth := range truths {
				res := hidden.Play(r, p, truth, rand.New(rand.NewPCG(uint64(i), 7)))
				if res.Kept(r) {
					kept++
				}
				if res.Good >= *r.GoodSheets {
					good++
				}
				if math.Abs(res.Grammage/r.Paper.GrammageConditioned-1)*100 <= *r.Paper.TolerancePct {
					heavy++
				}
				if res.Grammage >= lo && res.Grammage <= hi {
					inBand++
				}
				if d := res.DryLong; d >= 0.98*r.Sheet.LongMM && d <= 1.02*r.Sheet.LongMM {
					sized++
				}
				within += res.Within / runs
			}
			said, got := p.Figures["promise_pct"].Value/100, float64(kept)/runs
			se := math.Sqrt(said * (1 - said) * (1.0/runs + 1.0/plan.Draws))
			t.Logf("said %.1f %%, kept %.1f %% (se %.1f); enough %.1f, weight %.1f, long side %.1f; within tolerance said %.1f, was %.1f; grammage band covers %.1f; pulls %.0f, fibre %.0f g; %s",
				said*100, got*100, se*100, 100*float64(good)/runs, 100*float64(heavy)/runs, 100*float64(sized)/runs, p.Figures["share_within_pct"].Value, within*100, 100*float64(inBand)/runs,
				p.Figures["sheets_couched"].Value, p.Figures["fibre_air_dry_g"].Value, p.Figures["promise_pct"].Sum[len(p.Figures["promise_pct"].Sum)-2].Note)
			if math.Abs(got-said) > 3*se+0.005 {
				t.Errorf("said %.1f %%, kept %.1f %%: more than sampling error", said*100, got*100)
			}
			if got < said-0.03 {
				t.Errorf("said %.1f %%, kept only %.1f %%", said*100, got*100)
			}
		})
	}
}
