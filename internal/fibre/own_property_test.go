package fibre

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

const ownJSON = `[{"name": "sedge of the ditch", "like": "rush", "kind": "grass", "note": "cut in October",
  "values": {"density": {"low": 0.4, "mid": 0.5, "high": 0.6}, "shrink_most": {"low": 6, "mid": 9, "high": 12}, "yield": {"low": 20, "mid": 30, "high": 40}},
  "hours": {"usual": {"low": 0.5, "mid": 1, "high": 2}, "lamp": {"low": 1, "mid": 2, "high": 3}}}]`

func TestOwnStartsFromItsLike(t *testing.T) {
	t.Parallel()
	var own []Own
	if err := json.Unmarshal([]byte(ownJSON), &own); err != nil {
		t.Fatal(err)
	}
	s, err := NewShelf(own)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.Find("fibre", "Sedge-of-the-ditch")
	if err != nil {
		t.Fatal(err)
	}
	rush, _ := Get("rush")
	if f.Name != "sedge of the ditch" || f.Like != "rush" || f.Note != "cut in October" || f.Aliases != nil {
		t.Errorf("%+v", f)
	}
	for _, q := range Quantities() {
		v, stated := f.Of(q.Key), own[0].Values[q.Key] != Band{}
		if stated && (v.Source != source.KeyMaker || v.Grade != source.Practice) || !stated && v != rush.Of(q.Key) {
			t.Errorf("%s: %+v, rush has %+v", q.Key, v, rush.Of(q.Key))
		}
	}
	if f.Yield.Mid != 0.30 || f.Density.High != 0.6 || f.ShrinkMost.Mid != 0.09 || math.Abs(f.ShrinkBand-1.0/3) > 1e-12 {
		t.Errorf("yield %+v, density %+v, shrinkage %+v ± %g", f.Yield, f.Density, f.ShrinkMost, f.ShrinkBand)
	}
	if v, ok := f.HoursFor("lamp"); !ok || v.Mid != 2 || v.Grade != source.Practice {
		t.Errorf("lamp: %+v, %v", v, ok)
	}
	if v, _ := f.HoursFor(""); v.Mid != 1 || f.Uses()[0].Use != Usual {
		t.Errorf("usual: %+v", v)
	}
	if _, ok := rush.HoursFor("lamp"); ok {
		t.Error("the handbook's rush has got an own fibre's use")
	}
	// The handbook knows nothing of it.
	if _, ok := Get("sedge of the ditch"); ok {
		t.Error("an own fibre is in the handbook")
	}
	if all := s.All(); len(all) != len(All())+1 || all[0].Name != "sedge of the ditch" || all[1].Name != "abaca" {
		t.Errorf("%d fibres, first %s", len(all), all[0].Name)
	}
	if near := s.Near("sedge of the dich", 3); len(near) == 0 || near[0] != "sedge of the ditch" {
		t.Errorf("near: %v", near)
	}
	if g, ok := s.Get("manila hemp"); !ok || g.Name != "abaca" {
		t.Errorf("the handbook's alias: %q, %v", g.Name, ok)
	}
	f.Dryings[0] = "changed"
	if g, _ := s.Get("sedge of the ditch"); g.Dryings[0] == "changed" {
		t.Error("a caller can change the shelf")
	}
}

func TestZeroShelfIsTheHandbook(t *testing.T) {
	t.Parallel()
	for _, own := range [][]Own{nil, {}} {
		s, err := NewShelf(own)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.All()) != len(All()) {
			t.Errorf("%d fibres", len(s.All()))
		}
		if f, err := s.Find("fibre", "paper mulberry"); err != nil || f.Name != "kozo" {
			t.Errorf("%q, %v", f.Name, err)
		}
	}
}

