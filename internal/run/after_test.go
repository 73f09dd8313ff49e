package run_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/measure"
	"vatside/internal/run"
)

// A weighing is held against what was expected just before it, worked here
// apart: ln m = ln F − ln V + ln h + hand, F by stock and pouring.
func TestReadings(t *testing.T) {
	t.Parallel()
	p := prior()
	mass := 86 * 0.0994 * math.Exp(0.10)
	r := replay(t, p, run.Pulled{}, run.Weighed{Sheets: []int{1}, Mass: grams(mass)}, run.Pulled{}, run.Weighed{Sheets: []int{2}, Mass: 81}, run.Levelled{Water: 80})
	list := r.Readings()
	if len(list) != 3 || list[0].Event != 1 || list[1].Event != 3 || list[2].Event != 4 || list[1].First != 2 || list[1].Last != 2 || list[2].First != 0 {
		t.Fatalf("readings: %+v", list)
	}
	want := math.Sqrt(0.15*0.15 + 0.05*0.05 + 0.02*0.02 + 0.01*0.01 + 0.04*0.04 + math.Pow(0.1/mass, 2))
	if a := list[0]; math.Abs(a.Off-0.10) > 1e-9 || math.Abs(a.Spread/want-1) > 1e-3 || !a.Believed {
		t.Errorf("first weighing %+v, want 0.10 by %.4f", a, want)
	}
	if a := list[1]; a.Believed || len(r.Asks()) != 1 || math.Abs(a.Off/a.Spread-r.Asks()[0].Apart) > 1e-12 {
		t.Errorf("out of all reason: %+v, %+v", a, r.Asks())
	}
	if list[1].Spread >= list[0].Spread {
		t.Errorf("the first weighing taught nothing: %+v", list)
	}
}

// Of vats drawn from what is believed, the readings scatter by one about
// nothing, each for itself; what the run says of its sheets then holds of the
// true ones: the share within a tenth, and how far they lie apart.
func TestChanceAlone(t *testing.T) {
	t.Parallel()
	c := rand.New(rand.NewPCG(5, 2))
	p := prior()
	p.DepthDoubt = 0.05
	var z, next, within, scatter, true1, trueS []float64
	const runs, sheets = 150, 30
	for range runs {
		h := draw(p, c)
		r, err := run.Start(p)
		if err != nil {
			t.Fatal(err)
		}
		for n := 1; n <= sheets; n++ {
			a, err := r.Recharge()
			if err != nil {
				t.Fatal(err)
			}
			h.pour(a, p, c)
			happen(t, r, a.Events()...)
			h.pull(p, c)
			happen(t, r, run.Pulled{})
			if n%3 == 0 {
				happen(t, r, run.Weighed{Sheets: []int{n}, Mass: measure.Mass(h.weigh([]int{n})), Sure: true})
			}
		}
		last := math.NaN()
		for _, e := range r.Readings() {
			v := e.Off / e.Spread
			z, next = append(z, v), append(next, v*last)
			last = v
		}
		in, ln := 0.0, make([]float64, sheets)
		for i := range sheets {
			m := h.weigh([]int{i + 1})
			ln[i] = math.Log(m)
			if math.Abs(m/(float64(p.Target)*float64(p.Area))-1) < 0.10 {
				in++
			}
		}
		w, err := r.Within(0.10)
		s, err2 := r.Scatter()
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		within, scatter, true1, trueS = append(within, w), append(scatter, s*s), append(true1, in/sheets), append(trueS, stat.Variance(ln, nil))
	}
	own := make([]float64, 0, len(next)) // each with the one before it
	for _, v := range next {
		if !math.IsNaN(v) {
			own = append(own, v)
		}
	}
	n := math.Sqrt(float64(len(z)))
	if m, s := stat.MeanStdDev(z, nil); math.Abs(m)*n > 3.5 || math.Abs(s-1)*n*math.Sqrt2 > 4 || math.Abs(stat.Mean(own, nil))*n > 3.5 {
		t.Errorf("readings: mean %.3f, scatter %.3f, one with the next %.3f", m, s, stat.Mean(own, nil))
	}
	if a, b := stat.Mean(within, nil), stat.Mean(true1, nil); math.Abs(a-b) > 0.03 {
		t.Errorf("told %.3f within a tenth, truly %.3f", a, b)
	}
	if a, b := math.Sqrt(stat.Mean(scatter, nil)), math.Sqrt(stat.Mean(trueS, nil)); math.Abs(a/b-1) > 0.05 {
		t.Errorf("told to lie %.4f apart, truly %.4f", a, b)
	}
}

func TestAfterNothing(t *testing.T) {
	t.Parallel()
	r := replay(t, prior())
	if _, err := r.Within(0.1); err == nil {
		t.Error("a share of no sheets")
	}
	if _, err := r.Scatter(); err == nil {
		t.Error("a scatter of no sheets")
	}
	happen(t, r, run.Pulled{})
	for _, part := range []float64{0, 1, -0.1, math.NaN(), math.Inf(1)} {
		if _, err := r.Within(part); err == nil {
			t.Errorf("within %g of the target", part)
		}
	}
}
