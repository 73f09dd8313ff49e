package run_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/run"
)

func grams(v float64) measure.Mass { return measure.Mass(v) }

// prior is 11 × 14 in from 80 L: a sheet takes a fortieth of the vat.
func prior() run.Prior {
	return run.Prior{
		Area: 0.0994, Target: 86, Sheets: 60, Vat: 80, FillStock: 80 * 4.3 / 30, Jug: 1, Every: 1,
		Depth: 20, DepthDoubt: 0.15, Drift: 0.10, Stock: 30, StockDoubt: 0.05, Couched: 0.10, WaterDoubt: 0.30,
		Hand: 0.04, Pour: 0.02, Scale: 0.1, Forgetting: 0.20, LitreDoubt: 0.04, LevelDoubts: 0.01,
	}
}

func happen(t testing.TB, r *run.Run, events ...run.Event) {
	t.Helper()
	for _, e := range events {
		if err := r.Happen(e); err != nil {
			t.Fatal(err)
		}
	}
}

func replay(t testing.TB, p run.Prior, events ...run.Event) *run.Run {
	t.Helper()
	r, err := run.Replay(p, events)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func pulls(n int) []run.Event {
	out := make([]run.Event, n)
	for i := range out {
		out[i] = run.Pulled{}
	}
	return out
}

// Without a weighing the sheets are those of the balance: 86 g/m² thinned by
// (V − A·h)/(V − u) a sheet.
func TestThinsAsTheBalance(t *testing.T) {
	t.Parallel()
	r := replay(t, prior(), pulls(10)...)
	want, level := 86.0, 80.0
	for n := 1; n <= 10; n++ {
		got, err := r.Sheet(n)
		if err != nil || math.Abs(float64(got.Value)/want-1) > 1e-9 {
			t.Errorf("sheet %d weighs %.6f g/m², want %.6f: %v", n, got.Value, want, err)
		}
		u := want * 0.0994 * 9 / 1000
		want *= (level - 0.0994*20) / (level - u)
		level -= u
	}
}

// One sheet weighed 10 % heavy, once: what is believed of the depth moves by the part
// that normal against normal gives it, worked here apart. ln m = ln F − ln V +
// ln h + hand; F rests on stock and pouring.
func TestOneWeighing(t *testing.T) {
	t.Parallel()
	p := prior()
	heavy := grams(86 * 0.0994 * math.Exp(0.10))
	r := replay(t, p, run.Pulled{}, run.Weighed{Sheets: []int{1}, Mass: heavy})
	level := 0.15*0.15 + 0.05*0.05 + 0.02*0.02 + 0.01*0.01 // of what the next sheets share
	reading := math.Pow(0.1/float64(heavy), 2)
	want := 0.10 * 0.15 * 0.15 / (level + 0.04*0.04 + reading)
	l := r.Lesson()
	if got := l.Depth.Log - math.Log(20); math.Abs(got-want) > 2e-4 { // the drift of one sheet
		t.Errorf("depth moved by %.5f, want %.5f", got, want)
	}
	if want := math.Sqrt(0.15 * 0.15 * (1 - 0.15*0.15/(level+0.04*0.04+reading))); math.Abs(l.Depth.Doubt-want) > 2e-4 || l.Weighed != 1 {
		t.Errorf("doubt %.5f, want %.5f; rests on %d", l.Depth.Doubt, want, l.Weighed)
	}
	s, err := r.Sheet(1)
	if err != nil || math.Abs(float64(s.Value)*0.0994/float64(heavy)-1) > 0.002 || float64(s.High/s.Low) > 1.05 {
		t.Errorf("the weighed sheet is told as %+v: %v", s, err)
	}
}

// A weighing that comes late says of the sheets it weighed what it would have said
// at once, and of the vat the same too.
func TestLateIsAsGood(t *testing.T) {
	t.Parallel()
	w := run.Weighed{Sheets: []int{1, 2, 3}, Mass: 27.5}
	soon := replay(t, prior(), append(append(pulls(3), w), pulls(10)...)...)
	late := replay(t, prior(), append(pulls(13), w)...)
	for n := 1; n <= 13; n++ {
		a, _ := soon.Sheet(n)
		b, err := late.Sheet(n)
		if err != nil || math.Abs(float64(a.Value/b.Value)-1) > 0.004 || math.Abs(float64(a.High/a.Low)/float64(b.High/b.Low)-1) > 0.01 {
			t.Errorf("sheet %d: %+v at once, %+v late: %v", n, a, b, err)
		}
	}
}

// A run is a pure function of prior and events, and a correction is as if the
// right thing had happened at first.
func TestCorrections(t *testing.T) {
	t.Parallel()
	right := []run.Event{run.Pulled{}, run.Pulled{}, run.Weighed{Sheets: []int{1, 2}, Mass: 18}, run.Recharged{Stock: 0.6}, run.Watered{Water: -0.5}, run.Pulled{}, run.Strained{Taken: 1, Mass: 4.4}}
	wrong := append([]run.Event(nil), right...)
	wrong[2] = run.Weighed{Sheets: []int{1, 2}, Mass: 81}
	wrong[3] = run.Recharged{Stock: 6}
	want := replay(t, prior(), right...)
	got := replay(t, prior(), append(wrong, run.Corrected{Event: 2, By: right[2]}, run.Corrected{Event: 3}, run.Corrected{Event: 3, By: right[3]})...)
	if a, b := want.Next(), got.Next(); a != b {
		t.Errorf("corrected %+v, at first %+v", b, a)
	}
	if a, b := want.Lesson(), got.Lesson(); a != b {
		t.Errorf("corrected %+v, at first %+v", b, a)
	}
	// before a reading tells the vat anew, a recharge taken back is 18 g less
	f, _ := replay(t, prior(), append(append([]run.Event(nil), right[:6]...), run.Corrected{Event: 3})...).Vat()
	g, _ := replay(t, prior(), right[:6]...).Vat()
	if f >= g-15 {
		t.Errorf("without its recharge the vat holds %.1f g, with it %.1f g", f, g)
	}
}

// A weighing out of all reason is asked about, and believed when stood by.
func TestAsksBeforeItBelieves(t *testing.T) {
	t.Parallel()
	w := run.Weighed{Sheets: []int{1}, Mass: 86} // the comma slipped
	asked := replay(t, prior(), run.Pulled{}, w)
	plain := replay(t, prior(), run.Pulled{})
	if a := asked.Asks(); len(a) != 1 || a[0].Event != 1 || a[0].Off < 9 || asked.Next() != plain.Next() {
		t.Errorf("asks %+v, next %+v", a, asked.Next())
	}
	w.Sure = true
	if sure := replay(t, prior(), run.Pulled{}, w); len(sure.Asks()) != 0 || sure.Next() == plain.Next() {
		t.Error("what the maker stands by is not believed")
	}
	// honest readings are hardly ever asked about: one in two thousand
	chance, many := rand.New(rand.NewPCG(1, 1)), 0
	for range 2000 {
		h := draw(prior(), chance)
		h.pull(prior(), chance)
		many += len(replay(t, prior(), run.Pulled{}, run.Weighed{Sheets: []int{1}, Mass: grams(h.masses[0])}).Asks())
	}
	if many > 6 { // 1 expected; more than 6 once in ten thousand
		t.Errorf("asked %d times in 2,000", many)
	}
}

// A strained litre tells the vat's consistency whatever the depth.
func TestStrainedLitre(t *testing.T) {
	t.Parallel()
	p := prior()
	p.StockDoubt, p.LitreDoubt, p.Scale = 0.3, 0.01, 0.01
	r := replay(t, p, run.Strained{Taken: 1, Mass: 5})
	f, v := r.Vat()
	if c := float64(f) / float64(v); math.Abs(c/5-1) > 0.01 || math.Abs(float64(v)-79) > 0.2 {
		t.Errorf("%.3f g/L in %.2f L, want 5 g/L in 79 L", c, v)
	}
}

// The advised recharge brings the next round to the target by what is known, and
// says so in jugs.
func TestAdvice(t *testing.T) {
	t.Parallel()
	usual := 86 * 0.0994 / 30
	for _, c := range []struct {
		over float64
		says string
	}{{0, "On target: the usual dose."}, {-0.25, "light:"}, {0.25, "fill up with water"}} {
		p := prior()
		p.Jug, p.Every = measure.Volume(usual), 3
		p.FillStock *= 1.0243 // a round of three starts so high, 3/(1 + r + r²) with r = 0.9762
		events := append(pulls(3), run.Weighed{Sheets: []int{1, 2, 3}, Mass: grams(86 * 0.0994 * 3 * (1 + c.over))})
		r := replay(t, p, events...)
		act, err := r.Recharge()
		if err != nil || !strings.Contains(act.Words, c.says) {
			t.Errorf("%+.0f %%: %q, %v", 100*c.over, act.Words, err)
		}
		if c.over == 0 && math.Abs(float64(act.Stock)/usual-3) > 0.05 {
			t.Errorf("%.3f L, a sheet's is %.3f L", act.Stock, usual)
		}
		happen(t, r, act.Events()...)
		if n := r.Next(); math.Abs(float64(n.Value)/86/1.0243-1) > 0.01 {
			t.Errorf("%+.0f %%: the next sheet weighs %.2f g/m² after %+v", 100*c.over, n.Value, act)
		}
		if _, v := r.Vat(); math.Abs(float64(v)-80) > 0.01 {
			t.Errorf("%+.0f %%: the level is %.2f L", 100*c.over, v)
		}
	}
}

func TestRefuses(t *testing.T) {
	t.Parallel()
	nan := measure.Volume(math.NaN())
	for name, events := range map[string][]run.Event{
		"a sheet not pulled":     {run.Weighed{Sheets: []int{1}, Mass: 8}},
		"a sheet twice":          {run.Pulled{}, run.Weighed{Sheets: []int{1, 1}, Mass: 8}},
		"no sheet":               {run.Pulled{}, run.Weighed{Mass: 8}},
		"no mass":                {run.Pulled{}, run.Weighed{Sheets: []int{1}}},
		"no number":              {run.Recharged{Stock: nan}},
		"stock less than none":   {run.Recharged{Stock: -1}},
		"water without end":      {run.Watered{Water: measure.Volume(math.Inf(1))}},
		"more than the vat":      {run.Scooped{Taken: 79}},
		"more water than it has": {run.Watered{Water: -200}},
		"a litre of nothing":     {run.Strained{Taken: 0, Mass: 4}},
		"what is to come":        {run.Corrected{Event: 1}, run.Pulled{}},
		"a correction corrected": {run.Pulled{}, run.Corrected{Event: 0}, run.Corrected{Event: 1}},
	} {
		if _, err := run.Replay(prior(), events); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	p := prior()
	p.Depth = measure.Length(math.NaN())
	if _, err := run.Start(p); err == nil {
		t.Error("a depth that is no number is taken")
	}
	r := replay(t, prior(), pulls(2)...)
	before := r.Next()
	if r.Happen(run.Recharged{Stock: nan}) == nil || r.Happen(run.Corrected{Event: 0}) == nil || r.Next() != before {
		t.Error("a refused event leaves a trace")
	}
	if _, err := r.Sheet(3); err == nil {
		t.Error("a sheet not pulled weighs something")
	}
	if kissed := replay(t, prior(), run.Pulled{KissedOff: true}); kissed.Pulled() != 0 {
		t.Error("a kissed-off sheet is counted")
	}
}
