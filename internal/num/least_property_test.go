package num

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// A line through points is the one gonum draws, and other units of x or y
// change the coefficients by those units alone.
func TestLinearAgainstLibraryAndScale(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 40).Draw(t, "n")
		x, y, one := make([]float64, n), make([]float64, n), slices.Repeat([]float64{1}, n)
		for i := range n {
			x[i] = float64(i) + rapid.Float64Range(0, 0.5).Draw(t, "x")
			y[i] = rapid.Float64Range(-50, 50).Draw(t, "y")
		}
		f, err := Linear([][]float64{one, x}, y)
		if err != nil {
			t.Fatal(err)
		}
		a, b := stat.LinearRegression(x, y, nil, false)
		if math.Abs(f.Coef[0]-a) > 1e-8 || math.Abs(f.Coef[1]-b) > 1e-8 {
			t.Fatalf("got %v, the library %g and %g", f.Coef, a, b)
		}
		scale := rapid.Float64Range(1e-3, 1e3).Draw(t, "scale")
		far := make([]float64, n)
		for i := range far {
			far[i] = scale * x[i]
		}
		g, err := Linear([][]float64{one, far}, y)
		if err != nil || math.Abs(g.Coef[1]*scale-f.Coef[1]) > 1e-8 || math.Abs(g.SD[1]*scale-f.SD[1]) > 1e-8 {
			t.Fatalf("in other units %v ± %v, want %v ± %v; %v", g.Coef, g.SD, f.Coef, f.SD, err)
		}
	})
}

// A curve that is a line is fitted as the line is, bounds that do not bite
// change nothing, and one that bites is where the coefficient ends.
func TestCurveThatIsALine(t *testing.T) {
	t.Parallel()
	line := func(b []float64, x float64) float64 { return b[0] + b[1]*x }
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 30).Draw(t, "n")
		x, y, one := make([]float64, n), make([]float64, n), slices.Repeat([]float64{1}, n)
		for i := range n {
			x[i] = float64(i)
			y[i] = 3 + 2*x[i] + rapid.Float64Range(-2, 2).Draw(t, "y")
		}
		want, err := Linear([][]float64{one, x}, y)
		if err != nil {
			t.Fatal(err)
		}
		for _, within := range []Bounds{{}, {Low: []float64{-1e4, -1e4}, High: []float64{1e4, 1e4}}} {
			f, err := FitCurve(line, x, y, []float64{1, 1}, within)
			if err != nil {
				t.Fatal(err)
			}
			for j := range f.Coef {
				if math.Abs(f.Coef[j]-want.Coef[j]) > 1e-6 || math.Abs(f.SD[j]-want.SD[j]) > 1e-6 {
					t.Fatalf("curve %v ± %v, line %v ± %v", f.Coef, f.SD, want.Coef, want.SD)
				}
			}
		}
		low := want.Coef[1] + 1
		f, err := FitCurve(line, x, y, []float64{1, low + 5}, Bounds{Low: []float64{-100, low}})
		if err != nil || math.Abs(f.Coef[1]-low) > 1e-9 || f.SD[1] != 0 || f.RSS < want.RSS || f.DF != n-1 {
			t.Fatalf("bounded from %g: %+v, %v", low, f, err)
		}
	})
}

// Groups thrown from one law differ significantly as often as the chance says.
func TestOneWayUnderNoDifference(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	const trials = 4000
	below := 0
	for range trials {
		groups := make([][]float64, 4)
		for g := range groups {
			for range 5 {
				groups[g] = append(groups[g], rng.NormFloat64())
			}
		}
		v, err := OneWay(groups)
		if err != nil {
			t.Fatal(err)
		}
		if v.P < 0.1 {
			below++
		}
	}
	if got := float64(below) / trials; math.Abs(got-0.1) > 0.02 { // four standard errors
		t.Errorf("%.3f of trials below 0.1", got)
	}
}

func TestFitsRefuse(t *testing.T) {
	t.Parallel()
	nan, line := math.NaN(), func(b []float64, x float64) float64 { return b[0] * x }
	for name, c := range map[string]struct {
		columns [][]float64
		y       []float64
		want    error
	}{
		"no column":     {nil, []float64{1, 2}, ErrFew},
		"too few":       {[][]float64{{1, 1}, {1, 2}}, []float64{1, 2}, ErrFew},
		"uneven":        {[][]float64{{1, 1}}, []float64{1, 2, 3}, ErrFew},
		"the same":      {[][]float64{{1, 1, 1}, {2, 2, 2}}, []float64{1, 2, 3}, ErrSingular},
		"nothing":       {[][]float64{{0, 0, 0}}, []float64{1, 2, 3}, ErrSingular},
		"no number":     {[][]float64{{1, nan, 1}}, []float64{1, 2, 3}, ErrSingular},
		"no number y":   {[][]float64{{1, 2, 1}}, []float64{1, nan, 3}, ErrSingular},
		"without end y": {[][]float64{{1, 2, 1}}, []float64{1, math.Inf(1), 3}, ErrSingular},
	} {
		if _, err := Linear(c.columns, c.y); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if _, err := FitCurve(line, []float64{1, 2}, []float64{1, 2}, []float64{nan}, Bounds{}); !errors.Is(err, ErrNoFit) {
		t.Errorf("from no number: %v", err)
	}
	if _, err := FitCurve(line, []float64{1}, []float64{1}, []float64{1}, Bounds{}); !errors.Is(err, ErrFew) {
		t.Errorf("of one point: %v", err)
	}
	for name, groups := range map[string][][]float64{
		"one": {{1, 2}}, "empty": {{1, 2}, {}}, "one each": {{1}, {2}}, "without scatter": {{1, 1}, {2, 2}}, "no number": {{1, nan}, {2, 3}},
	} {
		if v, err := OneWay(groups); err == nil {
			t.Errorf("groups, %s: %+v", name, v)
		}
	}
}

func ExampleLinear() {
	// Sheets pulled deeper are heavier: depth in mm, solids in g/m².
	depth, solids := []float64{10, 15, 20, 25}, []float64{50, 75, 100, 125}
	f, _ := Linear([][]float64{depth}, solids)
	fmt.Printf("%.3g g/L\n", f.Coef[0])
	// Output: 5 g/L
}
