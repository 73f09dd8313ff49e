package beating

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func TestLoadsWorkedByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		fibre, rated measure.Mass
		loads        measure.Loads
		each         measure.Mass
	}{
		{1014, 680, 2, 507},  // 1014 / 680 = 1.49
		{680, 680, 1, 680},   // just full
		{681, 680, 2, 340.5}, // just over
		{10, 680, 1, 10},
		{2040, 680, 3, 680},
		{0.1 + 0.2, 0.1, 3, 0.1}, // three tenths in binary is a hair over three times a tenth
	} {
		n, err := Loads(c.fibre, c.rated)
		if err != nil || n != c.loads {
			t.Errorf("Loads(%g, %g) = %g, %v; want %g", float64(c.fibre), float64(c.rated), float64(n), err, float64(c.loads))
			continue
		}
		each, err := LoadEach(c.fibre, n)
		if err != nil || math.Abs(float64(each-c.each)) > 1e-9 {
			t.Errorf("LoadEach(%g, %g) = %g, %v; want %g", float64(c.fibre), float64(n), float64(each), err, float64(c.each))
		}
	}
}

func TestLoadsProperties(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		rated := measure.Mass(math.Exp(rng.Float64()*6 + 3))      // 20 g to 8 kg
		mass := rated * measure.Mass(math.Exp(rng.Float64()*6-3)) // a twentieth to twenty loads
		water := measure.Volume(rng.Float64()*100 + 2)
		n, err := Loads(mass, rated)
		if err != nil {
			t.Fatal(err)
		}
		if float64(n)*float64(rated) < float64(mass)*(1-2e-9) || float64(n-1)*float64(rated) >= float64(mass) {
			t.Fatalf("%g g by %g g: %g loads", float64(mass), float64(rated), float64(n))
		}
		each, err := LoadEach(mass, n)
		if err != nil || float64(each) > float64(rated)*(1+2e-9) || math.Abs(float64(each)*float64(n)/float64(mass)-1) > 1e-12 {
			t.Fatalf("%g g in %g loads of %g g, %v", float64(mass), float64(n), float64(each), err)
		}
		v, err := WaterFor(each, rated, water)
		if err != nil {
			t.Fatal(err)
		}
		full, err1 := Consistency(rated, water)
		part, err2 := Consistency(each, v)
		if err1 != nil || err2 != nil || math.Abs(float64(part/full)-1) > 1e-12 {
			t.Fatalf("a part load is %g g/L, the full one %g; %v, %v", float64(part), float64(full), err1, err2)
		}
	}
}

