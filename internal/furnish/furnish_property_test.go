package furnish

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Fibre and retained additive are the solids; what is left of a lot after its
// water and its loss is what was wanted.
func TestMassIsConserved(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Mass(rapid.Float64Range(0, 1e5).Draw(t, "m"))
		d, r := measure.Dose(rapid.Float64Range(0, 1).Draw(t, "d")), measure.Share(rapid.Float64Range(0, 1).Draw(t, "r"))
		fibre, err := FibreInSolids(m, d, r)
		if kept := float64(fibre) * float64(d) * float64(r); err != nil || math.Abs(float64(fibre)+kept-float64(m)) > 1e-9*(1+float64(m)) {
			t.Fatalf("%v g of solids: %v fibre and %v additive, %v", m, fibre, kept, err)
		}
		back, err := SolidsOnFibre(fibre, d, r)
		if err != nil || math.Abs(float64(back-m)) > 1e-9*(1+float64(m)) {
			t.Fatalf("%v g came back as %v, %v", m, back, err)
		}
		wet := measure.MoistureWet(rapid.Float64Range(0, 0.98).Draw(t, "wet"))
		lot, err1 := ToWeigh(m, wet)
		dry, err2 := DryOfLot(lot, wet)
		if err1 != nil || err2 != nil || math.Abs(float64(dry-m)) > 1e-9*(1+float64(m)) {
			t.Fatalf("%v g at %v came back as %v (%v, %v)", m, wet, dry, err1, err2)
		}
		l := measure.Share(rapid.Float64Range(0, 0.9).Draw(t, "l"))
		in, err := BeforeLoss(m, l)
		if err != nil || math.Abs(float64(in)*(1-float64(l))-float64(m)) > 1e-9*(1+float64(m)) {
			t.Fatalf("%v g before a loss of %v: %v, %v", m, l, in, err)
		}
	})
}

// A larger dose or better retention leaves less room for fibre; a larger loss
// or a wetter lot wants more.
func TestMonotone(t *testing.T) {
	t.Parallel()
	for x := 0.0; x < 0.85; x += 0.05 {
		a, _ := FibreInSolids(100, measure.Dose(x), 0.6)
		b, _ := FibreInSolids(100, measure.Dose(x+0.05), 0.6)
		c, _ := FibreInSolids(100, 0.1, measure.Share(x))
		d, _ := FibreInSolids(100, 0.1, measure.Share(x+0.05))
		e, _ := BeforeLoss(100, measure.Share(x))
		f, _ := BeforeLoss(100, measure.Share(x+0.05))
		g, _ := ToWeigh(100, measure.MoistureWet(x))
		h, _ := ToWeigh(100, measure.MoistureWet(x+0.05))
		if b >= a || d >= c || f <= e || h <= g {
			t.Errorf("not monotone at %.2f", x)
		}
	}
	if m, _ := FibreInSolids(100, 0, 1); m != 100 {
		t.Errorf("without additive 100 g of solids are %v g of fibre", m)
	}
	if m, _ := FibreInSolids(100, 0.5, 0); m != 100 {
		t.Errorf("of additive that all runs off, 100 g of solids are %v g of fibre", m)
	}
}

// What is no number, or just outside, is a fault and never a number.
func TestEdges(t *testing.T) {
	t.Parallel()
	type given struct {
		f         func(v float64) (measure.Mass, error)
		good, bad []float64
	}
	for name, c := range map[string]given{
		"FibreInSolids solids":   {func(v float64) (measure.Mass, error) { return FibreInSolids(measure.Mass(v), 0.1, 0.5) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"FibreInSolids dose":     {func(v float64) (measure.Mass, error) { return FibreInSolids(10, measure.Dose(v), 0.5) }, []float64{0, 1}, []float64{-1e-9, 1.001}},
		"FibreInSolids retained": {func(v float64) (measure.Mass, error) { return FibreInSolids(10, 0.1, measure.Share(v)) }, []float64{0, 1}, []float64{-1e-9, 1.001}},
		"SolidsOnFibre fibre":    {func(v float64) (measure.Mass, error) { return SolidsOnFibre(measure.Mass(v), 0.1, 0.5) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"SolidsOnFibre dose":     {func(v float64) (measure.Mass, error) { return SolidsOnFibre(10, measure.Dose(v), 0.5) }, []float64{0, 1}, []float64{-1e-9, 1.001}},
		"SolidsOnFibre retained": {func(v float64) (measure.Mass, error) { return SolidsOnFibre(10, 0.1, measure.Share(v)) }, []float64{0, 1}, []float64{-1e-9, 1.001}},
		"BeforeLoss mass":        {func(v float64) (measure.Mass, error) { return BeforeLoss(measure.Mass(v), 0.1) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"BeforeLoss lost":        {func(v float64) (measure.Mass, error) { return BeforeLoss(10, measure.Share(v)) }, []float64{0, 0.99}, []float64{-1e-9, 0.991, 1}},
		"ToWeigh dry":            {func(v float64) (measure.Mass, error) { return ToWeigh(measure.Mass(v), 0.08) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"ToWeigh moisture":       {func(v float64) (measure.Mass, error) { return ToWeigh(10, measure.MoistureWet(v)) }, []float64{0, 0.98}, []float64{-1e-9, 0.981, 1}},
		"DryOfLot lot":           {func(v float64) (measure.Mass, error) { return DryOfLot(measure.Mass(v), 0.08) }, []float64{0, 1e7}, []float64{-1e-9, 1.1e7}},
		"DryOfLot moisture":      {func(v float64) (measure.Mass, error) { return DryOfLot(10, measure.MoistureWet(v)) }, []float64{0, 0.98}, []float64{-1e-9, 0.981, 1}},
	} {
		for _, v := range c.good {
			if m, err := c.f(v); err != nil || m < 0 || !measure.Finite(m) {
				t.Errorf("%s of %g: %v, %v", name, v, m, err)
			}
		}
		for _, v := range append(c.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			var f *fault.Error
			if m, err := c.f(v); m != 0 || !errors.As(err, &f) || f.Kind != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v, %v", name, v, m, err)
			}
		}
	}
}

func ExampleToWeigh() {
	// 940 g of bone-dry linter, at 6 % moisture on wet basis.
	m, _ := ToWeigh(940, 0.06)
	fmt.Println(m)
	// Output: 1000
}

func ExampleFibreInSolids() {
	// 3 % chalk on fibre, 60 % of it retained.
	m, _ := FibreInSolids(11.66, 0.03, 0.6)
	fmt.Printf("%.2f g\n", float64(m))
	// Output: 11.45 g
}
