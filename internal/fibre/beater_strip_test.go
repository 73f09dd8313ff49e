package fibre_test

// Beater strip: abaca and bamboo taken from the beater every twenty minutes to
// a hundred, each dried free on a grid and held on glass (beater-strip-2010).
// What was seen: abaca shrank much, bamboo nearly not; nothing was measured.

import (
	"math"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
)

func TestBeaterStrip(t *testing.T) {
	t.Parallel()
	const a4 measure.Length = 297
	formed := func(name, drying string, minutes int) (measure.Shrinkage, measure.Length) {
		f, _ := fibre.Get(name)
		v, err := fibre.DriedShrinkageBand(f, measure.Hours(float64(minutes)/60), drying)
		if err != nil {
			t.Fatal(err)
		}
		l, err := sheet.FormedLength(a4, measure.Shrinkage(v.Mid))
		if err != nil {
			t.Fatal(err)
		}
		if back, err := sheet.DryLength(l, measure.Shrinkage(v.Mid)); err != nil || math.Abs(float64(back-a4)) > 1e-9 {
			t.Errorf("%s at %d min, %s: a mould of %g mm dries to %g, %v", name, minutes, drying, float64(l), float64(back), err)
		}
		return measure.Shrinkage(v.Mid), l
	}
	last := measure.Shrinkage(0)
	for minutes := 20; minutes <= 100; minutes += 20 {
		abaca, abacaMould := formed("abaca", "free", minutes)
		bamboo, bambooMould := formed("bamboo", "free", minutes)
		if abaca <= last || abaca < 4*bamboo {
			t.Errorf("%d min: abaca %.3f after %.3f, bamboo %.3f", minutes, float64(abaca), float64(last), float64(bamboo))
		}
		if bamboo > 0.02 || bambooMould > a4+6 || abacaMould < bambooMould {
			t.Errorf("%d min: bamboo %.3f in %g mm, abaca in %g mm", minutes, float64(bamboo), float64(bambooMould), float64(abacaMould))
		}
		last = abaca
		for _, name := range []string{"abaca", "bamboo"} {
			if held, l := formed(name, "board", minutes); held > 0.015 || l > a4+5 {
				t.Errorf("%s at %d min on the board: %.3f, %g mm", name, minutes, float64(held), float64(l))
			}
		}
	}
	if last < 0.08 {
		t.Errorf("abaca at 100 min: %.3f is not much", float64(last))
	}
}

// Each fibre of the handbook can be planned with as it is usually beaten.
func TestEveryFibreIsPlanned(t *testing.T) {
	t.Parallel()
	good := 20
	for _, f := range fibre.All() {
		usual, _ := f.HoursFor(fibre.Usual)
		for _, drying := range f.Dryings {
			_, err := plan.MakeWith(plan.Request{
				Paper:      plan.Paper{Furnish: []plan.Part{{Fibre: f.Name, SharePct: 100}}, GrammageConditioned: 80, BeatingHours: &usual.Mid, Drying: drying},
				Sheet:      plan.Sheet{LongMM: 210, ShortMM: 148},
				GoodSheets: &good,
			}, belief.Known{}, plan.Options{Draws: 200})
			if err != nil {
				t.Errorf("%s, %s: %v", f.Name, drying, err)
			}
		}
	}
}