func TestOwnFaults(t *testing.T) {
	t.Parallel()
	b := func(low, mid, high float64) map[string]Band { return map[string]Band{"density": {low, mid, high}} }
	good := Own{Name: "sedge", Like: "rush"}
	for _, c := range []struct {
		own  Own
		path string
		kind fault.Kind
		says string
	}{
		{Own{Name: "sedge", Like: "rusch"}, "[1].like", fault.KindInvalid, "did you mean rush"},
		{Own{Name: "sedge", Like: ""}, "[1].like", fault.KindInvalid, "a fibre is needed"},
		{Own{Name: "sedge", Like: "first"}, "[1].like", fault.KindInvalid, ""},
		{Own{Name: " ", Like: "rush"}, "[1].name", fault.KindInvalid, "1 to 60"},
		{Own{Name: strings.Repeat("a", 61), Like: "rush"}, "[1].name", fault.KindInvalid, "1 to 60"},
		{Own{Name: "Manila-Hemp", Like: "rush"}, "[1].name", fault.KindInvalid, "abaca already"},
		{Own{Name: "kozo", Like: "rush"}, "[1].name", fault.KindInvalid, "kozo already"},
		{Own{Name: "First  ", Like: "rush"}, "[1].name", fault.KindInvalid, "twice"},
		{Own{Name: "sedge, cooked", Like: "rush"}, "[1].name", fault.KindInvalid, "comma"},
		{Own{Name: "sedge 70", Like: "rush"}, "[1].name", fault.KindInvalid, "digit"},
		{Own{Name: "sedge", Like: "rush", Values: b(0.5, 0.4, 0.6)}, "[1].values.density", fault.KindInvalid, "order"},
		{Own{Name: "sedge", Like: "rush", Values: b(math.NaN(), 0.4, 0.6)}, "[1].values.density", fault.KindOutOfRange, "between 0.05 and 1.5 g/cm³"},
		{Own{Name: "sedge", Like: "rush", Values: b(0.4, 0.5, math.Inf(1))}, "[1].values.density", fault.KindOutOfRange, "between"},
		{Own{Name: "sedge", Like: "rush", Values: b(0, 0, 0)}, "[1].values.density", fault.KindOutOfRange, "between"},
		{Own{Name: "sedge", Like: "rush", Values: map[string]Band{"colour": {1, 2, 3}}}, "[1].values.colour", fault.KindInvalid, "shrink_start"},
		{Own{Name: "sedge", Like: "rush", Values: map[string]Band{"shrink_most": {1, 1, 1}}}, "[1].values.shrink_most", fault.KindInvalid, "above"},
		{Own{Name: "sedge", Like: "rush", Values: map[string]Band{"shrink_start": {9, 9, 9}}}, "[1].values.shrink_start", fault.KindInvalid, "above"},
		{Own{Name: "sedge", Like: "rush", Hours: map[string]Band{"hats": {1, 2, 3}}}, "[1].hours.hats", fault.KindInvalid, "book text"},
		{Own{Name: "sedge", Like: "rush", Hours: map[string]Band{"usual": {1, 2, 25}}}, "[1].hours.usual", fault.KindOutOfRange, "24"},
	} {
		s, err := NewShelf([]Own{{Name: "first", Like: "rush"}, c.own})
		all := fault.All(err)
		if len(all) != 1 || all[0].Field != c.path || all[0].Kind != c.kind || !strings.Contains(all[0].Error(), c.says) {
			t.Errorf("%+v: %v", c.own, err)
		}
		if _, ok := s.Get("first"); ok {
			t.Errorf("%+v: a shelf in spite of faults", c.own)
		}
	}
	_, err := NewShelf([]Own{good, {Name: "abaca", Like: "x", Values: b(3, 2, 1), Hours: map[string]Band{"hats": {}}}})
	if all := fault.All(err); len(all) != 4 {
		t.Errorf("all faults at once: %v", err)
	}
}

// What nobody cooks may be cooked all the same.
func TestOwnCook(t *testing.T) {
	t.Parallel()
	s, err := NewShelf([]Own{{Name: "rag in lye", Like: "denim rag", Values: map[string]Band{"cook_alkali": {5, 8, 10}, "cook_hours": {1, 2, 3}}}})
	if err != nil {
		t.Fatal(err)
	}
	f, _ := s.Get("rag in lye")
	if f.Cook == nil || f.Cook.With != "soda ash" || f.Cook.Alkali.Mid != 0.08 || f.Cook.Hours.Mid != 2 || f.MustCook() {
		t.Errorf("%+v", f.Cook)
	}
	if d, _ := Get("denim rag"); d.Cook != nil {
		t.Error("the handbook's denim is cooked now")
	}
}

// Any fibre that is accepted can be reckoned with.
func TestAnyOwnFibreReckons(t *testing.T) {
	t.Parallel()
	likes := Shelf{}.names()
	rapid.Check(t, func(t *rapid.T) {
		o := Own{Name: "mine", Like: rapid.SampledFrom(likes).Draw(t, "like"), Values: map[string]Band{}, Hours: map[string]Band{}}
		band := func(low, high float64, label string) Band {
			n := rapid.SliceOfN(rapid.Float64Range(low, high), 3, 3).Draw(t, label)
			slices.Sort(n)
			return Band{n[0], n[1], n[2]}
		}
		for _, q := range quantities {
			if rapid.Bool().Draw(t, "states "+q.Key) {
				o.Values[q.Key] = band(q.low, q.high, q.Key)
			}
		}
		if rapid.Bool().Draw(t, "states hours") {
			o.Hours[Usual] = band(0, float64(MostHours), "hours")
		}
		s, err := NewShelf([]Own{o})
		if err != nil {
			if start, most := o.Values["shrink_start"], o.Values["shrink_most"]; start == (Band{}) && most == (Band{}) {
				t.Fatalf("refused: %v", err)
			}
			return
		}
		f, _ := s.Get("mine")
		h := measure.Hours(rapid.Float64Range(0, float64(MostHours)).Draw(t, "beaten"))
		v, err := FreeShrinkageBand(f, h)
		if err != nil || v.Low < -1e-12 || v.Low > v.Mid || v.Mid > v.High || v.High >= 0.5 {
			t.Fatalf("shrinkage %+v, %v", v, err)
		}
		if d, err := DensityBand(f, h); err != nil || !(d.Low <= d.Mid && d.Mid <= d.High) || math.IsNaN(d.Mid) {
			t.Fatalf("density %+v, %v", d, err)
		}
	})
}

func BenchmarkShelfFind(b *testing.B) {
	s, err := NewShelf([]Own{{Name: "sedge", Like: "rush"}})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := s.Find("fibre", "cotton rag"); err != nil {
			b.Fatal(err)
		}
	}
}
