package beating

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

func TestShareWorkedByHand(t *testing.T) {
	t.Parallel()
	small := Machine{"small", Beater, 340, 11.4}
	common := Machine{"common", Beater, 680, 22.7}
	large := Machine{"large", Beater, 907, 37.9}
	type part struct {
		name  string
		loads measure.Loads
		each  measure.Mass
	}
	for name, c := range map[string]struct {
		fibre    measure.Mass
		machines []Machine
		rounds   measure.Loads
		parts    []part
	}{
		"one machine":                       {1014, []Machine{common}, 2, []part{{"common", 2, 507}}},
		"the smallest that holds it":        {300, []Machine{large, common, small}, 1, []part{{"small", 1, 300}}},
		"two machines, one round":           {1014, []Machine{common, small, large}, 1, []part{{"common", 1, 676}, {"small", 1, 338}}}, // 1020 is the least pair that holds it
		"three loads, not four":             {1400, []Machine{common, common}, 2, []part{{"common", 1, 1400. / 3}, {"common", 2, 1400. / 3}}},
		"filled alike":                      {1500, []Machine{common, large}, 1, []part{{"common", 1, 680 * 1500. / 1587}, {"large", 1, 907 * 1500. / 1587}}},
		"as full as it goes":                {1020, []Machine{small, common}, 1, []part{{"small", 1, 340}, {"common", 1, 680}}},
		"fewer machines at the same rounds": {1300, []Machine{common, small, small}, 1, []part{{"common", 1, 650}, {"small", 1, 325}, {"small", 1, 325}}},
	} {
		s, err := Share(c.fibre, c.machines)
		if err != nil || s.Rounds != c.rounds || len(s.Turns) != len(c.parts) {
			t.Errorf("%s: %+v, %v", name, s, err)
			continue
		}
		for i, p := range c.parts {
			got := s.Turns[i]
			if got.Machine.Name != p.name || got.Loads != p.loads || math.Abs(float64(got.Each-p.each)) > 1e-9 {
				t.Errorf("%s: %s takes %g loads of %.3f g, want %s %g of %.3f", name, got.Machine.Name, float64(got.Loads), float64(got.Each), p.name, float64(p.loads), float64(p.each))
			}
		}
	}
}

func TestShareProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var machines []Machine
		var total measure.Mass
		for range rapid.IntRange(1, 6).Draw(t, "machines") {
			rated := measure.Mass(rapid.SampledFrom([]float64{340, 454, 680, 907, 4540}).Draw(t, "rated"))
			machines = append(machines, Machine{"", Beater, rated, measure.Volume(rated / 30)})
			total += rated
		}
		mass := measure.Mass(rapid.Float64Range(10, 20000).Draw(t, "fibre"))
		s, err := Share(mass, machines)
		if err != nil {
			t.Fatal(err)
		}
		var held measure.Mass
		for _, turn := range s.Turns {
			held += turn.Each * measure.Mass(turn.Loads)
			if turn.Each > turn.Machine.Rated || turn.Loads < 1 || turn.Loads > s.Rounds {
				t.Fatalf("%+v", turn)
			}
			thick, err := Consistency(turn.Each, turn.Water)
			if err != nil || math.Abs(float64(thick)-30) > 1e-9 {
				t.Fatalf("%+v is %g g/L, %v", turn, float64(thick), err)
			}
		}
		if math.Abs(float64(held/mass)-1) > 1e-9 {
			t.Fatalf("%g g were shared out of %g", float64(held), float64(mass))
		}
		if s.Rounds > 1 && total*measure.Mass(s.Rounds-1) >= mass {
			t.Fatalf("%g rounds, where one less would do", float64(s.Rounds))
		}
		// the largest machines, one fewer than were taken, would not do
		for set := 0; set < 1<<len(machines); set++ {
			n, rated := 0, measure.Mass(0)
			for i, m := range machines {
				if set>>i&1 == 1 {
					n, rated = n+1, rated+m.Rated
				}
			}
			if n < len(s.Turns) && rated*measure.Mass(s.Rounds) >= mass {
				t.Fatalf("%d machines were taken, where %d would do", len(s.Turns), n)
			}
		}
	})
}