func TestEdges(t *testing.T) {
	t.Parallel()
	bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1_000_001}
	for _, x := range bad {
		m, l, v := measure.Mass(x), measure.Loads(x), measure.Volume(x)
		if x == 1_000_001 {
			v = 50_001
		}
		for name, call := range map[string]func() (float64, error){
			"Loads fibre":       func() (float64, error) { r, err := Loads(m, 100); return float64(r), err },
			"Loads rated":       func() (float64, error) { r, err := Loads(100, m); return float64(r), err },
			"LoadEach fibre":    func() (float64, error) { r, err := LoadEach(m, 2); return float64(r), err },
			"LoadEach loads":    func() (float64, error) { r, err := LoadEach(100, l); return float64(r), err },
			"Consistency fibre": func() (float64, error) { r, err := Consistency(m, 10); return float64(r), err },
			"Consistency water": func() (float64, error) { r, err := Consistency(100, v); return float64(r), err },
			"WaterFor load":     func() (float64, error) { r, err := WaterFor(m, 100, 10); return float64(r), err },
			"WaterFor rated":    func() (float64, error) { r, err := WaterFor(10, m, 10); return float64(r), err },
			"WaterFor water":    func() (float64, error) { r, err := WaterFor(10, 100, v); return float64(r), err },
		} {
			if r, err := call(); r != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %g = %g, %v", name, x, r, err)
			}
		}
	}
	for name, call := range map[string]func() error{
		"half a load":          func() error { _, err := LoadEach(100, 1.5); return err },
		"a load over rating":   func() error { _, err := WaterFor(101, 100, 10); return err },
		"a million small load": func() error { _, err := Loads(1_000_000, 1); return err },
	} {
		if err := call(); err == nil || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestWarnings(t *testing.T) {
	t.Parallel()
	flax, _ := fibre.Get("flax")
	linters, _ := fibre.Get("cotton linters")
	type check struct {
		name string
		w    Warning
		got  bool
		want bool
	}
	ask := func(name string, want bool, w Warning, got bool) check { return check{name, w, got, want} }
	var checks []check
	for _, c := range []struct {
		gl         measure.Consistency
		over, thin bool
	}{{30, false, false}, {51, false, false}, {51.1, true, false}, {12, false, false}, {11.9, false, true}, {0, false, true}, {measure.Consistency(math.NaN()), true, true}} {
		w, got := Overload(c.gl)
		checks = append(checks, ask("Overload", c.over, w, got))
		w, got = TooThin(c.gl)
		checks = append(checks, ask("TooThin", c.thin, w, got))
	}
	w, got := Underfilled(300, 680)
	checks = append(checks, ask("Underfilled", true, w, got))
	w, got = Underfilled(340, 680)
	checks = append(checks, ask("just half full", false, w, got))
	w, got = Wraps(flax, 680, 907)
	checks = append(checks, ask("the flax load on record", false, w, got)) // 18 of 24 g/L, drying-flax-2006
	w, got = Wraps(flax, 907, 907)
	checks = append(checks, ask("flax at the rating", true, w, got))
	own := flax
	own.Name = "öland flax"
	w, got = Wraps(own, 907, 907)
	checks = append(checks, ask("a name that begins beyond ASCII", true, w, got))
	if !strings.HasPrefix(w.Text, "Öland flax is long") {
		t.Errorf("says %q", w.Text)
	}
	w, got = Wraps(linters, 907, 907)
	checks = append(checks, ask("linters at the rating", false, w, got))
	for _, c := range checks {
		if c.got != c.want {
			t.Errorf("%s: warned %v, want %v", c.name, c.got, c.want)
		}
		if c.got != (c.w.Code != "" && c.w.Text != "") {
			t.Errorf("%s: %+v does not go with %v", c.name, c.w, c.got)
		}
		if c.got {
			source.Must(c.w.Source)
		}
	}
	seen := map[string]bool{}
	for _, c := range Cautions() {
		if source.Must(c.Source); seen[c.Code] || c.Text == "" {
			t.Errorf("caution %q stands twice or is empty", c.Code)
		}
		seen[c.Code] = true
	}
}

func TestHoursForUse(t *testing.T) {
	t.Parallel()
	for _, f := range fibre.All() {
		usual, err := HoursForUse(f, "")
		if err != nil || usual.Mid <= 0 {
			t.Errorf("%s: usual %v, %v", f.Name, usual, err)
		}
		for _, u := range f.Uses() {
			v, err := HoursForUse(f, strings.ToUpper(u.Use))
			if err != nil || v.Low < 0 || v.Low > v.Mid || v.Mid > v.High || v.High > float64(fibre.MostHours) {
				t.Errorf("%s for %s: %v, %v", f.Name, u.Use, v, err)
			}
		}
	}
	linters, _ := fibre.Get("cotton linters")
	_, err := HoursForUse(linters, "lamp")
	if err == nil || fault.KindOf(err) != fault.KindInvalid || !strings.Contains(err.Error(), "print") || strings.Contains(err.Error(), "usual") {
		t.Errorf("linters for a lamp: %v", err)
	}
	if _, err := HoursForUse(fibre.Fibre{Name: "string"}, "print"); err == nil || fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("a fibre outside the table: %v", err)
	}
}
