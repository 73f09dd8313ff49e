package belief

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"vatside/internal/source"
)

var normalLinks = []Link{Plain, Root, Log, Logit}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// Precisions add, worked by hand. Prior 10 ± 2; makings scatter 1.5; one
// making measured 14 with an error of 2, so of variance 2.25 + 4 = 6.25:
// precision 0.25 + 0.16 = 0.41, mean (2.5 + 2.24)/0.41.
func TestPosteriorByHand(t *testing.T) {
	t.Parallel()
	b := Belief{Link: Plain, Mean: 10, SD: 2, Making: 1.5, Seen: []Observation{{Value: 14, SD: 2}}}
	m, s := b.Posterior()
	if !near(m, 4.74/0.41, 1e-9) || !near(s, 1/math.Sqrt(0.41), 1e-9) {
		t.Errorf("posterior %.9f ± %.9f, want %.9f ± %.9f", m, s, 4.74/0.41, 1/math.Sqrt(0.41))
	}
	if nm, ns := b.Next(); nm != m || !near(ns, math.Sqrt(1/0.41+2.25), 1e-9) {
		t.Errorf("next %.9f ± %.9f", nm, ns)
	}
	if lo, hi := b.Band(); !near(hi-lo, 2*1.6448536269514722*math.Sqrt(1/0.41+2.25), 1e-9) || !near((hi+lo)/2, m, 1e-9) {
		t.Errorf("band %g–%g", lo, hi)
	}
	// A depth of 20 mm within a factor, seen at 24 mm: in logarithms, prior ln 20 ± 0.18, making 0.08.
	d := Belief{Link: Log, Mean: math.Log(20), SD: 0.18, Making: 0.08, Seen: []Observation{{Value: 24}}}
	w := (1 / 0.0064) / (1/0.0064 + 1/0.0324)
	if got, want := d.Centre(), 20*math.Pow(1.2, w); !near(got, want, 1e-9) {
		t.Errorf("a depth seen once at 24 mm is %.6f, want %.6f", got, want)
	}
}

// The closed form against the posterior worked out numerically on a fine grid
// with gonum's densities.
func TestPosteriorAgainstGrid(t *testing.T) {
	t.Parallel()
	b := Belief{Link: Plain, Mean: 3, SD: 1.2, Making: 0.7, Seen: []Observation{{Value: 4, SD: 0.3}, {Value: 2.1, SD: 0}, {Value: 5.2, SD: 1.1}}}
	prior := distuv.Normal{Mu: 3, Sigma: 1.2}
	var total, first, second float64
	for x := -6.0; x <= 12; x += 0.001 {
		p := prior.Prob(x)
		for _, o := range b.Seen {
			p *= distuv.Normal{Mu: x, Sigma: math.Hypot(0.7, o.SD)}.Prob(o.Value)
		}
		total, first, second = total+p, first+p*x, second+p*x*x
	}
	mean := first / total
	sd := math.Sqrt(second/total - mean*mean)
	if m, s := b.Posterior(); !near(m, mean, 1e-6) || !near(s, sd, 1e-6) {
		t.Errorf("closed form %.8f ± %.8f, grid %.8f ± %.8f", m, s, mean, sd)
	}
}

// Count: 24 hits of 30 with prior (2, 3) and correlation 0.1. The design
// effect is 1 + 29·0.1 = 3.9, so the making counts for 30/3.9 trials.
func TestCountByHand(t *testing.T) {
	t.Parallel()
	b := FromCounts(2, 3, 0.1)
	b.Seen = []Observation{{Hits: 24, Trials: 30}}
	al, be := b.Beta()
	if !near(al, 2+24/3.9, 1e-12) || !near(be, 3+6/3.9, 1e-12) {
		t.Errorf("beta(%g, %g), want beta(%g, %g)", al, be, 2+24/3.9, 3+6/3.9)
	}
	// Without correlation it is the textbook beta-binomial update: Jeffreys after 18 of 20 is beta(18.5, 2.5).
	j := FromCounts(0.5, 0.5, 0)
	j.Seen = []Observation{{Hits: 18, Trials: 20}}
	al, be = j.Beta()
	d := distuv.Beta{Alpha: 18.5, Beta: 2.5}
	if al != 18.5 || be != 2.5 || !near(j.Centre(), d.Mean(), 1e-12) {
		t.Errorf("beta(%g, %g) with mean %g, want beta(18.5, 2.5) with mean %g", al, be, j.Centre(), d.Mean())
	}
	lo, hi := j.Band()
	if !near(d.CDF(lo), 0.05, 1e-9) || !near(d.CDF(hi), 0.95, 1e-9) {
		t.Errorf("band %g–%g holds %g", lo, hi, d.CDF(hi)-d.CDF(lo))
	}
}

