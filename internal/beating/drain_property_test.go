package beating

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func second(_ Warning, warned bool) bool { return warned }

func TestDrainProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rig := Rig{
			Mesh:  measure.Area(rapid.Float64Range(0.002, 0.1).Draw(t, "mesh")),
			Head:  measure.Pressure(rapid.Float64Range(0.5, 3).Draw(t, "head")),
			Stock: measure.Consistency(rapid.Float64Range(0.5, 5).Draw(t, "stock")),
		}
		at := measure.Temperature(rapid.Float64Range(coldFloat, warmFloat).Draw(t, "at"))
		mu, err := WaterViscosity(at)
		if err != nil {
			t.Fatal(err)
		}
		if warmer, err := WaterViscosity(at + 1); err != nil || warmer >= mu {
			t.Fatalf("water of %g °C is no thinner a degree warmer: %g, %g, %v", float64(at), float64(mu), float64(warmer), err)
		}
		// a cake that takes 60 s for the litre and a mesh that takes 6
		slope, intercept, err := rig.line(mu)
		if err != nil {
			t.Fatal(err)
		}
		truth := Resistance{CakeResistance(60 / (slope * 1e-6)), MeshResistance(6 / (intercept * 1e-3))}
		var readings []Caught
		for _, v := range []measure.Volume{0.25, 0.5, 1} {
			s, err := rig.DrainTime(truth, v, mu)
			if err != nil {
				t.Fatal(err)
			}
			readings = append(readings, Caught{v, s})
		}
		if got := float64(readings[2].After); math.Abs(got-66) > 1e-9 {
			t.Fatalf("a litre took %g s, want 66", got)
		}
		for _, some := range [][]Caught{readings, readings[1:]} {
			got, err := rig.Resistance(some, mu)
			if err != nil || math.Abs(float64(got.Cake/truth.Cake)-1) > 1e-9 || math.Abs(float64(got.Mesh/truth.Mesh)-1) > 1e-8 {
				t.Fatalf("%v came back as %v, %v", truth, got, err)
			}
		}
		// the single time as agreed is that of the model where the mesh holds nothing back
		bare := Resistance{Cake: truth.Cake}
		s, err := rig.DrainTime(bare, 1, mu)
		if err != nil {
			t.Fatal(err)
		}
		agreed := rig
		agreed.Stock *= measure.Consistency(rapid.Float64Range(0.6, 1.7).Draw(t, "agreed"))
		mu20, _ := WaterViscosity(20)
		want, err := agreed.DrainTime(bare, 1, mu20)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := DrainAsAgreed(s, at, rig.Stock, agreed.Stock); err != nil || math.Abs(float64(got/want)-1) > 1e-9 {
			t.Fatalf("as agreed %g s, by the model %g; %v", float64(got), float64(want), err)
		}
	})
}

const coldFloat, warmFloat = 1, 59

// Where noise would have the mesh help the water along, it counts for nothing.
func TestMeshNeverHelps(t *testing.T) {
	t.Parallel()
	rig := Rig{0.01, 1.5, 2}
	for _, readings := range [][]Caught{{{0.5, 10}, {1, 45}}, {{0.25, 2}, {0.5, 10}, {1, 45}}} {
		got, err := rig.Resistance(readings, 1)
		if err != nil || got.Mesh != 0 || got.Cake <= 0 {
			t.Errorf("%v: %v, %v", readings, got, err)
		}
	}
	if p, err := HeadPressure(150); err != nil || math.Abs(float64(p)-1.468) > 0.0005 {
		t.Errorf("150 mm press with %g kPa, %v", float64(p), err)
	}
}

func TestDrainEdges(t *testing.T) {
	t.Parallel()
	rig, res := Rig{0.01, 1.5, 2}, Resistance{1e10, 1e7}
	caught := []Caught{{0.5, 30}, {1, 110}}
	zeroAllowed := map[string]bool{"cake": true, "mesh": true, "discharge": true}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e17} {
		for name, call := range map[string]func() (float64, error){
			"viscosity at":   func() (float64, error) { r, err := WaterViscosity(measure.Temperature(x)); return float64(r), err },
			"agreed seconds": func() (float64, error) { r, err := DrainAsAgreed(Seconds(x), 20, 2, 2); return float64(r), err },
			"agreed at": func() (float64, error) {
				r, err := DrainAsAgreed(60, measure.Temperature(x), 2, 2)
				return float64(r), err
			},
			"agreed stock": func() (float64, error) {
				r, err := DrainAsAgreed(60, 20, measure.Consistency(x), 2)
				return float64(r), err
			},
			"agreed agreed": func() (float64, error) {
				r, err := DrainAsAgreed(60, 20, 2, measure.Consistency(x))
				return float64(r), err
			},
			"head": func() (float64, error) { r, err := HeadPressure(measure.Length(x)); return float64(r), err },
			"discharge": func() (float64, error) {
				r, err := SchopperRieglerFromDischarge(measure.Milliliters(x))
				return float64(r), err
			},
			"rig mesh": func() (float64, error) {
				r, err := Rig{measure.Area(x), 1.5, 2}.DrainTime(res, 1, 1)
				return float64(r), err
			},
			"rig head": func() (float64, error) {
				r, err := Rig{0.01, measure.Pressure(x), 2}.DrainTime(res, 1, 1)
				return float64(r), err
			},
			"rig stock": func() (float64, error) {
				r, err := Rig{0.01, 1.5, measure.Consistency(x)}.DrainTime(res, 1, 1)
				return float64(r), err
			},
			"cake": func() (float64, error) {
				r, err := rig.DrainTime(Resistance{CakeResistance(x), 1e7}, 1, 1)
				return float64(r), err
			},
			"mesh": func() (float64, error) {
				r, err := rig.DrainTime(Resistance{1e10, MeshResistance(x)}, 1, 1)
				return float64(r), err
			},
			"volume":    func() (float64, error) { r, err := rig.DrainTime(res, measure.Volume(x), 1); return float64(r), err },
			"thickness": func() (float64, error) { r, err := rig.DrainTime(res, 1, Viscosity(x)); return float64(r), err },
			"caught": func() (float64, error) {
				r, err := rig.Resistance([]Caught{{measure.Volume(x), 30}, {1, 110}}, 1)
				return float64(r.Cake), err
			},
			"after": func() (float64, error) {
				r, err := rig.Resistance([]Caught{{0.5, Seconds(x)}, {1, 110}}, 1)
				return float64(r.Cake), err
			},
			"fit thick": func() (float64, error) { r, err := rig.Resistance(caught, Viscosity(x)); return float64(r.Cake), err },
		} {
			if x == 0 && zeroAllowed[name] {
				continue
			}
			if r, err := call(); r != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %g = %g, %v", name, x, r, err)
			}
		}
	}
	for name, readings := range map[string][]Caught{
		"one reading":        caught[:1],
		"less water":         {{0.5, 30}, {0.4, 110}},
		"less time":          {{0.5, 30}, {1, 30}},
		"no cake":            {{0.5, 30}, {1, 50}},
		"no cake, of three":  {{0.25, 20}, {0.5, 30}, {1, 50}},
		"no reading":         nil,
		"twice the same one": {{0.5, 30}, {0.5, 30}},
	} {
		if r, err := rig.Resistance(readings, 1); r != (Resistance{}) || fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%s: %v, %v", name, r, err)
		}
	}
	if _, err := DrainAsAgreed(60, 20, 2, 5); err == nil || fault.KindOf(err) != fault.KindOutOfRange {
		t.Errorf("stock far from the agreed: %v", err)
	}
}
