package num

// Claimed accuracy: limits to the five printed decimals; run lengths to what a
// simulation of a few thousand runs gives, 5 %. Achieved: that.

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"
	"pgregory.net/rapid"

	"vatside/internal/testkit/published"
)

// holdWeighted holds the limits that were read, of the means of groups of five:
// sigma is the mean range over d2, by the root of five.
func holdWeighted(t *testing.T, topic *published.Topic) {
	t.Helper()
	const d2 = 2.326 // of five, as the source takes it
	var means []float64
	ranges := 0.0
	for _, r := range published.Rows(t, "spc-piston-rings.csv") {
		var group []float64
		for _, text := range r[1:] {
			group = append(group, published.Number(t, text))
		}
		means = append(means, floats.Sum(group)/5)
		ranges += floats.Max(group) - floats.Min(group)
	}
	n := float64(len(means))
	c, err := NewWeighted(means, floats.Sum(means)/n, ranges/n/d2/math.Sqrt(5), 0.2, 3)
	if err != nil {
		t.Fatal(err)
	}
	at := []int{0, 1, 24} // groups 1, 2 and 25
	for i, text := range strings.Split(topic.Row("ST080").Expected, " / ") {
		low, high, _ := strings.Cut(text, "-")
		if a, b := published.Number(t, low), published.Number(t, high); math.Abs(c.Low[at[i]]-a) > 1e-5 || math.Abs(c.High[at[i]]-b) > 1e-5 {
			t.Errorf("ST080: limits %.6f to %.6f, printed %s", c.Low[at[i]], c.High[at[i]], text)
		}
	}
}

// runLength is the mean number of values to the first average outside, of values
// that lie off the centre by a shift. Late charts the limits as they are once
// many values stand behind them, as the printed run lengths take them.
func runLength(t *testing.T, weight, width, shift float64, late bool, runs int) float64 {
	t.Helper()
	chance, total := rand.New(rand.NewPCG(8, 1)), 0
	quiet := make([]float64, 400)
	c, err := NewWeighted(quiet, 0, 1, weight, width)
	if err != nil {
		t.Fatal(err)
	}
	for range runs {
		z := 0.0
		for i := 0; ; i++ {
			total++
			z = weight*(shift+chance.NormFloat64()) + (1-weight)*z
			limit := c.High[len(quiet)-1]
			if !late && i < len(quiet) {
				limit = c.High[i]
			}
			if math.Abs(z) > limit {
				break
			}
		}
	}
	return float64(total) / float64(runs)
}

// How soon a shift is seen: 48.45, 11.15, 5.47 and 3.62 values, weight 0.25, width 3
// (Lucas and Saccucci 1990, from memory). How seldom chance alone leaves the
// usual limits: once in 238 values (an integral equation, worked apart), so
// that five hundred give two false alarms.
func TestRunLengths(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ shift, values float64 }{{0.5, 48.45}, {1, 11.15}, {1.5, 5.47}, {2, 3.62}} {
		if got := runLength(t, 0.25, 3, c.shift, true, 4000); math.Abs(got/c.values-1) > 0.05 {
			t.Errorf("a shift of %g sigma is seen after %.2f values, want %.2f", c.shift, got, c.values)
		}
	}
	if got := runLength(t, UsualWeight, UsualWidth, 0, true, 3000); math.Abs(got/238-1) > 0.06 {
		t.Errorf("chance leaves the usual limits once in %.0f values, want 238", got)
	}
	if exact, late := runLength(t, UsualWeight, UsualWidth, 1, false, 4000), runLength(t, UsualWeight, UsualWidth, 1, true, 4000); !(exact < late) {
		t.Errorf("narrower limits at the start see a shift after %.2f values, the late ones after %.2f", exact, late)
	}
}

// Moving all values moves the chart with them; limits widen to the late ones; a
// weight of one charts single values.
func TestWeighted(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-4, 4), 1, 40).Draw(t, "values")
		by, times, weight := rapid.Float64Range(-50, 50).Draw(t, "by"), rapid.Float64Range(0.1, 10).Draw(t, "times"), rapid.Float64Range(0.05, 1).Draw(t, "weight")
		moved := make([]float64, len(values))
		for i, v := range values {
			moved[i] = times*v + by
		}
		a, _ := NewWeighted(values, 0, 1, weight, 2.7)
		b, _ := NewWeighted(moved, by, times, weight, 2.7)
		for i := range values {
			near := 1e-9 * (1 + math.Abs(by))
			if math.Abs(b.Averages[i]-times*a.Averages[i]-by) > near || math.Abs(b.High[i]-times*a.High[i]-by) > near {
				t.Fatalf("value %d: %+v moved is %+v", i, a, b)
			}
			if i > 0 && a.High[i] < a.High[i-1] || a.High[i] > 2.7*math.Sqrt(weight/(2-weight))+1e-12 {
				t.Fatalf("limits %v", a.High)
			}
		}
		if one, _ := NewWeighted(values, 0, 1, 1, 3); math.Abs(one.Averages[len(values)-1]-values[len(values)-1]) > 1e-12 {
			t.Fatalf("weight 1: %v of %v", one.Averages, values)
		}
	})
	if _, err := NewWeighted(nil, 0, 1, 0.2, 2.7); !errors.Is(err, ErrFew) {
		t.Errorf("of no value: %v", err)
	}
	for _, bad := range [][4]float64{{0, 0, 0.2, 2.7}, {0, 1, 0, 2.7}, {0, 1, 1.1, 2.7}, {0, 1, 0.2, 0}, {math.NaN(), 1, 0.2, 2.7}, {0, math.Inf(1), 0.2, 2.7}, {0, 1, math.NaN(), 2.7}} {
		if _, err := NewWeighted([]float64{1}, bad[0], bad[1], bad[2], bad[3]); !errors.Is(err, ErrLimits) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// A step among noise is found where it began, most often to a value.
func TestBegan(t *testing.T) {
	t.Parallel()
	chance, near := rand.New(rand.NewPCG(2, 7)), 0
	const runs, began = 200, 12
	for range runs {
		values := make([]float64, 20)
		for i := range values {
			if values[i] = chance.NormFloat64(); i >= began {
				values[i] -= 2.5
			}
		}
		c, err := NewWeighted(values, 0, 1, UsualWeight, UsualWidth)
		if err != nil {
			t.Fatal(err)
		}
		if at := c.Began(len(values) - 1); at >= began-1 && at <= began+1 {
			near++
		}
	}
	if near < runs*8/10 {
		t.Errorf("%d of %d steps are found to a value", near, runs)
	}
}
