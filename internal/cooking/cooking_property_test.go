package cooking

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func float(t *rapid.T, name string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

func drawAlkali(t *rapid.T, name string) Alkali { return rapid.SampledFrom(alkalis).Draw(t, name) }

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b)) }

// Equal alkalinity goes there and back, and by a third alkali; what it takes of
// acid stays.
func TestEqualAlkalinityGoesAround(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawAlkali(t, "a"), drawAlkali(t, "b"), drawAlkali(t, "c")
		m := measure.Mass(float(t, "mass", 0, 1000))
		ab, err1 := EqualAlkalinity(m, a, b)
		back, err2 := EqualAlkalinity(ab, b, a)
		bc, err3 := EqualAlkalinity(ab, b, c)
		ac, err4 := EqualAlkalinity(m, a, c)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil || !near(float64(back), float64(m)) || !near(float64(bc), float64(ac)) {
			t.Fatalf("%v of %s: %v %v %v", m, a.Name, back, bc, ac)
		}
		one, _ := Equivalents(a, m)
		other, _ := Equivalents(b, ab)
		if !near(float64(one), float64(other)) {
			t.Fatalf("%v mol against %v", one, other)
		}
	})
}

func TestChargesAndPots(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		dry, c := measure.Mass(float(t, "dry", 1, 1e5)), measure.Dose(float(t, "charge", 0, 1.5))
		m, err := AlkaliFor(dry, c)
		back, err2 := ChargeOf(m, dry)
		if err != nil || err2 != nil || !near(float64(back), float64(c)) {
			t.Fatalf("%v, %v, %v", back, err, err2)
		}
		v, pot, fill := measure.Volume(float(t, "liquor", 0.1, 1000)), measure.Volume(float(t, "pot", 0.5, 200)), measure.Share(float(t, "fill", 0.2, 0.9))
		n, err := Pots(v, pot, fill)
		if err != nil || n < 1 || float64(n)*float64(pot)*float64(fill) < float64(v)*(1-1e-6) || n > 1 && float64(n-1)*float64(pot)*float64(fill) >= float64(v) {
			t.Fatalf("%v pots of %v L filled to %v for %v L, %v", n, pot, fill, v, err)
		}
	})
}

// More alkali never reads lower, a hotter liquor never higher, and lye reads
// above soda ash of equal alkalinity.
func TestPHRises(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := drawAlkali(t, "alkali")
		g, temp := float(t, "grams", 0.5, 80), measure.Temperature(float(t, "temperature", 0, 90))
		at := func(a Alkali, g float64, temp measure.Temperature) float64 {
			s, err := Dissolved(a, measure.Mass(g), temp)
			if err != nil {
				t.Fatal(err)
			}
			v, err := PHOf(s, temp)
			if err != nil {
				t.Fatal(err)
			}
			return float64(v)
		}
		v := at(a, g, temp)
		if more := at(a, g*1.2, temp); more < v-1e-5 {
			t.Fatalf("%s: %.4f at %v g/kg and %.4f at more", a.Name, v, g, more)
		}
		if hot := at(a, g, temp+10); hot > v {
			t.Fatalf("%s: %.4f at %v °C and %.4f hotter", a.Name, v, temp, hot)
		}
		soda, lye := alkalis[0], alkalis[3]
		equal, _ := EqualAlkalinity(measure.Mass(g), soda, lye)
		if at(lye, float64(equal), temp) <= at(soda, g, temp) {
			t.Fatalf("lye equal to %v g/kg of soda ash reads no higher", g)
		}
	})
}

