package num

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Against gonum's binomial distribution, term by term.
func TestAtLeastAgainstBinomial(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "n")
		need := rapid.IntRange(-2, n+2).Draw(t, "need")
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		d, want := distuv.Binomial{N: float64(n), P: p}, 0.0
		for k := max(need, 0); k <= n; k++ {
			if q := d.Prob(float64(k)); !math.IsNaN(q) { // gonum has no term at the ends p = 0 and p = 1
				want += q
			}
		}
		if p == 0 && need <= 0 || p == 1 && need <= n {
			want = 1
		}
		if got := AtLeast(need, n, p); math.Abs(got-want) > 1e-10 {
			t.Fatalf("at least %d of %d at %g: %.14f, want %.14f", need, n, p, got, want)
		}
	})
}

// A band of a share holds the share that was seen, and the true one nine times in
// ten: the mean over true shares of what binomial terms say.
func TestShareBand(t *testing.T) {
	t.Parallel()
	const n, steps = 60, 400
	var low, high [n + 1]float64
	for k := range low {
		low[k], high[k] = ShareBand(k, n)
		if seen := float64(k) / n; !(low[k] <= seen && seen <= high[k] && low[k] >= 0 && high[k] <= 1) || low[k] == high[k] {
			t.Errorf("%d of %d lies outside %g to %g", k, n, low[k], high[k])
		}
	}
	held := 0.0
	for i := range steps {
		p := (float64(i) + 0.5) / steps
		law := distuv.Binomial{N: n, P: p}
		for k := range low {
			if low[k] <= p && p <= high[k] {
				held += law.Prob(float64(k)) / steps
			}
		}
	}
	if math.Abs(held-0.90) > 0.005 {
		t.Errorf("the band holds %.4f of true shares", held)
	}
}

// The beta-binomial as the mean of the binomial over its beta, by a fine sum
// over quantiles of gonum's beta.
func TestAtLeastUncertainIsMeanOfBinomials(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		need, n int
		a, b    float64
	}{{20, 25, 18.5, 2.5}, {50, 60, 90, 10}, {1, 3, 0.7, 1.3}, {12, 40, 5, 5}, {100, 117, 900, 90}} {
		d, sum := distuv.Beta{Alpha: c.a, Beta: c.b}, 0.0
		const steps = 20000
		for i := range steps {
			sum += AtLeast(c.need, c.n, d.Quantile((float64(i)+0.5)/steps))
		}
		if got := AtLeastUncertain(c.need, c.n, c.a, c.b); math.Abs(got-sum/steps) > 2e-6 {
			t.Errorf("at least %d of %d with beta(%g, %g): %.8f, want %.8f", c.need, c.n, c.a, c.b, got, sum/steps)
		}
	}
	// A uniform share makes every count alike likely: P(at least k of n) = (n − k + 1)/(n + 1).
	for n := 1; n < 60; n++ {
		for k := 0; k <= n; k++ {
			if got := AtLeastUncertain(k, n, 1, 1); math.Abs(got-float64(n-k+1)/float64(n+1)) > 1e-12 {
				t.Fatalf("at least %d of %d with a uniform share: %.14f", k, n, got)
			}
		}
	}
}

// As the share grows certain the beta-binomial becomes the binomial.
func TestUncertainTendsToCertain(t *testing.T) {
	t.Parallel()
	for _, p := range []float64{0.6, 0.9, 0.97} {
		got, want := AtLeastUncertain(50, 60, p*1e9, (1-p)*1e9), AtLeast(50, 60, p)
		if math.Abs(got-want) > 1e-5 {
			t.Errorf("share %g: %.8f, want %.8f", p, got, want)
		}
	}
}

// More made, less needed or a better yield never lowers the chance; chances
// stay chances.
func TestChancesAreMonotone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		need, n := rapid.IntRange(0, 300).Draw(t, "need"), rapid.IntRange(0, 400).Draw(t, "n")
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		a, b := rapid.Float64Range(0.2, 500).Draw(t, "a"), rapid.Float64Range(0.2, 500).Draw(t, "b")
		const slack = 1e-9
		for _, f := range []func(need, n int) float64{
			func(need, n int) float64 { return AtLeast(need, n, p) },
			func(need, n int) float64 { return AtLeastUncertain(need, n, a, b) },
		} {
			c := f(need, n)
			if c < 0 || c > 1 || math.IsNaN(c) {
				t.Fatalf("a chance of %g", c)
			}
			if f(need, n+1) < c-slack || f(need+1, n) > c+slack {
				t.Fatalf("not monotone at need %d of %d: %g, %g, %g", need, n, c, f(need, n+1), f(need+1, n))
			}
		}
		if AtLeast(need, n, max(p, q)) < AtLeast(need, n, min(p, q))-slack {
			t.Fatalf("a better yield lowers the chance")
		}
	})
}

