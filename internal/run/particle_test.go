package run_test

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"vatside/internal/run"
)

// cloud follows a run by particles: many vats drawn from the prior, each with
// its own depth, drift, stock and water, pulled and recharged alike, and drawn
// anew by how well they agree with each weighing. It is what the filter of the
// package is compared with: slow, and right for any law.
type cloud struct {
	p      run.Prior
	chance *rand.Rand
	vats   []hidden
}

// hidden is one vat as it may be, with the masses of its sheets.
type hidden struct {
	fibre, water, depth, drift, stock, offing float64
	masses                                    []float64
}

func draw(p run.Prior, c *rand.Rand) hidden {
	off := func(sd float64) float64 { return math.Exp(sd * c.NormFloat64()) }
	h := hidden{water: float64(p.Vat) * off(p.LevelDoubts), depth: float64(p.Depth) * off(p.DepthDoubt), drift: p.Drift / float64(p.Sheets) * c.NormFloat64(),
		stock: float64(p.Stock) * off(p.StockDoubt), offing: (1/float64(p.Couched) - 1) / 1000 * off(p.WaterDoubt)}
	h.fibre = float64(p.FillStock) * h.stock * off(p.Pour)
	return h
}

// expects is the mass of the next sheet of a hand without scatter.
func (h *hidden) expects(p run.Prior) float64 { return h.fibre / h.water * h.depth * float64(p.Area) }

func (h *hidden) pull(p run.Prior, c *rand.Rand) {
	m := math.Min(h.expects(p)*math.Exp(p.Hand*c.NormFloat64()), 0.5*h.fibre)
	h.fibre -= m
	h.water -= m * h.offing
	h.masses = append(h.masses, m)
	h.depth *= math.Exp(h.drift + 0.3*p.Drift/math.Sqrt(float64(p.Sheets))*c.NormFloat64())
}

func (h *hidden) pour(a run.Act, p run.Prior, c *rand.Rand) {
	h.fibre *= 1 - float64(a.Scoop)/h.water
	litres := float64(a.Stock) * math.Exp(p.Pour*c.NormFloat64())
	h.fibre += litres * h.stock
	h.water += litres + float64(a.WaterIn-a.WaterOff-a.Scoop)
}

func (h *hidden) weigh(w []int) float64 {
	sum := 0.0
	for _, s := range w {
		sum += h.masses[s-1]
	}
	return sum
}

func (c *cloud) weigh(w run.Weighed) {
	n := len(c.vats)
	sums, total := make([]float64, n), 0.0
	noise := math.Hypot(float64(c.p.Scale)/float64(w.Mass), c.p.Drying)
	for i := range c.vats {
		z := math.Log(c.vats[i].weigh(w.Sheets)/float64(w.Mass)) / noise
		total += math.Exp(-z * z / 2)
		sums[i] = total
	}
	if total == 0 {
		return // nobody agrees: the cloud has thinned out
	}
	next, u := make([]hidden, n), c.chance.Float64()
	for i := range next {
		k := sort.SearchFloat64s(sums, (float64(i)+u)/float64(n)*total)
		next[i] = c.vats[min(k, n-1)]
		next[i].masses = append([]float64(nil), next[i].masses...)
		// a little of the prior's doubt, that copies may differ
		next[i].stock *= math.Exp(0.05 * c.p.StockDoubt * c.chance.NormFloat64())
		next[i].drift += 0.05 * c.p.Drift / float64(c.p.Sheets) * c.chance.NormFloat64()
		next[i].depth *= math.Exp(0.002 * c.chance.NormFloat64())
	}
	c.vats = next
}

// expects is the mean logarithm of the next sheet, without the hand.
func (c *cloud) expects() float64 {
	sum := 0.0
	for i := range c.vats {
		sum += math.Log(c.vats[i].expects(c.p))
	}
	return sum / float64(len(c.vats))
}

// Beside a cloud of ten thousand vats the filter is as near to the truth: what
// its logarithms leave out does not matter. Both see the same runs and lie
// within 0.01 of each other, half of their own error of 0.02, so that eight runs are enough.
func TestAsNearAsParticles(t *testing.T) {
	t.Parallel()
	const runs = 8
	for _, together := range []int{1, 10} {
		var filter, particles, apart float64
		for i := range runs {
			f, c, a := compare(t, together, uint64(i))
			filter, particles, apart = filter+f/runs, particles+c/runs, apart+a/runs
		}
		t.Logf("%d together: filter %.4f, particles %.4f, apart %.4f", together, math.Sqrt(filter), math.Sqrt(particles), math.Sqrt(apart))
		if ratio := math.Sqrt(filter / particles); ratio > 1.1 || math.Sqrt(apart) > 0.01 {
			t.Errorf("%d weighed together: the filter is %.3f times as far off as particles, and %.4f from them", together, ratio, math.Sqrt(apart))
		}
	}
}

// compare returns the mean squared distance of both from the truth, and from
// each other.
func compare(t *testing.T, together int, seed uint64) (filter, particles, apart float64) {
	t.Helper()
	p := prior()
	chance := rand.New(rand.NewPCG(seed, 7))
	truth := draw(p, chance)
	r, err := run.Start(p)
	if err != nil {
		t.Fatal(err)
	}
	c := &cloud{p: p, chance: rand.New(rand.NewPCG(seed, 8)), vats: make([]hidden, 10000)}
	for i := range c.vats {
		c.vats[i] = draw(p, c.chance)
	}
	for n := 1; n <= 60; n++ {
		if n > 3 {
			act, err := r.Recharge()
			if err != nil {
				t.Fatal(err)
			}
			happen(t, r, act.Events()...)
			truth.pour(act, p, chance)
			for i := range c.vats {
				c.vats[i].pour(act, p, c.chance)
			}
		}
		happen(t, r, run.Pulled{})
		truth.pull(p, chance)
		for i := range c.vats {
			c.vats[i].pull(p, c.chance)
		}
		if n == 3 || n%10 == 0 {
			w := run.Weighed{Sure: true}
			for s := max(1, n-max(together, 3)+1); s <= n; s++ {
				if n == 3 || n-s < together {
					w.Sheets = append(w.Sheets, s)
				}
			}
			w.Mass = grams(truth.weigh(w.Sheets) + float64(p.Scale)*chance.NormFloat64())
			happen(t, r, w)
			c.weigh(w)
		}
		if n >= 3 {
			x, f, k := math.Log(truth.expects(p)), math.Log(float64(r.Next().Value)*float64(p.Area)), c.expects()
			filter, particles, apart = filter+(f-x)*(f-x)/58, particles+(k-x)*(k-x)/58, apart+(f-k)*(f-k)/58
		}
	}
	return filter, particles, apart
}
