package belief

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// pooling is a way to share evidence between six fibres: which part of the
// prior's spread all have in common.
type pooling struct {
	name   string
	common float64 // of the variance
}

var (
	apart    = pooling{"no pooling", 0}
	together = pooling{"complete pooling", 1}
	partial  = pooling{"partial pooling", 0.6}
)

func (p pooling) fibre(i int) Belief {
	b := FromBand(Plain, 8, 2, 14, 0.1)
	b.Key = fmt.Sprintf("shrinkage/fibre %d", i)
	b.Effects = []Effect{{"making of other papers", math.Sqrt(p.common)}}
	return b
}

// simulated is a studio drawn from the prior: what its six fibres have in common, what
// each has of its own, and how its makings scatter.
type simulated struct {
	rng    *rand.Rand
	values [6]float64
	making float64
}

func draw(rng *rand.Rand, scatterKnown bool) simulated {
	b := partial.fibre(0)
	s := simulated{rng: rng, making: b.Making}
	if !scatterKnown { // as uncertain as the ten makings that the stated spread is worth
		s.making /= math.Sqrt(distuv.Gamma{Alpha: Degrees / 2, Beta: Degrees / 2, Src: rng}.Rand()) * thick(Degrees)
	}
	common := rng.NormFloat64() * b.SD * math.Sqrt(partial.common)
	for i := range s.values {
		s.values[i] = b.Mean + common + rng.NormFloat64()*b.SD*math.Sqrt(1-partial.common)
	}
	return s
}

func (s simulated) next(i int) float64 { return s.values[i] + s.making*s.rng.NormFloat64() }

// seen are so many makings of each fibre but the last, and own ones of that.
func (s simulated) seen(p pooling, others, own int) Known {
	var list []Observation
	for i := range s.values {
		b, n := p.fibre(i), others
		if i == len(s.values)-1 {
			n = own
		}
		for range n {
			e := 0.3 * b.Making
			list = append(list, b.Observed(Observation{Value: s.next(i) + e*s.rng.NormFloat64(), SD: e}))
		}
	}
	return NewKnown(list, nil)
}

// Bands that borrow from five other fibres cover as often as they say, for a
// strange fibre as for one made five times, and are narrower than those that
// do not; those that take all fibres for one are too sure.
func TestPooledBandsCoverNextMaking(t *testing.T) {
	t.Parallel()
	for _, certain := range []bool{true, false} {
		t.Run(fmt.Sprint("scatter known ", certain), func(t *testing.T) {
			t.Parallel()
			for _, own := range []int{0, 1, 2, 5} {
				cover, width, times := map[string]int{}, map[string]float64{}, map[string]float64{}
				for run := range runs {
					for _, p := range []pooling{apart, partial, together} {
						if p != partial && run%5 > 0 {
							continue // a thousand tell the others apart: ±0.01
						}
						times[p.name]++
						s := draw(rand.New(rand.NewPCG(uint64(run), uint64(own))), certain)
						known := s.seen(p, 2, own)
						lo, hi := p.fibre(5).With(known).Band()
						if next := s.next(5); lo <= next && next <= hi {
							cover[p.name]++
						}
						width[p.name] += hi - lo
					}
				}
				for _, p := range []pooling{apart, partial, together} {
					width[p.name] /= times[p.name]
					t.Logf("%d own makings, %s: %.3f at width %.2f", own, p.name, float64(cover[p.name])/times[p.name], width[p.name])
				}
				covers(t, partial.name, own, cover[partial.name])
				// after five makings of its own a fibre needs nothing lent
				if own < 5 && width[partial.name] >= width[apart.name] || width[partial.name] > 1.02*width[apart.name] {
					t.Errorf("%d own makings: borrowing leaves the bands at %.2f, without it they are %.2f", own, width[partial.name], width[apart.name])
				}
				if c := float64(cover[together.name]) / times[together.name]; own < 2 && c > 0.85 {
					t.Errorf("%d own makings: all fibres taken for one cover %.3f", own, c)
				}
			}
		})
	}
}

// Shares lent between ways of forming: the studio's share, each way's around
// it, each making's around that.
func TestPooledCountBandsCoverNextMaking(t *testing.T) {
	t.Parallel()
	around := func(rng *rand.Rand, mean, rho float64) float64 {
		size := (1 - rho) / rho
		return min(max(distuv.Beta{Alpha: mean * size, Beta: (1 - mean) * size, Src: rng}.Rand(), 1e-9), 1-1e-9)
	}
	for _, prior := range []Belief{FromCounts(2.5, 22, 0.02), FromCounts(4, 5, 0.05)} {
		rng := rand.New(rand.NewPCG(uint64(prior.A*10), 9))
		between := 1 / (2 * (prior.A + prior.B + 1))
		for _, own := range []int{0, 1, 2, 5} {
			inside, lentWidth, aloneWidth := 0, 0.0, 0.0
			for range runs {
				studio := distuv.Beta{Alpha: 2 * prior.A, Beta: 2 * prior.B, Src: rng}.Rand()
				var list []Observation
				last := 0.0
				for way := range 3 {
					last = around(rng, studio, between)
					n := 6
					if way == 2 {
						n = own
					}
					for range n {
						p, hits := around(rng, last, prior.Making), 0
						for range 20 {
							if rng.Float64() < p {
								hits++
							}
						}
						list = append(list, Observation{Belief: fmt.Sprint("lost/way ", way), Hits: float64(hits), Trials: 20})
					}
				}
				b := prior
				b.Key = "lost/way 2"
				lo, hi := b.With(NewKnown(list, nil)).Band()
				if next := around(rng, last, prior.Making); lo <= next && next <= hi {
					inside++
				}
				lentWidth += (hi - lo) / runs
				b.Key = "alone"
				for _, o := range list {
					if o.Belief == "lost/way 2" {
						b.Seen = append(b.Seen, o)
					}
				}
				lo, hi = b.Band()
				aloneWidth += (hi - lo) / runs
			}
			t.Logf("%g of %g, %d own makings: width %.4f, alone %.4f", prior.A, prior.A+prior.B, own, lentWidth, aloneWidth)
			covers(t, "shares", own, inside)
			if lentWidth >= aloneWidth {
				t.Errorf("%d own makings: borrowing leaves the bands at %.4f, without it they are %.4f", own, lentWidth, aloneWidth)
			}
		}
	}
}