// The next making's own share has the posterior's mean, and the variance of a
// beta studio around which makings scatter with the correlation rho:
// Var = Var(p) + rho·E[p(1 − p)].
func TestNextBetaMoments(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rho := rapid.Float64Range(0, 0.5).Draw(t, "rho")
		b := FromCounts(rapid.Float64Range(0.3, 40).Draw(t, "a"), rapid.Float64Range(0.3, 40).Draw(t, "b"), rho)
		a, c := b.Beta()
		studio := distuv.Beta{Alpha: a, Beta: c}
		m, v := studio.Mean(), studio.Variance()
		want := v + rho*(m*(1-m)-v)
		na, nc := b.NextBeta()
		next := distuv.Beta{Alpha: na, Beta: nc}
		if !near(next.Mean(), m, 1e-9) || !near(next.Variance(), want, 1e-9) {
			t.Fatalf("next %.9f, var %.9f; want %.9f, var %.9f", next.Mean(), next.Variance(), m, want)
		}
	})
}

// One after the other is the same as all at once, for any order of evidence.
func TestSequentialEqualsBatch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		link := rapid.SampledFrom(normalLinks).Draw(t, "link")
		b := Belief{Link: link, Mean: rapid.Float64Range(-1, 1).Draw(t, "mean"), SD: rapid.Float64Range(0.05, 2).Draw(t, "sd"), Making: rapid.Float64Range(0.02, 2).Draw(t, "making")}
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			b.Seen = append(b.Seen, Observation{Value: rapid.Float64Range(0.05, 0.95).Draw(t, "v"), SD: rapid.Float64Range(0, 1).Draw(t, "e")})
		}
		mean, sd := b.Posterior()
		step := b
		step.Seen = nil
		for i := len(b.Seen) - 1; i >= 0; i-- {
			step.Seen = b.Seen[i : i+1]
			step.Mean, step.SD = step.Posterior()
		}
		if !near(step.Mean, mean, 1e-10) || !near(step.SD, sd, 1e-10) {
			t.Fatalf("one by one %.12f ± %.12f, at once %.12f ± %.12f", step.Mean, step.SD, mean, sd)
		}
	})
}

func TestSequentialCountEqualsBatch(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := FromCounts(1.2, 24, rapid.Float64Range(0, 0.3).Draw(t, "rho"))
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			trials := rapid.IntRange(1, 80).Draw(t, "trials")
			b.Seen = append(b.Seen, Observation{Hits: float64(rapid.IntRange(0, trials).Draw(t, "hits")), Trials: float64(trials)})
		}
		al, be := b.Beta()
		step := b
		for i := len(b.Seen) - 1; i >= 0; i-- {
			step.Seen = b.Seen[i : i+1]
			step.A, step.B = step.Beta()
		}
		if !near(step.A, al, 1e-10) || !near(step.B, be, 1e-10) {
			t.Fatalf("one by one beta(%g, %g), at once beta(%g, %g)", step.A, step.B, al, be)
		}
	})
}

// A prior made from a band gives that band back; where the band does not lie
// evenly around the median on the link scale, its width there.
func TestFromBandReproducesItsBand(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		link := rapid.SampledFrom(normalLinks).Draw(t, "link")
		median := rapid.Float64Range(0.1, 0.9).Draw(t, "median")
		b := Belief{Link: link}
		half := rapid.Float64Range(0.01, 0.3).Draw(t, "half") // on the link scale
		low, high := b.From(b.To(median)-half), b.From(b.To(median)+half)
		share := rapid.Float64Range(0, 1).Draw(t, "making")
		got := FromBand(link, median, low, high, share)
		lo, hi := got.Band()
		if !near(lo, low, 1e-9) || !near(hi, high, 1e-9) || !near(got.Centre(), median, 1e-9) {
			t.Fatalf("%s: band %g–%g around %g came back as %g–%g around %g", link, low, high, median, lo, hi, got.Centre())
		}
		if total := got.SD*got.SD + got.Making*got.Making; !near(got.Making*got.Making, share*total, 1e-12) {
			t.Fatalf("making to making is %g of the variance, want %g", got.Making*got.Making/total, share)
		}
	})
	uneven := FromBand(Root, 0.008, 0, 0.02, 0.25) // held shrinkage: as low as nothing
	lo, hi := uneven.Band()
	if !near(math.Sqrt(hi)-math.Sqrt(lo), math.Sqrt(0.02), 1e-9) && lo > 0 {
		t.Errorf("the width of an uneven band changed: %g–%g", lo, hi)
	}
	if lo < 0 {
		t.Errorf("a root belief went below nought: %g", lo)
	}
}