// Soda ash and lime keep their alkalinity and their mass, but for the chalk.
func TestCausticisingKeepsAlkalinity(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		soda, lime := measure.Mass(float(t, "soda", 0, 500)), measure.Mass(float(t, "lime", 0, 500))
		c, err := Causticise(soda, lime)
		if err != nil {
			t.Fatal(err)
		}
		if before, after := float64(soda+lime), float64(c.Lye+c.SodaAshLeft+c.LimeLeft+c.Chalk); math.Abs(before-after) > 1e-3*max(1, before) {
			t.Fatalf("%v g became %v g", before, after)
		}
		if c.SodaAshLeft > 1e-6 && c.LimeLeft > 1e-6 {
			t.Fatalf("both are left: %+v", c)
		}
		mol := func(a Alkali, m measure.Mass) float64 { n, _ := Equivalents(a, m); return float64(n) }
		sodaAsh, lye, slaked := alkalis[0], alkalis[3], alkalis[6]
		// the lime's share of alkalinity becomes chalk, equivalent for equivalent
		before := mol(sodaAsh, soda) + mol(slaked, lime)
		after := mol(lye, c.Lye) + mol(sodaAsh, c.SodaAshLeft) + mol(slaked, c.LimeLeft) + 2*float64(c.Chalk)/molar("CaCO3")
		if math.Abs(before-after) > 1e-6*max(1, before) {
			t.Fatalf("%v mol became %v mol", before, after)
		}
	})
}

// Lye within the rules is taken, outside them refused; warmer with more of it.
func TestLyeRules(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m, v, temp := measure.Mass(float(t, "lye", 1, 1000)), measure.Volume(float(t, "water", 0.05, 50)), measure.Temperature(float(t, "temperature", 0, 100))
		w, err := LyeShare(m, v)
		if err != nil {
			t.Fatal(err)
		}
		if refused := CheckLye("alkali_pct", m, v, temp) != nil; refused != (w > MostLyeShare || temp > HottestForLye) {
			t.Fatalf("%v of lye at %v °C: refused %v", w, temp, refused)
		}
		w = min(w, 0.49)
		a, err1 := LyeWarms(w)
		b, err2 := LyeWarms(w + 0.01)
		if err1 != nil || err2 != nil || a < 0 || b <= a {
			t.Fatalf("%v warms by %v, more by %v", w, a, b)
		}
	})
	if CheckLye("x", 1, 1, measure.Temperature(math.NaN())) == nil {
		t.Error("lye into water of no temperature is taken")
	}
}

func TestTimeFactorFalls(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		temp, e := measure.Temperature(float(t, "temperature", 40, 170)), measure.Number(float(t, "energy", 20, 200))
		f, err1 := TimeFactor(temp, e)
		g, err2 := TimeFactor(temp+5, e)
		one, err3 := TimeFactor(100, e)
		if err1 != nil || err2 != nil || err3 != nil || g >= f || !near(float64(one), 1) {
			t.Fatalf("%v at %v °C, %v hotter, %v at 100", f, temp, g, one)
		}
		h := measure.Hours(float(t, "hours", 0.1, 5))
		there, err1 := HoursAt(h, temp, e)
		if there > 500 {
			return
		}
		back, err2 := HoursAtBoil(there, temp, e)
		if err1 != nil || err2 != nil || !near(float64(back), float64(h)) {
			t.Fatalf("%v h, %v h, %v h", h, there, back)
		}
	})
}

// Changes of water suffice, and one fewer does not.
func TestRinsing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		start, target := Strength(float(t, "start", 0.1, 100)), Strength(float(t, "target", 0.001, 1))
		held, fresh := measure.Number(float(t, "held", 0.5, 20)), measure.Number(float(t, "fresh", 2, 50))
		n, err := RinseChanges(start, target, held, fresh)
		if err != nil || n > 100 {
			return
		}
		left, err := RinseLeft(start, held, fresh, n)
		if err != nil || left > target*(1+1e-6) {
			t.Fatalf("%v changes leave %v of %v, want %v; %v", n, left, start, target, err)
		}
		if n >= 1 {
			if fewer, _ := RinseLeft(start, held, fresh, n-1); fewer < target*(1-1e-6) {
				t.Fatalf("%v changes leave %v already", n-1, fewer)
			}
		}
		squeezed, _ := RinseChanges(start, target, held*0.6, fresh)
		if squeezed > n {
			t.Fatalf("squeezing takes %v changes instead of %v", squeezed, n)
		}
	})
}

func TestAshLyeByVinegar(t *testing.T) {
	t.Parallel()
	ash, _ := GetAlkali(WoodAshLye)
	rapid.Check(t, func(t *rapid.T) {
		s := Strength(float(t, "strength", 1, 300))
		v, err := VinegarFor(ash, measure.Mass(s)/10, 0.05) // of 100 mL
		if err != nil {
			t.Fatal(err)
		}
		got, err := AshLyeStrength(measure.Milliliters(v), 100, 5)
		if err != nil || !near(float64(got), float64(s)) {
			t.Fatalf("%v read as %v, %v", s, got, err)
		}
	})
}

func TestHarvestThereAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		y := Yields{measure.Share(float(t, "dry", 0.03, 1)), measure.Share(float(t, "cleaned", 0.05, 1)), measure.Share(float(t, "cooked", 0.1, 1)), measure.Share(float(t, "beaten", 0.5, 1))}
		n, each, lost := measure.Sheets(rapid.IntRange(1, 300).Draw(t, "sheets")), measure.Mass(float(t, "each", 0.5, 60)), measure.Share(float(t, "lost", 0, 0.6))
		pulp, err1 := PulpFor(n, each, lost)
		fresh, err2 := FreshFor(pulp, y)
		back, err3 := PulpFrom(fresh, y)
		sheets, err4 := SheetsFrom(back, each, lost)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil || !near(float64(back), float64(pulp)) || sheets < n || sheets > n+1 {
			t.Fatalf("%v sheets, %v g pulp, %v g fresh, %v sheets; %v %v %v %v", n, pulp, fresh, sheets, err1, err2, err3, err4)
		}
		wet, s := measure.Mass(float(t, "wet", 10, 1e5)), measure.Solids(float(t, "solids", 0.01, 0.9))
		p, err := Portions(wet, s, each)
		if err != nil || !near(float64(p.Bags)*float64(p.Wet)+float64(p.Left), float64(wet)) || p.Left >= p.Wet*(1+1e-6) {
			t.Fatalf("%+v of %v, %v", p, wet, err)
		}
		dried, left := measure.Mass(float(t, "dried", 0, 10)), measure.MoistureWet(float(t, "left", 0, 0.3))
		got, err := SolidsFromDrying(10, dried, left)
		room, _ := SolidsFromDrying(10, dried, 0)
		if err != nil || got < 0 || got > 1 || got > room {
			t.Fatalf("%v, %v, %v", got, room, err)
		}
	})
}

func TestPathsOfPlants(t *testing.T) {
	t.Parallel()
	known := 0
	for _, f := range fibre.All() {
		p, ok := PathOf(f)
		if !ok {
			continue
		}
		known++
		v, err := p.Whole()
		if err != nil || !(0 < v.Low && v.Low < v.Mid && v.Mid < v.High && v.High <= 1) {
			t.Errorf("%s: %+v, %v", f.Name, v, err)
		}
		pulp, err := PulpFrom(1000, p.Yields())
		if err != nil || !near(float64(pulp), 1000*v.Mid) {
			t.Errorf("%s: %v g from a kilogram, want %v", f.Name, pulp, 1000*v.Mid)
		}
	}
	if known < 15 {
		t.Errorf("only %d plants are known from the harvest on", known)
	}
	if _, err := (Path{Plant: "x"}).Whole(); err == nil {
		t.Error("a plant of which nothing is known has a yield")
	}
}

func TestKeeping(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k, temp := measure.Days(float(t, "days", 0.1, 100)), measure.Temperature(float(t, "temperature", 0, 40))
		a, err1 := KeepsAt(k, temp)
		b, err2 := KeepsAt(k, temp+5)
		same, err3 := KeepsAt(k, 15)
		if err1 != nil || err2 != nil || err3 != nil || b >= a || !near(float64(same), float64(k)) {
			t.Fatalf("%v days at %v °C, %v warmer", a, temp, b)
		}
	})
	for _, f := range fibre.All() {
		wet, err1 := KeepingOf(f, InWater)
		frozen, err2 := KeepingOf(f, Frozen)
		drained, err3 := KeepingOf(f, Drained)
		if err1 != nil || err2 != nil || err3 != nil || !wet.Days.Known() || frozen.Days.Mid <= wet.Days.Mid || drained.State != Drained {
			t.Errorf("%s: %+v, %+v, %v %v %v", f.Name, wet, frozen, err1, err2, err3)
		}
	}
	linters, _ := fibre.Get("cotton linters")
	flax, _ := fibre.Get("flax")
	a, _ := KeepingOf(linters, InWater)
	b, _ := KeepingOf(flax, InWater)
	if a.Days.Mid <= b.Days.Mid || b.Days.High < 14 || b.Days.Low > 7 {
		t.Errorf("linters keep %v, flax %v: the list says cotton longer, flax a week or two", a.Days, b.Days)
	}
}

