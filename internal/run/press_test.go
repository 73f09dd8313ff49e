package run_test

import (
	"math"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/run"
)

// pressed is the prior of a studio that believes its pressed sheets to be a
// third solids, give or take a tenth of that.
func pressed() run.Prior {
	p := prior()
	p.Pressed, p.PressDoubt = 0.33, 0.10
	return p
}

func first(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i + 1
	}
	return list
}

// What comes from the press tells of level and wetness together: as much of the
// difference goes to the sheets as is their share of what is not known, worked
// here apart.
func TestWetWeighing(t *testing.T) {
	t.Parallel()
	p := pressed()
	wet := grams(86 * 0.0994 / 0.33 * math.Exp(0.10))
	r := replay(t, p, run.Pulled{}, run.Weighed{Sheets: first(1), Mass: wet, Wet: true})
	level := 0.15*0.15 + 0.05*0.05 + 0.02*0.02 + 0.01*0.01 + 0.04*0.04
	want := 0.10 * level / (level + 0.10*0.10 + math.Pow(0.1/float64(wet), 2))
	got, err := r.Sheet(1)
	if err != nil || math.Abs(math.Log(float64(got.Value)/86)-want) > 1e-6 {
		t.Errorf("the sheet moved by %.6f, want %.6f: %v", math.Log(float64(got.Value)/86), want, err)
	}
	if err := replay(t, prior(), run.Pulled{}).Happen(run.Weighed{Sheets: first(1), Mass: wet, Wet: true}); err == nil {
		t.Error("a wet sheet was believed where nobody knows how wet it is")
	}
}

// Post against post says what one post alone cannot: after a dry weighing of
// the first ten, ten from the press calibrate the press, and ten later are read
// nearly as well as dry ones.
func TestPostToPost(t *testing.T) {
	t.Parallel()
	p := pressed()
	feed := func(n int) (list []run.Event) {
		for range n {
			list = append(list, run.Recharged{Stock: 86 * 0.0994 / 30}, run.Pulled{})
		}
		return list
	}
	begin := append(feed(10), run.Weighed{Sheets: first(10), Mass: grams(860 * 0.0994)})
	later := make([]int, 10)
	for i := range later {
		later[i] = 11 + i
	}
	spread := func(events ...run.Event) float64 {
		b := replay(t, p, append(append(append([]run.Event{}, begin...), feed(10)...), events...)...).Next()
		return math.Log(float64(b.High / b.Low))
	}
	wet := func(sheets []int) run.Event {
		return run.Weighed{Sheets: sheets, Mass: grams(860 * 0.0994 / 0.36), Wet: true}
	}
	none, one, both := spread(), spread(wet(later)), spread(wet(first(10)), wet(later))
	dry := spread(run.Weighed{Sheets: later, Mass: grams(860 * 0.0994)})
	if !(none > one && one > both && both-dry < 0.2*(none-dry)) {
		t.Errorf("band from nothing %.4f, one post %.4f, post to post %.4f, dry %.4f", none, one, both, dry)
	}
}

// Some of the sheets, nobody knows which, tell less than all of them.
func TestSomeOfThem(t *testing.T) {
	t.Parallel()
	begin := pulls(20)
	some := replay(t, prior(), append(begin, run.Weighed{Sheets: first(20), Of: 10, Mass: grams(800 * 0.0994)})...)
	all := replay(t, prior(), append(begin, run.Weighed{Sheets: first(20), Mass: grams(1600 * 0.0994)})...)
	a, b := some.Next(), all.Next()
	if math.Abs(float64(a.Value/b.Value)-1) > 0.01 || a.High/a.Low <= b.High/b.Low {
		t.Errorf("ten of twenty say %+v, all twenty %+v", a, b)
	}
	if err := all.Happen(run.Weighed{Sheets: first(3), Of: 4, Mass: 9}); err == nil {
		t.Error("four of three sheets were weighed")
	}
}

// A level read off the mark tells what the sheets carried off.
func TestLevelled(t *testing.T) {
	t.Parallel()
	r := replay(t, prior(), pulls(40)...)
	_, before := r.Vat()
	happen(t, r, run.Levelled{Water: before * 0.97})
	if _, after := r.Vat(); !(after < before && after > before*0.97) {
		t.Errorf("the level was %.3f, is read as %.3f and taken as %.3f L", before, before*0.97, after)
	}
	if err := r.Happen(run.Levelled{Water: measure.Volume(math.NaN())}); err == nil {
		t.Error("a level that is no number was taken")
	}
}

// In the run-down water is taken off until the next sheet weighs the target; a
// clone goes on by itself.
func TestRunDown(t *testing.T) {
	t.Parallel()
	r := replay(t, prior(), pulls(10)...)
	c := r.Clone()
	a, err := c.RunDown(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	happen(t, c, a.Events()...)
	if got := float64(c.Next().Value); math.Abs(got/86-1) > 1e-9 || a.WaterOff <= 0 {
		t.Errorf("after taking %.2f L off the next sheet weighs %.4f g/m²", a.WaterOff, got)
	}
	a, err = c.RunDown(0.5, 5)
	if err != nil {
		t.Fatal(err)
	}
	happen(t, c, a.Events()...)
	mean := 0.0
	for range 5 {
		mean += float64(c.Next().Value) / 5
		happen(t, c, run.Pulled{})
	}
	if math.Abs(mean/86-1) > 2e-3 || a.Stock != 0.5 {
		t.Errorf("five sheets of the run-down average %.3f g/m² after %+v", mean, a)
	}
	if got := float64(r.Next().Value); got > 80 {
		t.Errorf("the run that was cloned moved to %.3f g/m²", got)
	}
}
