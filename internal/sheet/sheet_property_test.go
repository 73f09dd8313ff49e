package sheet

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Forming for a size and drying are inverses, and so are both moisture bases
// and both ways between mass and grammage.
func TestInverses(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Float64Range(10, 1900).Draw(t, "l"))
		e := measure.Shrinkage(rapid.Float64Range(0, 0.6).Draw(t, "e"))
		formed, err1 := FormedLength(l, e)
		dry, err2 := DryLength(formed, e)
		if err1 != nil || err2 != nil || math.Abs(float64(dry/l-1)) > 1e-12 {
			t.Fatalf("%v mm at %v came back as %v (%v, %v)", l, e, dry, err1, err2)
		}
		m := measure.MoistureDry(rapid.Float64Range(0, 18).Draw(t, "m"))
		wet, err1 := WetBasis(m)
		back, err2 := DryBasis(wet)
		if err1 != nil || err2 != nil || math.Abs(float64(back-m)) > 1e-9*(1+float64(m)) || float64(wet) > float64(m) {
			t.Fatalf("moisture %v, wet %v, came back as %v (%v, %v)", m, wet, back, err1, err2)
		}
		g := measure.GrammageConditioned(rapid.Float64Range(1, 4999).Draw(t, "g"))
		a := measure.Area(rapid.Float64Range(0.001, 20).Draw(t, "a"))
		mass, err1 := ConditionedMass(g, a)
		g2, err2 := GrammageFromSheet(mass, a)
		if err1 != nil || err2 != nil || math.Abs(float64(g2/g-1)) > 1e-9 {
			t.Fatalf("%v g/m² on %v m² came back as %v (%v, %v)", g, a, g2, err1, err2)
		}
	})
}

// Fibre is conserved in drying: grammage rises just as the area falls.
func TestRiseConservesMass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, short := measure.Length(rapid.Float64Range(50, 2000).Draw(t, "long")), measure.Length(rapid.Float64Range(50, 2000).Draw(t, "short"))
		el, es := measure.Shrinkage(rapid.Float64Range(0, 0.6).Draw(t, "el")), measure.Shrinkage(rapid.Float64Range(0, 0.6).Draw(t, "es"))
		formed, _ := AreaOf(long, short)
		dl, _ := DryLength(long, el)
		ds, _ := DryLength(short, es)
		dry, err := AreaOf(dl, ds)
		rise, err2 := GrammageRise(el, es)
		if err != nil || err2 != nil || math.Abs(float64(formed)/float64(dry)/float64(rise)-1) > 1e-12 {
			t.Fatalf("formed %v, dry %v, rise %v (%v, %v)", formed, dry, rise, err, err2)
		}
	})
}

// More humidity never means less moisture; a dry room means none.
func TestMoistureRises(t *testing.T) {
	t.Parallel()
	if m, err := MoistureAt(0); m != 0 || err != nil {
		t.Errorf("in bone-dry air paper holds %v, %v", m, err)
	}
	last := measure.MoistureDry(-1)
	for rh := measure.RelHumidity(0); rh <= 0.9; rh += 0.01 {
		m, err := MoistureAt(rh)
		if err != nil || m <= last || m > 0.4 {
			t.Fatalf("at %.2f: %v after %v, %v", float64(rh), m, last, err)
		}
		last = m
	}
	// weighed at 50, carried to 35 and back, a sheet weighs what it did
	a, _ := MoistureAt(0.5)
	b, _ := MoistureAt(0.35)
	dry, _ := DrySolids(100, a)
	there := float64(dry) * (1 + float64(b))
	dry2, _ := DrySolids(measure.Mass(there), b)
	if math.Abs(float64(dry2)*(1+float64(a))-100) > 1e-9 {
		t.Error("50 → 35 → 50 % RH does not return")
	}
}

// Solids and their moisture make up the mass.
func TestSolidsAndWater(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Mass(rapid.Float64Range(0, 1e5).Draw(t, "m"))
		x := measure.MoistureDry(rapid.Float64Range(0, 0.4).Draw(t, "x"))
		dry, err := DrySolids(m, x)
		if err != nil || math.Abs(float64(dry)*(1+float64(x))-float64(m)) > 1e-9*float64(m) {
			t.Fatalf("%v g at %v hold %v, %v", m, x, dry, err)
		}
	})
}

var noNumbers = []float64{math.NaN(), math.Inf(1), math.Inf(-1)}