// To and From are inverses; From keeps to the link's range for any number.
func TestLinks(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := Belief{Link: rapid.SampledFrom(normalLinks).Draw(t, "link")}
		v := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "v")
		if got := b.From(b.To(v)); math.Abs(got/v-1) > 1e-9 {
			t.Fatalf("%s: %g came back as %g", b.Link, v, got)
		}
		x := rapid.Float64Range(-700, 700).Draw(t, "x")
		switch y := b.From(x); {
		case b.Link == Root && y < 0, b.Link == Log && y <= 0, b.Link == Logit && (y < 0 || y > 1):
			t.Fatalf("%s: %g gives %g", b.Link, x, y)
		}
	})
}

// More evidence at the centre never widens what is known of the studio, and
// does not move it. Makings so much alike lessen what is thought of their
// scatter, but never below what so few can tell: n of them beside the ten that
// the stated spread is worth leave at least 10/(10 + n) of its variance.
func TestEvidenceNarrows(t *testing.T) {
	t.Parallel()
	for _, link := range normalLinks {
		b := FromBand(link, 0.1, 0.07, 0.14, 0.3)
		_, last := b.Posterior()
		centre := b.Centre()
		for n := range 12 {
			b.Seen = append(b.Seen, Observation{Value: centre, SD: 0.05})
			_, s := b.Posterior()
			if s >= last || !near(b.Centre(), centre, 1e-9) {
				t.Errorf("%s: after %d observations the spread is %g (was %g), the centre %g", link, n+1, s, last, b.Centre())
			}
			if _, ns := b.Next(); ns < s || ns < b.Making*math.Sqrt(Degrees/(Degrees+float64(n+1)))*0.99 {
				t.Errorf("%s: after %d observations the next making spreads by %g, makings by %g", link, n+1, ns, b.Making)
			}
			last = s
		}
	}
}

// What is left out counts for nothing: not in the posterior, not in the
// number told, not in the grade.
func TestExclusion(t *testing.T) {
	t.Parallel()
	clean := FromBand(Log, 20, 14, 28, 0.2)
	clean.Source, clean.Grade = "memory", source.Memory
	odd := clean
	odd.Seen = []Observation{{Value: 200, Excluded: "vat was not stirred"}}
	m, s := clean.Posterior()
	if om, os := odd.Posterior(); om != m || os != s || odd.Count() != 0 || odd.told() != "handbook only" {
		t.Errorf("an excluded observation moved %g ± %g to %g ± %g", m, s, om, os)
	}
	if _, g := odd.Grounds(); g != source.Memory {
		t.Errorf("an excluded observation made it %s", g)
	}
	count := FromCounts(2, 20, 0.02)
	count.Seen = []Observation{{Hits: 30, Trials: 30, Excluded: "typing error"}, {Hits: 5}}
	if a, b := count.Beta(); a != 2 || b != 20 {
		t.Errorf("excluded and empty counts made beta(%g, %g)", a, b)
	}
}