func TestShareEdges(t *testing.T) {
	t.Parallel()
	common := Machine{"common", Beater, 680, 22.7}
	for _, x := range []float64{math.NaN(), math.Inf(1), -1, 0} {
		for name, call := range map[string]func() (Sharing, error){
			"fibre": func() (Sharing, error) { return Share(measure.Mass(x), []Machine{common}) },
			"rated": func() (Sharing, error) { return Share(100, []Machine{{"", Beater, measure.Mass(x), 20}}) },
			"water": func() (Sharing, error) { return Share(100, []Machine{{"", Beater, 680, measure.Volume(x)}}) },
		} {
			if s, err := call(); len(s.Turns) != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %+v, %v", name, x, s, err)
			}
		}
		if m, err := BlenderOf("", measure.Volume(x)); m != (Machine{}) || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("a jug of %g: %+v, %v", x, m, err)
		}
		if turn, err := BlenderLoads(measure.Mass(x), 1.5); turn != (Turn{}) || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%g g in a blender: %+v, %v", x, turn, err)
		}
		if r, err := WhenItLabours(fibre.Fibre{}, measure.Mass(x), 680); r.Loads != 0 || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("a load of %g that labours: %+v, %v", x, r, err)
		}
		if r, err := WhenItLabours(fibre.Fibre{}, 680, measure.Mass(x)); r.Loads != 0 || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("a rating of %g that labours: %+v, %v", x, r, err)
		}
	}
	for name, machines := range map[string][]Machine{
		"no machine":        nil,
		"too many":          make([]Machine, 13),
		"a mixed company":   {common, {"jug", Blender, 12, 1}},
		"an unknown engine": {{"x", "mill", 680, 22.7}},
	} {
		if s, err := Share(100, machines); len(s.Turns) != 0 || err == nil {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// A blender of 1.5 L takes 12 g in a litre; and a class handout's letter sheet
// of 75 g/m² in three US cups is 4.5 g, 0.64 %.
func TestBlender(t *testing.T) {
	t.Parallel()
	m, err := BlenderOf("jug", 1.5)
	if err != nil || math.Abs(float64(m.Rated)-12) > 1e-12 || math.Abs(float64(m.Water)-1) > 1e-12 {
		t.Errorf("%+v, %v", m, err)
	}
	turn, err := BlenderLoads(100, 1.5)
	if err != nil || turn.Loads != 9 || math.Abs(float64(turn.Each)-100./9) > 1e-9 {
		t.Errorf("%+v, %v", turn, err)
	}
	sheet := measure.Mass(0.2159 * 0.2794 * 75)
	cups := measure.Volume(3 * 3.785411784 / 16) // 16 cups to the gallon
	if thick, err := Consistency(sheet, cups); err != nil || math.Abs(float64(sheet)-4.5) > 0.05 || math.Abs(float64(thick)/10-0.64) > 0.005 {
		t.Errorf("%.3f g, %.3f g/L, %v; the handout's sheet is 4.5 g and 0.64 %%", float64(sheet), float64(thick), err)
	}
	if sheet > m.Rated {
		t.Error("the handout's load would not go into a common jug")
	}
	recycled, _ := fibre.Get("recycled office paper")
	abaca, _ := fibre.Get("abaca")
	for _, f := range []fibre.Fibre{recycled, abaca} {
		if v, err := BlenderSeconds(f); err != nil || v.Low < 30 || v.Low > v.Mid || v.Mid > v.High || v.High > 240 {
			t.Errorf("%s: %+v, %v", f.Name, v, err)
		}
	}
	for _, name := range []string{"denim rag", "kozo", "iris leaf"} {
		f, _ := fibre.Get(name)
		if v, err := BlenderSeconds(f); v != (source.Value{}) || fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%s goes into a blender: %+v, %v", name, v, err)
		}
	}
	if w := m.Warnings(recycled, 10); len(w) != 1 || w[0].Code != "blender-cuts" {
		t.Errorf("a blender load is warned of %v", w)
	}
	if w := m.Warnings(recycled, 13); len(w) != 2 || w[0].Code != "beater-over-rating" {
		t.Errorf("too full a blender is warned of %v", w)
	}
}

// The beginner's beater, 1.5 lb in 6 US gallons, is 3.0 %: no more and no less
// than it says of itself, whatever other beaters take.
func TestMachineWarnings(t *testing.T) {
	t.Parallel()
	const lb, gallon = 453.59237, 3.785411784
	common := Machine{"common", Beater, 1.5 * lb, 6 * gallon}
	if c, err := Consistency(common.Rated, common.Water); err != nil || math.Abs(float64(c)/10-3.0) > 0.05 {
		t.Errorf("%.3f g/L, %v", float64(c), err)
	}
	flax, _ := fibre.Get("flax")
	linters, _ := fibre.Get("cotton linters")
	for _, c := range []struct {
		m    Machine
		f    fibre.Fibre
		load measure.Mass
		want string
	}{
		{common, linters, 600, ""},
		{common, linters, 700, "beater-over-rating"},
		{common, linters, 100, "beater-underfilled"},
		{common, flax, 600, "beater-wrap"},
		{Machine{"thick", Beater, 2000, 20}, linters, 1500, "beater-overload"},
		{Machine{"thin", Beater, 200, 20}, linters, 150, "beater-thin"},
		{common, linters, measure.Mass(math.NaN()), "beater-over-rating beater-underfilled"},
	} {
		var got []string
		for _, w := range c.m.Warnings(c.f, c.load) {
			got = append(got, w.Code)
			source.Must(w.Source)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s, %g g of %s: warned of %v, want %q", c.m.Name, float64(c.load), c.f.Name, got, c.want)
		}
	}
}