// Cooks of a studio whose true rate and scatter are hidden: a law fed twelve of
// them at three temperatures comes nearer to the rate, as near as it says, and
// its bands hold nine of ten of the next.
func TestLawLearns(t *testing.T) {
	t.Parallel()
	const studios = 400
	held, off, said := 0, 0.0, 0.0
	r := rand.New(rand.NewPCG(7, 11))
	prior := source.Said(2, 2.5, 3.2, "cooking-bark-sheet", "")
	for range studios {
		start, err := PriorLaw(prior, 0.2)
		if err != nil {
			t.Fatal(err)
		}
		true100 := 2.5 * math.Exp(0.14*r.NormFloat64())
		energy := measure.Number(min(max(81.6+14.5*r.NormFloat64(), 30), 150))
		power := 0.5 * r.NormFloat64()
		hours := func(temp measure.Temperature, c measure.Dose) measure.Hours {
			f, err := TimeFactor(temp, energy)
			if err != nil {
				t.Fatal(err)
			}
			return measure.Hours(true100 * float64(f) * math.Pow(float64(c)/0.2, power) * math.Exp(0.2*r.NormFloat64()))
		}
		var cooks []Cook
		for i := range 12 {
			c := Cook{Temp: []measure.Temperature{88, 94, 100}[i%3], Charge: []measure.Dose{0.15, 0.2, 0.25}[i/4]}
			c.Done = hours(c.Temp, c.Charge)
			cooks = append(cooks, c)
		}
		l, err := start.After(cooks...)
		if err != nil {
			t.Fatal(err)
		}
		other, _ := start.After(append(slices.Clone(cooks[6:]), cooks[:6]...)...)
		if !near(float64(other.Activation), float64(l.Activation)) || l.Cooks != 12 {
			t.Fatalf("the order matters: %v, %v", l.Activation, other.Activation)
		}
		if l.ActivSD >= start.ActivSD || l.ExponentSD >= start.ExponentSD {
			t.Fatalf("nothing was learned: %v after %v", l.ActivSD, start.ActivSD)
		}
		off += math.Abs(float64(l.Activation - energy))
		said += math.Sqrt(2/math.Pi) * float64(l.ActivSD) // the mean miss of that band
		next := Cook{Temp: 91, Charge: 0.22}
		low, mid, high, err := l.Next(next.Temp, next.Charge)
		if err != nil || !(low < mid && mid < high) {
			t.Fatalf("%v %v %v %v", low, mid, high, err)
		}
		if h := hours(next.Temp, next.Charge); low <= h && h <= high {
			held++
		}
	}
	if share := float64(held) / studios; share < 0.86 || share > 0.96 {
		t.Errorf("bands meant for nine in ten hold %.3f", share)
	}
	before := math.Sqrt(2/math.Pi) * activationSD * studios
	if off > 0.72*before || math.Abs(off/said-1) > 0.1 {
		t.Errorf("the rate is off by %.2f kJ/mol on the mean, %.2f before any cook, %.2f by its own band", off/studios, before/studios, said/studios)
	}
}

func TestWaterFindings(t *testing.T) {
	t.Parallel()
	trace := func(v Trace) *Trace { return &v }
	acid := PH(5.5)
	got, err := Findings(Water{Hardness: trace(300), Iron: trace(0.5), Chlorine: trace(0.2), PH: &acid})
	var names []string
	for _, f := range got {
		names = append(names, f.What)
		if f.Does == "" || f.Do == "" || f.Source.Key == "" {
			t.Errorf("%+v says too little", f)
		}
	}
	if err != nil || !slices.Equal(names, []string{"hardness", "iron", "ph"}) {
		t.Errorf("%v, %v", names, err)
	}
	if none, err := Findings(Water{}); err != nil || len(none) != 0 {
		t.Errorf("%v, %v of nothing", none, err)
	}
	if _, err := Findings(Water{Iron: trace(Trace(math.NaN()))}); err == nil {
		t.Error("iron that is no number is taken")
	}
}
