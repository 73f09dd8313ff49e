package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Caliper, density and bulk are one fact.
func TestCaliperInverses(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		g := measure.GrammageConditioned(rapid.Float64Range(5, 2000).Draw(t, "g"))
		d := measure.Density(rapid.Float64Range(0.06, 1.55).Draw(t, "d"))
		caliper, err := Caliper(g, d)
		back, err2 := DensityFromCaliper(g, caliper)
		bulk, err3 := Bulk(g, caliper)
		if fault.First(err, err2, err3) != nil || math.Abs(float64(back/d)-1) > 1e-12 || math.Abs(float64(bulk)*float64(d)-1) > 1e-12 {
			t.Fatalf("%v g/m² of %v: %v mm, back %v, bulk %v (%v %v %v)", g, d, caliper, back, bulk, err, err2, err3)
		}
	})
}

func TestCaliperMean(t *testing.T) {
	t.Parallel()
	// by hand: s = 10 µm, Student's t for two degrees of freedom 2.920 (tables), 2.920 · 10/√3 = 16.86 µm
	m, e, err := CaliperMean([]measure.Length{0.100, 0.110, 0.120})
	near(t, "mean", float64(m), 0.110, 1e-9)
	near(t, "give or take", float64(e), 0.01686, 0.000005)
	if err != nil {
		t.Error(err)
	}
	if m, e, err := CaliperMean([]measure.Length{0.2, 0.2, 0.2}); math.Abs(float64(m)-0.2) > 1e-12 || e != 0 || err != nil {
		t.Errorf("equal readings: %v ± %v, %v", m, e, err)
	}
	bad := [][]measure.Length{nil, {0.1}, make([]measure.Length, 1001), {0.1, 0}, {0.1, -0.1}, {0.1, 50.1}}
	for _, v := range noNumbers {
		bad = append(bad, []measure.Length{0.1, measure.Length(v)})
	}
	for _, r := range bad {
		if m, e, err := CaliperMean(r); !isFault(err) || m != 0 || e != 0 {
			t.Errorf("%v: %v ± %v, %v", r, m, e, err)
		}
	}
	// nine times in ten the true mean lies inside, whatever the number of readings
	rng := rand.New(rand.NewPCG(1, 2))
	const sheets = 2000
	for _, n := range []int{2, 5, 20} {
		inside := 0
		for range sheets {
			readings := make([]measure.Length, n)
			for i := range readings {
				readings[i] = measure.Length(0.2 + 0.01*rng.NormFloat64())
			}
			m, e, err := CaliperMean(readings)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(m)-0.2) <= float64(e) {
				inside++
			}
		}
		near(t, "share inside", float64(inside)/sheets, 0.9, 0.027) // four standard errors
	}
}

// Thinned to a number, fibres are crowded to that number; longer ones more.
func TestCrowdedTo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := measure.Number(rapid.Float64Range(1, 200).Draw(t, "n"))
		length := measure.Length(rapid.Float64Range(1, 20).Draw(t, "length"))
		d := Coarseness(rapid.Float64Range(0.05, 0.4).Draw(t, "d"))
		c, err := CrowdedTo(n, length, d)
		if fault.KindOf(err) == fault.KindOutOfRange && c == 0 {
			return
		}
		got, err2 := Crowding(c, length, d)
		more, err3 := Crowding(c, 2*length, d)
		if fault.First(err, err2, err3) != nil || math.Abs(float64(got/n)-1) > 1e-9 || math.Abs(float64(more/n)-4) > 1e-9 {
			t.Fatalf("N %v at %v g/L: %v, twice as long %v (%v %v %v)", n, c, got, more, err, err2, err3)
		}
	})
	for _, c := range []Crowd{Mobile, Crowded, Flocs, NeedsAid} {
		if text, source := c.Advice(); text == "" || source == "" {
			t.Errorf("%s has no advice", c)
		}
	}
	for _, v := range append([]float64{-1}, noNumbers...) {
		if c, err := CrowdOf(measure.Number(v)); !isFault(err) || c != "" {
			t.Errorf("N %v: %q, %v", v, c, err)
		}
	}
	if text, source := Crowd("lost").Advice(); text+source != "" {
		t.Error(text, source)
	}
}

