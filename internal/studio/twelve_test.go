package studio_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/testkit/hidden"
)

// Studios whose numbers are hidden make three papers four times, in turn, write
// their cards up, and are planned for by what was learned until then. The
// shrinkage of their makings scatters by half a point held flat, which is more
// than the handbook thinks, and by one and a half dried free.
//
// By the fourth making of a paper nine in ten are right: the fibre within 6 %,
// and the size that the studio's sheets dry to, within 1 % held flat and 2.5 %
// dried free. What one making then scatters by, nobody can know before: of a
// single making dried free, even a planner who knew the studio would keep 2.5 %
// in 84 of 100 (1.5 points of a sheet that dries to 85 %). The bands say so:
// nine in ten makings lie within.
//
// 50 studios with three fourth makings each: nine in ten within 5 points, which
// is two standard errors.
func TestTwelveMakings(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		drying      string
		sd, allowed float64
	}{"held flat": {"stack", 0.005, 0.01}, "dried free": {"free", 0.015, 0.025}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			const studios = 50
			var n, fibre, size, sizeOne, inSize, inFibre, inWeight float64
			first, fourth := 0.0, 0.0
			for i := range studios {
				for _, r := range twelve(t, c.drying, c.sd, uint64(i)) {
					if r.turn == 0 {
						first += r.width
					}
					if r.turn < 3 {
						continue
					}
					n++
					fourth += r.width
					fibre += is(math.Abs(r.fibre) < 0.06)
					size += is(math.Abs(r.sizeOwn) < c.allowed)
					sizeOne += is(math.Abs(r.size) < c.allowed)
					inSize += is(r.inSize)
					inFibre += is(r.inFibre)
					inWeight += is(r.inWeight)
				}
			}
			t.Logf("fourth makings: fibre within 6 %% in %.1f of 100, the size they dry to within %.1f %% in %.1f, that of a single making in %.1f; bands cover size %.1f, fibre %.1f, weight %.1f; the size's band from %.2f to %.2f %%",
				fibre/n*100, c.allowed*100, size/n*100, sizeOne/n*100, inSize/n*100, inFibre/n*100, inWeight/n*100, first/n*100, fourth/n*100)
			for what, share := range map[string]float64{"fibre": fibre / n, "size": size / n, "band of the size": inSize / n, "band of the fibre": inFibre / n, "band of the weight": inWeight / n} {
				if share < 0.85 {
					t.Errorf("%s: right in %.1f of 100 fourth makings, nine in ten are wanted", what, share*100)
				}
			}
			if fourth >= first {
				t.Errorf("the band of the size was %.3f %% at the first making and is %.3f %% at the fourth", first/n*100, fourth/n*100)
			}
		})
	}
}

func is(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// fared is how the plan of one making fared.
type fared struct {
	turn                      int     // of this paper, from 0
	fibre, size, sizeOwn      float64 // off, of what was planned
	width                     float64 // of the size's band, of the size
	inSize, inFibre, inWeight bool
}

// twelve plays a studio's makings.
func twelve(t *testing.T, drying string, sd float64, seed uint64) []fared {
	t.Helper()
	s := hidden.NewStudio(seed)
	s.ShrinkSD = sd
	papers := []plan.Request{unpinned(t), unpinned(t), unpinned(t)}
	papers[0].Paper.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 100}}
	papers[1].Paper.Furnish = []plan.Part{{Fibre: "flax", SharePct: 100}}
	papers[2].Paper.Furnish = []plan.Part{{Fibre: "flax", SharePct: 60}, {Fibre: "abaca", SharePct: 40}}
	var list []belief.Observation
	var out []fared
	for i := range 12 {
		r := papers[i%3]
		r.Paper.Drying = drying
		p, err := plan.MakeWith(r, belief.NewKnown(list, nil), plan.Options{Draws: 300})
		if err != nil {
			t.Fatal(err)
		}
		truth, err := s.Truth(r)
		if err != nil {
			t.Fatal(err)
		}
		own, err := s.Shrinkage(r)
		if err != nil {
			t.Fatal(err)
		}
		res := hidden.Play(r, p, truth, rand.New(rand.NewPCG(seed, uint64(i))))
		m := studio.Making{ID: string(rune('a' + i)), Request: r, Plan: p}
		list = append(list, studio.Learn(m, written(r, p, res, truth))...)
		out = append(out, judge(r, p, res, truth, own, i/3))
	}
	return out
}

func judge(r plan.Request, p plan.Plan, res hidden.Result, truth hidden.Truth, own float64, turn int) fared {
	value := func(k string) float64 { return p.Figures[k].Value }
	size, fibre, weight := p.Figures["dry_long_mm"], p.Figures["fibre_air_dry_g"], p.Figures["grammage_g_m2"]
	f := fared{turn: turn, size: res.DryLong/r.Sheet.LongMM - 1, sizeOwn: value("formed_long_mm")*(1-own)/r.Sheet.LongMM - 1,
		width: (size.High - size.Low) / size.Value}
	const ruler = 0.5 // mm: sizes are read to the millimetre
	f.inSize = res.DryLong >= size.Low-ruler && res.DryLong <= size.High+ruler
	f.inWeight = res.Grammage >= weight.Low && res.Grammage <= weight.High
	// what the run took: fibre in the sheets as they came, and in the vat at the end
	dose := 0.0
	for _, a := range r.Paper.Additives {
		dose += a.DosePct / 100
	}
	solids := 0.0
	for _, g := range res.Sheets {
		solids += g
	}
	each := solids / float64(len(res.Sheets)) / (1 + dose*truth.Retained)
	planned := value("fibre_in_sheets_g") / value("sheets_couched")
	f.fibre = each/planned - 1
	need := (each*value("sheets_couched") + value("heel_fibre_g")*each/planned) / (1 - truth.Loss) / (1 - truth.Lot)
	f.inFibre = need >= *fibre.ExpectedLow && need <= *fibre.ExpectedHigh
	return f
}