// The grounds pass from the prior to the studio once its evidence outweighs
// the prior, and to the maker's word by a pin.
func TestGrounds(t *testing.T) {
	t.Parallel()
	b := Belief{Link: Plain, Mean: 0, SD: 1, Making: 1, Source: "memory", Grade: source.Memory}
	b.Seen = []Observation{{Value: 1, SD: 0.5}} // precision 0.8 against 1: less than half
	if key, g := b.Grounds(); key != "memory" || g != source.Memory {
		t.Errorf("weak evidence rests on %s, %s", key, g)
	}
	b.Seen = append(b.Seen, Observation{Value: 1, SD: 0.5})
	if key, g := b.Grounds(); key != "maker" || g != source.Measured {
		t.Errorf("evidence that outweighs the prior rests on %s, %s", key, g)
	}
	b.Pin = &Pin{Value: 3, Grade: source.Practice}
	if key, g := b.Grounds(); key != "maker" || g != source.Practice {
		t.Errorf("a pin rests on %s, %s", key, g)
	}
	for n, want := range map[int]string{0: "handbook only", 1: "handbook, and you measured it once", 2: "handbook, and you measured it twice", 5: "handbook, and you measured it 5 times"} {
		c := Belief{Link: Plain, SD: 1, Seen: make([]Observation, n)}
		if c.told() != want {
			t.Errorf("%d observations are told as %q", n, c.told())
		}
	}
}

// A pin is the value, its own band, and no spread; it leaves the evidence
// where it is.
func TestPin(t *testing.T) {
	t.Parallel()
	for _, link := range append(normalLinks, Count) {
		b := FromBand(link, 0.1, 0.07, 0.14, 0.3)
		if link == Count {
			b = FromCounts(2, 20, 0.02)
		}
		b.Key = "k"
		b = b.With(Known{Pins: map[string]Pin{"k": {Value: 0.25}}, Seen: map[string][]Observation{"k": {{Value: 0.2, Hits: 1, Trials: 4, At: time.Unix(0, 0)}}}})
		lo, hi := b.Band()
		if b.Centre() != 0.25 || lo != 0.25 || hi != 0.25 || b.Count() != 1 {
			t.Errorf("%s: a pin of 0.25 is %g, %g–%g with %d seen", link, b.Centre(), lo, hi, b.Count())
		}
		other := b
		other.Key = "other"
		other.Pin = nil
		if other = other.With(Known{Pins: map[string]Pin{"k": {Value: 1}}}); other.Pin != nil || other.Count() != 0 {
			t.Errorf("%s: a pin of another belief was taken", link)
		}
	}
}

// With no spread of its own a belief stays where it is, whatever is seen; an
// exact observation of makings alike settles it.
func TestEdges(t *testing.T) {
	t.Parallel()
	fixed := Belief{Link: Plain, Mean: 5, Seen: []Observation{{Value: 9}}}
	if m, s := fixed.Posterior(); m != 5 || s != 0 {
		t.Errorf("a belief without spread moved to %g ± %g", m, s)
	}
	if _, g := fixed.Grounds(); g != fixed.Grade {
		t.Errorf("its grade became %s", g)
	}
	exact := Belief{Link: Plain, Mean: 5, SD: 1, Seen: []Observation{{Value: 9}}}
	if m, s := exact.Posterior(); !near(m, 9, 1e-6) || s > 1e-5 || math.IsNaN(m+s) {
		t.Errorf("an exact observation gives %g ± %g", m, s)
	}
	for _, b := range []Belief{ // ends of a fraction, and numbers that are none
		{Link: Logit, Mean: -3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: 0}}},
		{Link: Logit, Mean: -3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: 1}}},
		{Link: Log, Mean: 3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: 0}}},
		{Link: Log, Mean: 3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: -1}}},
		{Link: Plain, Mean: 3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: math.NaN()}}},
		{Link: Plain, Mean: 3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: math.Inf(1)}}},
		{Link: Plain, Mean: 3, SD: 0.3, Making: 0.2, Seen: []Observation{{Value: 3, SD: math.NaN()}}},
		{Link: Count, A: 2, B: 20, Making: 0.02, Seen: []Observation{{Hits: math.NaN(), Trials: 10}}},
		{Link: Count, A: 2, B: 20, Making: 0.02, Seen: []Observation{{Hits: 12, Trials: 10}}},
		{Link: Count, A: 2, B: 20, Making: 0.02, Seen: []Observation{{Hits: -1, Trials: 10}}},
		{Link: Count, A: 2, B: 20, Making: 0.02, Seen: []Observation{{Hits: 1, Trials: math.Inf(1)}}},
	} {
		prior := b
		prior.Seen = nil
		if b.Count() != 0 || b.Centre() != prior.Centre() {
			t.Errorf("%s with %+v is %g by %d observations; the prior is %g", b.Link, b.Seen[0], b.Centre(), b.Count(), prior.Centre())
		}
	}
}