// What is no number, or just outside, is a fault that says the range and never
// a number.
func TestEdges(t *testing.T) {
	t.Parallel()
	one := map[string]struct {
		f    func(v float64) (float64, error)
		good []float64
		bad  []float64
	}{
		"FormedLength length": {func(v float64) (float64, error) {
			r, err := FormedLength(measure.Length(v), 0.1)
			return float64(r), err
		}, []float64{5, 5000}, []float64{0, -1, 4.999, 5000.001}},
		"FormedLength shrink": {func(v float64) (float64, error) {
			r, err := FormedLength(300, measure.Shrinkage(v))
			return float64(r), err
		}, []float64{0, 0.6}, []float64{-1e-9, 0.6001, 1, 2}},
		"DryLength length": {func(v float64) (float64, error) { r, err := DryLength(measure.Length(v), 0.1); return float64(r), err }, []float64{5, 5000}, []float64{0, -1, 4.999, 5000.001}},
		"DryLength shrink": {func(v float64) (float64, error) {
			r, err := DryLength(300, measure.Shrinkage(v))
			return float64(r), err
		}, []float64{0, 0.6}, []float64{-1e-9, 0.6001, 1}},
		"AreaOf long":  {func(v float64) (float64, error) { r, err := AreaOf(measure.Length(v), 300); return float64(r), err }, []float64{5, 5000}, []float64{0, -1, 4.999, 5000.001}},
		"AreaOf short": {func(v float64) (float64, error) { r, err := AreaOf(300, measure.Length(v)); return float64(r), err }, []float64{5, 5000}, []float64{0, -1, 4.999, 5000.001}},
		"ConditionedMass g": {func(v float64) (float64, error) {
			r, err := ConditionedMass(measure.GrammageConditioned(v), 0.1)
			return float64(r), err
		}, []float64{0.001, 5000}, []float64{0, -1, 5000.1}},
		"ConditionedMass area": {func(v float64) (float64, error) {
			r, err := ConditionedMass(100, measure.Area(v))
			return float64(r), err
		}, []float64{0.001, 25}, []float64{0, -1, 25.01}},
		"DrySolids mass": {func(v float64) (float64, error) { r, err := DrySolids(measure.Mass(v), 0.07); return float64(r), err }, []float64{0, 1e5}, []float64{-1e-9, 1e5 + 1}},
		"DrySolids moisture": {func(v float64) (float64, error) {
			r, err := DrySolids(10, measure.MoistureDry(v))
			return float64(r), err
		}, []float64{0, 0.4}, []float64{-1e-9, 0.401}},
		"GrammageFromSheet m": {func(v float64) (float64, error) {
			r, err := GrammageFromSheet(measure.Mass(v), 0.1)
			return float64(r), err
		}, []float64{0.001, 500}, []float64{0, -1, 500.1}},
		"GrammageFromSheet a": {func(v float64) (float64, error) {
			r, err := GrammageFromSheet(10, measure.Area(v))
			return float64(r), err
		}, []float64{0.002, 25}, []float64{0, -1, 25.1, 0.0019}},
		"GrammageRise long": {func(v float64) (float64, error) {
			r, err := GrammageRise(measure.Shrinkage(v), 0.1)
			return float64(r), err
		}, []float64{0, 0.6}, []float64{-0.01, 0.61}},
		"GrammageRise short": {func(v float64) (float64, error) {
			r, err := GrammageRise(0.1, measure.Shrinkage(v))
			return float64(r), err
		}, []float64{0, 0.6}, []float64{-0.01, 0.61}},
		"MoistureAt": {func(v float64) (float64, error) { r, err := MoistureAt(measure.RelHumidity(v)); return float64(r), err }, []float64{0, 0.9}, []float64{-0.01, 0.9001, 50}},
		"WetBasis":   {func(v float64) (float64, error) { r, err := WetBasis(measure.MoistureDry(v)); return float64(r), err }, []float64{0, 20}, []float64{-0.01, 20.1}},
		"DryBasis":   {func(v float64) (float64, error) { r, err := DryBasis(measure.MoistureWet(v)); return float64(r), err }, []float64{0, 0.95}, []float64{-0.01, 0.951, 1}},
	}
	for name, c := range one {
		for _, v := range c.good {
			if r, err := c.f(v); err != nil || math.IsNaN(r) || math.IsInf(r, 0) || r < 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
		for _, v := range append(c.bad, noNumbers...) {
			r, err := c.f(v)
			if !isFault(err) || r != 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
	}
}

func isFault(err error) bool {
	var f *fault.Error
	return errors.As(err, &f) && f.Kind == fault.KindOutOfRange && f.Text != ""
}