// What a sheet grew and what it drew back make up what it kept.
func TestSoaking(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		before := measure.Length(rapid.Float64Range(50, 2000).Draw(t, "before"))
		grew := rapid.Float64Range(0, 0.08).Draw(t, "grew")
		kept := rapid.Float64Range(-0.02, 0.1).Draw(t, "kept")
		s := Soaking{before, before * measure.Length(1+grew), before * measure.Length(1-kept)}
		e, err := s.Expansion()
		l, err2 := s.Lasting()
		if fault.First(err, err2) != nil || math.Abs(float64(e)-grew) > 1e-9 || math.Abs(float64(l)-kept) > 1e-9 {
			t.Fatalf("%v: grew %v, kept %v (%v %v)", s, e, l, err, err2)
		}
	})
	// by hand: 300 mm to 306 wet and 297 dry
	s := Soaking{300, 306, 297}
	e, _ := s.Expansion()
	l, _ := s.Lasting()
	near(t, "expansion", float64(e), 0.02, 1e-12)
	near(t, "lasting", float64(l), 0.01, 1e-12)
	bad := []Soaking{{}, {300, 200, 297}, {300, 460, 297}, {300, 306, 140}, {300, 306, 370}, {4, 4, 4}}
	for _, v := range noNumbers {
		bad = append(bad, Soaking{measure.Length(v), 306, 297}, Soaking{300, measure.Length(v), 297}, Soaking{300, 306, measure.Length(v)})
	}
	for _, s := range bad {
		e, err := s.Expansion()
		l, err2 := s.Lasting()
		if !isFault(err) || !isFault(err2) || e != 0 || l != 0 {
			t.Errorf("%v: %v, %v; %v, %v", s, e, err, l, err2)
		}
	}
}

func TestRegister(t *testing.T) {
	t.Parallel()
	// by hand: a sheet that settles after its second bath
	dry := []measure.Length{300, 298, 297.2, 297, 297.1}
	move, err := OutOfRegister(dry)
	near(t, "out of register", float64(move), 3, 1e-9)
	if err != nil {
		t.Error(err)
	}
	for tolerance, want := range map[measure.Length]int{5: 0, 3.5: 0, 1.5: 1, 0.5: 2, 0.15: 3} {
		if k, err := PreSoakings(dry, tolerance); k != want || err != nil {
			t.Errorf("%d baths for %v mm, %v, want %d", k, tolerance, err, want)
		}
	}
	if k, err := PreSoakings(dry, 0.05); fault.KindOf(err) != fault.KindInfeasible || k != 0 {
		t.Errorf("never settled: %d, %v", k, err)
	}
	if k, err := PreSoakings([]measure.Length{300, 298, 298}, 2); k != 0 || err != nil {
		t.Errorf("just within: %d, %v", k, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "n")
		dry := make([]measure.Length, n)
		for i := range dry {
			dry[i] = measure.Length(rapid.Float64Range(290, 300).Draw(t, "l"))
		}
		all, err := OutOfRegister(dry)
		tolerance := measure.Length(rapid.Float64Range(0.1, 12).Draw(t, "tolerance"))
		k, err2 := PreSoakings(dry, tolerance)
		wider, err3 := PreSoakings(dry, 12)
		for i := 1; i < n; i++ {
			if math.Abs(float64(dry[i]-dry[i-1])) > float64(all) {
				t.Fatalf("%v moved by %v at most, yet from %v to %v", dry, all, dry[i-1], dry[i])
			}
		}
		if err != nil || wider != 0 || err3 != nil {
			t.Fatalf("%v: %v, %v, %d, %v", dry, all, err, wider, err3)
		}
		if rest, _ := OutOfRegister(dry[k:]); err2 == nil && rest > tolerance {
			t.Fatalf("%v after %d baths moves by %v, more than %v", dry, k, rest, tolerance)
		}
	})
	for _, bad := range [][]measure.Length{nil, {300}, make([]measure.Length, 101), {300, 0}, {300, measure.Length(math.NaN())}} {
		if m, err := OutOfRegister(bad); !isFault(err) || m != 0 {
			t.Errorf("%v: %v, %v", bad, m, err)
		}
		if k, err := PreSoakings(bad, 1); !isFault(err) || k != 0 {
			t.Errorf("%v: %v, %v", bad, k, err)
		}
	}
	for _, v := range append([]float64{0, -1, 101}, noNumbers...) {
		if k, err := PreSoakings(dry, measure.Length(v)); !isFault(err) || k != 0 {
			t.Errorf("tolerance %v: %v, %v", v, k, err)
		}
	}
}

