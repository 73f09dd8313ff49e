package plan_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/source"
)

// However much a studio has made of other papers, the first making of a strange
// fibre says that nothing of it is measured: in the warning, the state, the
// grade of what rests on it, and in its words. Its bands keep what the
// handbook's fibre has of them.
func TestStrangeFibreSaysPriorOnly(t *testing.T) {
	t.Parallel()
	base := worked(t)
	base.Known, base.Studio.Moulds = nil, nil
	known := belief.NewKnown(evidence(t, base, 120), nil)
	r := base
	r.Paper.Furnish = []plan.Part{{Fibre: "sisal", SharePct: 100}}
	p, err := plan.Make(r, known)
	if err != nil {
		t.Fatal(err)
	}
	said := warning(p, "handbook only")
	for _, what := range []string{"effective depth", "shrinkage"} {
		if !strings.Contains(said, what) {
			t.Errorf("the warning says nothing of the %s: %q", what, said)
		}
	}
	for _, key := range []string{"effective_depth_mm", "shrink_long_pct"} {
		i := slices.IndexFunc(p.RestsOn, func(b plan.Prior) bool { return b.Key == key })
		if b := p.RestsOn[i]; b.State != "handbook" || b.Seen != 0 || b.Grade != source.Memory {
			t.Errorf("%s is %s by %s, seen %d times", key, b.State, b.Grade, b.Seen)
		}
	}
	if g := p.Figures["fibre_air_dry_g"].Basis; g != source.Memory {
		t.Errorf("the fibre to weigh rests on %s", g)
	}
	if size := p.Figures["dry_long_mm"]; !slices.ContainsFunc(size.Sum, func(l figure.Line) bool {
		return strings.Contains(l.Note, "handbook, and") && strings.Contains(l.Note, "other papers")
	}) {
		t.Error("the sum of the size does not say that other papers lent to it")
	}
	before, err := plan.Beliefs(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	after, err := plan.Beliefs(r, known)
	if err != nil {
		t.Fatal(err)
	}
	_, was := before[0].Next()
	if _, is := after[0].Next(); is < 0.7*was {
		t.Errorf("the band of a strange fibre's shrinkage went from %.4f to %.4f by other papers", was, is)
	}
}

// What belongs together never takes more than the handbook's band: the parts of
// the variance add up to no more than one, for blends of every kind.
func TestEffectsKeepTheBand(t *testing.T) {
	t.Parallel()
	for name, r := range hiddenBriefs(t) {
		for _, furnish := range [][]plan.Part{
			{{Fibre: "abaca", SharePct: 100}},
			{{Fibre: "abaca", SharePct: 50}, {Fibre: "flax", SharePct: 50}},
			{{Fibre: "abaca", SharePct: 50}, {Fibre: "abaca", SharePct: 50, BeatingHours: ptr(8.0)}},
			{{Fibre: "kozo", SharePct: 90}, {Fibre: "hemp", SharePct: 10, BeatingHours: ptr(0.2)}},
		} {
			r.Paper.Furnish = furnish
			list, err := plan.Beliefs(r, belief.Known{})
			if err != nil {
				continue // such as two fibres that want different drying
			}
			for _, b := range list {
				if b.Link == belief.Count {
					continue
				}
				sum := 0.0
				for _, e := range b.Observed(belief.Observation{}).Effects {
					sum += e.Weight * e.Weight
				}
				if math.Abs(sum-b.SD*b.SD) > 1e-9*(1+b.SD*b.SD) {
					t.Errorf("%s, %s: the effects make a variance of %g, the handbook has %g", name, b.Key, sum, b.SD*b.SD)
				}
			}
		}
	}
}
