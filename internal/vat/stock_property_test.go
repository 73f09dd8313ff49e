package vat

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// A sheet known by its mass needs the vat of one known by area and depth; the
// vat then loses just that share to a sheet; thinning keeps the fibre.
func TestStock(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := measure.Consistency(rapid.Float64Range(0.5, 30).Draw(t, "c"))
		b := Balance{Area: measure.Area(rapid.Float64Range(0.01, 0.5).Draw(t, "area")), Depth: measure.Length(rapid.Float64Range(5, 40).Draw(t, "depth"))}
		d := measure.Share(rapid.Float64Range(0.01, 1).Draw(t, "d"))
		sheet := measure.Mass(float64(c) * b.taken())
		v, err := LeastVolume(sheet, c, d)
		same, err2 := b.LeastVolume(d)
		stock, err3 := StockFor(sheet, c)
		if fault.First(err, err2, err3) != nil || math.Abs(float64(v/same)-1) > 1e-12 || math.Abs(float64(sheet)/(float64(c)*float64(v))/float64(d)-1) > 1e-12 || stock > v*1.0000001 {
			t.Fatalf("%v L or %v L, %v L of stock (%v %v %v)", v, same, stock, err, err2, err3)
		}
		thin := c * measure.Consistency(rapid.Float64Range(0.05, 1).Draw(t, "thin"))
		water, err := WaterToThin(stock, c, thin)
		if err != nil || water < 0 || math.Abs(float64(thin)*float64(stock+water)/float64(sheet)-1) > 1e-9 {
			t.Fatalf("%v L to %v L at %v g/L thinned to %v, %v", water, stock, c, thin, err)
		}
	})
}

func TestStockEdges(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		f    func(v float64) (measure.Volume, error)
		good []float64
		bad  []float64
	}{
		"StockFor m":       {func(v float64) (measure.Volume, error) { return StockFor(measure.Mass(v), 5) }, []float64{0, 1e5}, []float64{-1, 1e5 + 1}},
		"StockFor c":       {func(v float64) (measure.Volume, error) { return StockFor(5, measure.Consistency(v)) }, []float64{0.1, 500}, []float64{0, -1, 501}},
		"WaterToThin v":    {func(v float64) (measure.Volume, error) { return WaterToThin(measure.Volume(v), 5, 3) }, []float64{0, 10000}, []float64{-1, 10001}},
		"WaterToThin c":    {func(v float64) (measure.Volume, error) { return WaterToThin(5, measure.Consistency(v), 3) }, []float64{3, 500}, []float64{0, -1, 2.9, 501}},
		"WaterToThin thin": {func(v float64) (measure.Volume, error) { return WaterToThin(5, 5, measure.Consistency(v)) }, []float64{0.1, 5}, []float64{0, -1, 5.1}},
		"LeastVolume m":    {func(v float64) (measure.Volume, error) { return LeastVolume(measure.Mass(v), 5, 0.05) }, []float64{0, 1e5}, []float64{-1, 1e5 + 1}},
		"LeastVolume c":    {func(v float64) (measure.Volume, error) { return LeastVolume(5, measure.Consistency(v), 0.05) }, []float64{0.1, 500}, []float64{0, -1, 501}},
		"LeastVolume d":    {func(v float64) (measure.Volume, error) { return LeastVolume(5, 5, measure.Share(v)) }, []float64{0.001, 1}, []float64{0, -1, 1.01}},
	} {
		for _, v := range c.good {
			if r, err := c.f(v); err != nil || r < 0 || math.IsNaN(float64(r)) {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
		for _, v := range append(c.bad, math.NaN(), math.Inf(1), math.Inf(-1)) {
			if r, err := c.f(v); fault.KindOf(err) != fault.KindOutOfRange || r != 0 {
				t.Errorf("%s of %g: %v, %v", name, v, r, err)
			}
		}
	}
}

func ExampleLeastVolume() {
	// A food box is no vat: a 20 cm round sheet of 3.14 g from stock of 5 g/L.
	v, _ := LeastVolume(3.14, 5, 0.05)
	fmt.Printf("%.1f L\n", float64(v))
	// Output: 12.6 L
}