// Held while they dry, sheets expand less [hygroexpansion-salmen-1985].
func TestWetExpansion(t *testing.T) {
	t.Parallel()
	for _, held := range []string{"stack", "exchange", "board"} {
		for _, free := range []string{"loft", "free"} {
			hl, hh, err := WetExpansion(held)
			fl, fh, err2 := WetExpansion(free)
			if fault.First(err, err2) != nil || hl >= fl || hh >= fh || hl >= hh || fl >= fh {
				t.Errorf("%s %v–%v, %s %v–%v, %v %v", held, hl, hh, free, fl, fh, err, err2)
			}
		}
	}
	for _, drying := range fibre.Dryings() {
		if _, _, err := WetExpansion(drying); err != nil {
			t.Error(err)
		}
	}
	if l, h, err := WetExpansion("oven"); fault.KindOf(err) != fault.KindInvalid || l+h != 0 {
		t.Errorf("oven: %v–%v, %v", l, h, err)
	}
}

// Carried to another room and back a sheet weighs what it did; a moister room
// makes it heavier; from the wet side it holds more than from the dry side.
func TestReweighed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rh := rapid.Float64Range(0.05, 0.9)
		a, b := measure.RelHumidity(rh.Draw(t, "a")), measure.RelHumidity(rh.Draw(t, "b"))
		branch := Branch(rapid.IntRange(0, 1).Draw(t, "branch"))
		there, err := Reweighed(100, a, b, branch)
		back, err2 := Reweighed(there, b, a, branch)
		up, err3 := MoistureOn(a, WettingUp)
		down, err4 := MoistureOn(a, DryingDown)
		if fault.First(err, err2, err3, err4) != nil || math.Abs(float64(back)-100) > 1e-9 || (b > a) != (there > 100) && a != b || up >= down {
			t.Fatalf("%v → %v: %v and back %v; %v up, %v down", a, b, there, back, up, down)
		}
	})
	if m, err := MoistureOn(0.5, Branch(2)); fault.KindOf(err) != fault.KindInvalid || m != 0 {
		t.Errorf("no branch: %v, %v", m, err)
	}
}

// Moister air never dries wood, and dry air leaves none.
func TestWoodRises(t *testing.T) {
	t.Parallel()
	for temp := measure.Temperature(-5); temp <= 60; temp += 5 {
		last := measure.MoistureDry(-1)
		for i := range 96 {
			m, err := WoodMoisture(temp, measure.RelHumidity(i)/100)
			if err != nil || m <= last || m > 0.35 || i == 0 && m != 0 {
				t.Fatalf("%v °C, %d %%: %v after %v, %v", temp, i, m, last, err)
			}
			last = m
		}
	}
}

func TestSaltsSound(t *testing.T) {
	t.Parallel()
	plain := 0
	for _, s := range Salts() {
		for _, temp := range []measure.Temperature{s.Least, s.Most} {
			if rh, err := SaltHumidity(s.Formula, temp); err != nil || rh <= 0.05 || rh >= 1 {
				t.Errorf("%s at %v °C: %v, %v", s.Formula, temp, rh, err)
			}
		}
		for _, v := range append([]float64{float64(s.Least) - 0.1, float64(s.Most) + 0.1}, noNumbers...) {
			if rh, err := SaltHumidity(s.Formula, measure.Temperature(v)); !isFault(err) || rh != 0 {
				t.Errorf("%s at %v °C: %v, %v", s.Formula, v, rh, err)
			}
		}
		if s.Care == "" {
			plain++
		}
	}
	if a, err := SaltHumidity(" nacl ", 20); err != nil || a < 0.7 {
		t.Errorf("nacl: %v, %v", a, err)
	}
	if a, err := SaltHumidity("sand", 20); fault.KindOf(err) != fault.KindNotFound || a != 0 {
		t.Errorf("sand: %v, %v", a, err)
	}
	if plain == 0 || plain > 7 {
		t.Errorf("%d salts to use at home", plain)
	}
	Salts()[0].A = 99
	if Salts()[0].A == 99 {
		t.Error("the table can be written to")
	}
}
