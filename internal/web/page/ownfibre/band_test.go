package ownfibre

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

func asked(t interface{ Fatalf(string, ...any) }, field string) value {
	for _, g := range groups() {
		for _, v := range g.values {
			if v.field == field {
				return v
			}
		}
	}
	t.Fatalf("%s is not asked", field)
	return value{}
}

// sixToTwelve is a value of the table from 6 to 12, the middle 8.
var sixToTwelve = source.Said(6, 8, 12, source.KeyMaker, "")

// An inch is 25.4 mm, exactly.
func TestBandAsTyped(t *testing.T) {
	t.Parallel()
	metric, us := part.Speech{System: measure.Metric}, part.Speech{System: measure.US}
	for _, c := range []struct {
		s            part.Speech
		field, typed string
		want         fibre.Band
	}{
		{metric, "length", "4", fibre.Band{Low: 3, Mid: 4, High: 6}}, // as wide as the near one, in parts of it
		{metric, "length", "4 mm", fibre.Band{Low: 3, Mid: 4, High: 6}},
		{metric, "length", "3–5", fibre.Band{Low: 3, Mid: 4, High: 5}},
		{metric, "length", "3 - 5 mm", fibre.Band{Low: 3, Mid: 4, High: 5}},
		{metric, "length", "3 mm to 0.5 cm", fibre.Band{Low: 3, Mid: 4, High: 5}},
		{metric, "length", "3.5 (3–5)", fibre.Band{Low: 3, Mid: 3.5, High: 5}},
		{metric, "length", "3,5 mm; 3 to 5 mm", fibre.Band{Low: 3, Mid: 3.5, High: 5}},
		{metric, "length", "3.5 (3–5) mm", fibre.Band{Low: 3, Mid: 3.5, High: 5}},
		{us, "length", "0.25–0.75", fibre.Band{Low: 6.35, Mid: 12.7, High: 19.05}},
		{us, "length", "3–5 mm", fibre.Band{Low: 3, Mid: 4, High: 5}},
		{metric, "hours-usual", "90 min to 3 h", fibre.Band{Low: 1.5, Mid: 2.25, High: 3}},
		{metric, "shrink_most", "9 % (6–12 %)", fibre.Band{Low: 6, Mid: 9, High: 12}},
		{metric, "freeness", "300–400 mL CSF", fibre.Band{Low: 300, Mid: 350, High: 400}},
		{metric, "density", ".4 and .6 g/cm³", fibre.Band{Low: .4, Mid: .5, High: .6}},
		{metric, "density", "0.4–0.6 g/cm3", fibre.Band{Low: .4, Mid: .5, High: .6}},
	} {
		got, err := asked(t, c.field).read(c.s, sixToTwelve, c.typed)
		if err != nil || math.Abs(got.Low-c.want.Low) > 1e-9 || math.Abs(got.Mid-c.want.Mid) > 1e-9 || math.Abs(got.High-c.want.High) > 1e-9 {
			t.Errorf("%s %q in %s: %+v, %v; want %+v", c.field, c.typed, c.s.System, got, err, c.want)
		}
	}
	for _, typed := range []string{"", "much", "-3", "6 12", "3 ± 1", "6–", "9 (6)", "1–2–3", "1 1/2", "4 kg", "6–12 kg", "1e5", "9 (6–12) (3)"} {
		if got, err := asked(t, "length").read(metric, sixToTwelve, typed); err == nil {
			t.Errorf("%q is read as %+v", typed, got)
		}
	}
	if got, err := asked(t, "length").read(metric, source.Value{}, "4"); err == nil {
		t.Errorf("one number beside nothing is read as %+v", got)
	}
	if got, err := asked(t, "shrink_start").read(metric, source.Said(0, 0, .02, source.KeyMaker, ""), "1"); err != nil || got != (fibre.Band{Low: 1, Mid: 1, High: 3}) {
		t.Errorf("beside a near one of nothing: %+v, %v", got, err)
	}
}

// What is written is read as the same band, to what is shown of it.
func TestBandRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SliceOfN(rapid.Float64Range(0.1, 60), 3, 3).Draw(t, "band")
		slices.Sort(n)
		b := fibre.Band{Low: n[0], Mid: n[1], High: n[2]}
		s := part.Speech{System: rapid.SampledFrom([]measure.System{measure.Metric, measure.US}).Draw(t, "system")}
		v := asked(t, rapid.SampledFrom([]string{"length", "shrink_most", "density", "hours-lamp", "freeness"}).Draw(t, "value"))
		got, err := v.read(s, source.Value{}, v.write(s, b))
		if err != nil {
			t.Fatalf("%s: %v", v.write(s, b), err)
		}
		for _, two := range [][2]float64{{b.Low, got.Low}, {b.Mid, got.Mid}, {b.High, got.High}} {
			if math.Abs(two[0]-two[1]) > 0.005*two[0]+1.5e-3 { // three digits, at most four after the point, of an inch
				t.Fatalf("%+v is written %q and read as %+v", b, v.write(s, b), got)
			}
		}
	})
}

// One number alone keeps its order, whatever the near one is.
func TestLikewiseKeepsOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SliceOfN(rapid.Float64Range(0, 100), 3, 3).Draw(t, "near")
		slices.Sort(n)
		mid := rapid.Float64Range(0, 1000).Draw(t, "number")
		b := likewise(mid, fibre.Band{Low: n[0], Mid: n[1], High: n[2]})
		if b.Low > b.Mid || b.Mid > b.High || b.Mid != mid || math.IsNaN(b.High) {
			t.Fatalf("%g beside %v: %+v", mid, n, b)
		}
	})
}

// Every quantity and every use is asked, once.
func TestEverythingIsAsked(t *testing.T) {
	t.Parallel()
	seen := map[string]int{}
	for _, g := range groups() {
		for _, v := range g.values {
			seen[v.field]++
		}
	}
	for _, q := range fibre.Quantities() {
		if seen[q.Key] != 1 {
			t.Errorf("%s is asked %d times", q.Key, seen[q.Key])
		}
	}
	if want := len(fibre.Quantities()) + len(fibre.Uses()) + 1; len(seen) != want {
		t.Errorf("%d values are asked, want %d", len(seen), want)
	}
}