// Large runs keep their precision: no term of a thousand sheets underflows.
func TestLargeRuns(t *testing.T) {
	t.Parallel()
	// The mean of a beta(90, 10) is 0.9: needing a third or all but nothing is as good as certain or impossible.
	for _, n := range []int{1000, 20000, 200000} {
		if c := AtLeastUncertain(n/3, n, 90, 10); c < 1-1e-9 {
			t.Errorf("a third of %d with a yield near 0.9: %g", n, c)
		}
		if c := AtLeastUncertain(n, n, 90, 10); c > 0.01 || math.IsNaN(c) {
			t.Errorf("all of %d: %g", n, c)
		}
		d := distuv.Beta{Alpha: 90, Beta: 10}
		if c := AtLeastUncertain(int(0.9*float64(n)), n, 90, 10); math.Abs(c-(1-d.CDF(0.9))) > 0.01 {
			t.Errorf("nine tenths of %d: %g, want about %g", n, c, 1-d.CDF(0.9))
		}
	}
}

// Against plain counting: 20,000 makings thrown with dice.
func TestChanceBySimulation(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	d := distuv.Beta{Alpha: 22, Beta: 2.5, Src: rng}
	const makings = 20000
	kept := 0
	for range makings {
		p, good := d.Rand(), 0
		for range 60 {
			if rng.Float64() < p {
				good++
			}
		}
		if good >= 50 {
			kept++
		}
	}
	if got, want := float64(kept)/makings, AtLeastUncertain(50, 60, 22, 2.5); math.Abs(got-want) > 0.012 { // four standard errors
		t.Errorf("thrown %.4f, reckoned %.4f", got, want)
	}
}

// Fewest is the first number that suffices.
func TestFewest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		need := rapid.IntRange(1, 200).Draw(t, "need")
		p := rapid.Float64Range(0.05, 0.999).Draw(t, "p")
		conf := rapid.Float64Range(0.5, 0.999).Draw(t, "conf")
		chance := func(n int) float64 { return AtLeast(need, n, p) }
		n, ok := Fewest(need, 100000, conf, chance)
		if !ok || n < need || chance(n) < conf || n > need && chance(n-1) >= conf {
			t.Fatalf("%d of %d at %g for %g: %v, chances %g and %g", need, n, p, conf, ok, chance(n-1), chance(n))
		}
	})
	if n, ok := Fewest(10, 500, 0.95, func(n int) float64 { return 0.5 }); ok || n != 500 {
		t.Errorf("what never suffices gave %d, %v", n, ok)
	}
	if n, ok := Fewest(10, 10, 0.95, func(n int) float64 { return 1 }); !ok || n != 10 {
		t.Errorf("what suffices at once gave %d, %v", n, ok)
	}
	if n, ok := Fewest(1, 5, 0.9, func(n int) float64 { return AtLeast(1, n, 1) }); !ok || n != 1 {
		t.Errorf("a sure yield gave %d, %v", n, ok)
	}
}

// Numbers that are none never come out as a chance of success.
func TestNoNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		need, n int
		p, want float64
	}{{0, 0, 0, 1}, {1, 0, 0.5, 0}, {-3, 5, 0, 1}, {5, 5, 1, 1}, {5, 5, 0, 0}, {3, 5, -1, 0}, {3, 5, 2, 1}} {
		if got := AtLeast(c.need, c.n, c.p); got != c.want {
			t.Errorf("at least %d of %d at %g: %g, want %g", c.need, c.n, c.p, got, c.want)
		}
	}
	if c := AtLeast(3, 5, math.NaN()); c >= 0.5 {
		t.Errorf("an unknown yield gives %g", c)
	}
	for _, ab := range [][2]float64{{math.NaN(), 1}, {1, math.NaN()}, {0, 0}, {-1, 2}, {math.Inf(1), 1}} {
		if c := AtLeastUncertain(3, 5, ab[0], ab[1]); c >= 0.5 {
			t.Errorf("beta(%g, %g) gives a chance of %g", ab[0], ab[1], c)
		}
	}
}

func ExampleFewest() {
	// Fifty good sheets, nine of ten come good, nineteen makings of twenty.
	n, _ := Fewest(50, 1000, 0.95, func(n int) float64 { return AtLeast(50, n, 0.9) })
	fmt.Println(n)
	// Output: 60
}

func BenchmarkFewestUncertain(b *testing.B) {
	for b.Loop() {
		Fewest(50, 200000, 0.95, func(n int) float64 { return AtLeastUncertain(50, n, 22, 2.5) })
	}
}
