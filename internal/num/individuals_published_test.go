package num

// Claimed accuracy: the constants to their printed digits; the charts to the
// tolerance stated, for what was read took d2 as 1.128. Achieved: that.

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/testkit/published"
)

// holdIndividuals holds the constants of a sample of two, and the charts of
// single values that were read.
func holdIndividuals(t *testing.T, topic *published.Topic) {
	t.Helper()
	topic.Row("ST046").Near(t, rangeOfTwo, 0.001)
	topic.Row("ST054").Near(t, rangeMostOf, 0.001)
	trial := column(t, "spc-viscosity.csv", 1)[:20]
	for id, values := range map[string][]float64{"ST077": trial, "ST079": slices.Delete(slices.Clone(trial), 3, 4)} {
		c, err := NewIndividuals(values)
		if err != nil {
			t.Fatal(err)
		}
		got := []float64{c.Centre, c.Sigma, c.Low, c.High}
		for i, text := range strings.Split(topic.Row(id).Expected, " / ") {
			if want := published.Number(t, text); math.Abs(got[i]-want) > 1e-3 {
				t.Errorf("%s: value %d is %.6f, printed %s", id, i+1, got[i], text)
			}
		}
	}
}

// Chance alone leaves few values outside the limits: of normal values 0.27 % lie
// beyond three sigma, of 40,000 that is 108, within the scatter of such a count.
// What the doubt of sigma lets out, a far value's own steps hold in: it widens the
// limits of its chart.
func TestChanceStaysInside(t *testing.T) {
	t.Parallel()
	const charts, each = 200, 200
	chance, outside := rand.New(rand.NewPCG(4, 6)), 0.0
	values := make([]float64, each)
	for range charts {
		for i := range values {
			values[i] = 7 + 3*chance.NormFloat64()
		}
		c, err := NewIndividuals(values)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range values {
			if v < c.Low || v > c.High {
				outside++
			}
		}
	}
	const beyond = 0.0027
	expected := beyond * charts * each
	if spread := math.Sqrt(expected * (1 - beyond)); math.Abs(outside-expected) > 3*spread {
		t.Errorf("%g of %d values lie outside, want about %.0f", outside, charts*each, expected)
	}
}

// Moving all values moves the limits with them.
func TestIndividuals(t *testing.T) {
	t.Parallel()
	if _, err := NewIndividuals([]float64{3}); err == nil {
		t.Error("one value has no limits")
	}
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-100, 100), 2, 30).Draw(t, "values")
		by, times := rapid.Float64Range(-50, 50).Draw(t, "by"), rapid.Float64Range(0.1, 10).Draw(t, "times")
		c, _ := NewIndividuals(values)
		moved := make([]float64, len(values))
		for i, v := range values {
			moved[i] = times*v + by
		}
		m, _ := NewIndividuals(moved)
		for _, p := range [][2]float64{{m.Centre, times*c.Centre + by}, {m.Low, times*c.Low + by}, {m.High, times*c.High + by}, {m.RangeMost, times * c.RangeMost}} {
			if math.Abs(p[0]-p[1]) > 1e-9*(1+math.Abs(p[1])) {
				t.Fatalf("%+v moved is %+v", c, m)
			}
		}
	})
}
