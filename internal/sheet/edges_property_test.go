package sheet

import (
	"math"
	"testing"

	"vatside/internal/measure"
)

// float takes the type off a quantity and its fault.
func float[T ~float64](v T, err error) (float64, error) { return float64(v), err }

// The edges of every single number that the formulas of paper, stock and room
// take: good ones give a number, others a fault and none.
func TestMoreEdges(t *testing.T) {
	t.Parallel()
	one := map[string]struct {
		f    func(v float64) (float64, error)
		good []float64
		bad  []float64
	}{
		"Caliper g":       {func(v float64) (float64, error) { return float(Caliper(measure.GrammageConditioned(v), 0.5)) }, []float64{0.5, 5000}, []float64{0, -1, 5001, 1e-9}},
		"Caliper density": {func(v float64) (float64, error) { return float(Caliper(100, measure.Density(v))) }, []float64{0.05, 1.6}, []float64{0, -1, 0.049, 1.61}},
		"DensityFromCaliper g": {func(v float64) (float64, error) {
			return float(DensityFromCaliper(measure.GrammageConditioned(v), 5))
		}, []float64{0.1, 5000}, []float64{0, -1, 5001}},
		"DensityFromCaliper t": {func(v float64) (float64, error) { return float(DensityFromCaliper(100, measure.Length(v))) }, []float64{0.0626, 50}, []float64{0, -1, 0.0009, 50.1, 0.06}},
		"Bulk t":               {func(v float64) (float64, error) { return float(Bulk(100, measure.Length(v))) }, []float64{0.0626, 50}, []float64{0, -1, 50.1, 0.06}},
		"ShapeArea long":       {func(v float64) (float64, error) { return float(ShapeArea(Oval, measure.Length(v), 300, 0)) }, []float64{5, 5000}, []float64{0, -1, 4.99, 5001}},
		"ShapeArea round":      {func(v float64) (float64, error) { return float(ShapeArea(Round, measure.Length(v), 0, 0)) }, []float64{5, 5000}, []float64{0, -1, 4.99, 5001}},
		"ShapeArea share":      {func(v float64) (float64, error) { return float(ShapeArea(Odd, 300, 300, measure.Share(v))) }, []float64{0.01, 1}, []float64{0, -1, 0.009, 1.01, 70}},
		"DryArea":              {func(v float64) (float64, error) { return float(DryArea(measure.Area(v), 0.1, 0.1)) }, []float64{0.001, 25}, []float64{0, -1, 25.1}},
		"DryArea shrink":       {func(v float64) (float64, error) { return float(DryArea(0.1, 0.1, measure.Shrinkage(v))) }, []float64{0, 0.6}, []float64{-0.1, 0.61}},
		"FormedArea":           {func(v float64) (float64, error) { return float(FormedArea(measure.Area(v), 0.1, 0.1)) }, []float64{0.001, 25}, []float64{0, -1, 25.1}},
		"Divided bar": {func(v float64) (float64, error) {
			l, _, _, err := Divided(900, 300, 2, 1, measure.Length(v))
			return float(l, err)
		}, []float64{0, 200}, []float64{-1, 201}},
		"Divided long": {func(v float64) (float64, error) {
			l, _, _, err := Divided(measure.Length(v), 300, 1, 2, 10)
			return float(l, err)
		}, []float64{5, 5000}, []float64{0, -1, 4.9, 5001}},
		"PanesFor wanted": {func(v float64) (float64, error) {
			n, err := PanesFor(900, measure.Length(v), 10)
			return float64(n), err
		}, []float64{5, 5000}, []float64{0, -1, 5001}},
		"Crowding c":         {func(v float64) (float64, error) { return float(Crowding(measure.Consistency(v), 2, 0.2)) }, []float64{0.001, 150}, []float64{0, -1, 151}},
		"Crowding length":    {func(v float64) (float64, error) { return float(Crowding(5, measure.Length(v), 0.2)) }, []float64{0.05, 100}, []float64{0, -1, 101}},
		"Crowding d":         {func(v float64) (float64, error) { return float(Crowding(5, 2, Coarseness(v))) }, []float64{0.01, 5}, []float64{0, -1, 5.1}},
		"CrowdedTo n":        {func(v float64) (float64, error) { return float(CrowdedTo(measure.Number(v), 50, 0.2)) }, []float64{0.1, 10000}, []float64{0, -1, 10001}},
		"CrowdedTo length":   {func(v float64) (float64, error) { return float(CrowdedTo(60, measure.Length(v), 0.2)) }, []float64{1, 100}, []float64{0, -1, 101, 0.06}},
		"WoodMoisture t":     {func(v float64) (float64, error) { return float(WoodMoisture(measure.Temperature(v), 0.5)) }, []float64{-5, 60}, []float64{-5.1, 60.1}},
		"WoodMoisture rh":    {func(v float64) (float64, error) { return float(WoodMoisture(20, measure.RelHumidity(v))) }, []float64{0, 0.95}, []float64{-0.01, 0.951, 50}},
		"MoistureOn":         {func(v float64) (float64, error) { return float(MoistureOn(measure.RelHumidity(v), WettingUp)) }, []float64{0, 0.9}, []float64{-0.01, 0.901, 50}},
		"Reweighed m":        {func(v float64) (float64, error) { return float(Reweighed(measure.Mass(v), 0.4, 0.5, WettingUp)) }, []float64{0, 1e5}, []float64{-1, 1e5 + 1}},
		"Reweighed from":     {func(v float64) (float64, error) { return float(Reweighed(50, measure.RelHumidity(v), 0.5, WettingUp)) }, []float64{0, 0.9}, []float64{-0.01, 0.901}},
		"Reweighed to":       {func(v float64) (float64, error) { return float(Reweighed(50, 0.5, measure.RelHumidity(v), WettingUp)) }, []float64{0, 0.9}, []float64{-0.01, 0.901}},
		"GrammageFromReam n": {func(v float64) (float64, error) { return float(GrammageFromReam(10000, measure.Sheets(v), 0.24)) }, []float64{480, 10000}, []float64{0, -1, 0.5, 10001}},
		"GrammageFromReam m": {func(v float64) (float64, error) { return float(GrammageFromReam(measure.Mass(v), 500, 0.24)) }, []float64{1, 1e5}, []float64{0, -1, 1e6}},
		"GrammageFromReam a": {func(v float64) (float64, error) { return float(GrammageFromReam(10000, 500, measure.Area(v))) }, []float64{0.1, 25}, []float64{0, -1, 25.1}},
	}
	for name, c := range one {
		for _, v := range c.good {
			if r, err := c.f(v); err != nil || math.IsNaN(r) || math.IsInf(r, 0) || r < 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
		for _, v := range append(c.bad, noNumbers...) {
			if r, err := c.f(v); !isFault(err) || r != 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
	}
}
