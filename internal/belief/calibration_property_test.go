package belief

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// runs of each calibration. A cover of 90 % in 5,000 runs has a standard error
// of 0.42 points, so the limits of 88 and 92 % are nearly five of them away.
const runs = 5000

// Nine of ten next makings fall in the band, before any evidence and after 1,
// 2 and 5 makings, if the prior is right: prior drawn, studio drawn from it,
// makings drawn around the studio, and each seen with its own error.
func TestBandsCoverNextMaking(t *testing.T) {
	t.Parallel()
	for _, prior := range []Belief{
		FromBand(Plain, 3, -1, 7, 0.3),
		FromBand(Root, 0.06, 0.03, 0.10, 0.15),
		FromBand(Log, 20, 14, 28, 0.2),
		FromBand(Logit, 0.33, 0.27, 0.39, 0.5),
	} {
		rng := rand.New(rand.NewPCG(2026, uint64(len(prior.Link))))
		for _, makings := range []int{0, 1, 2, 5} {
			inside := 0
			for range runs {
				b := prior
				own := b.Mean + b.SD*rng.NormFloat64()
				for range makings {
					e := 0.5 * b.Making
					x := own + b.Making*rng.NormFloat64() + e*rng.NormFloat64()
					b.Seen = append(b.Seen, Observation{Value: b.From(x), SD: e})
				}
				next := b.From(own + b.Making*rng.NormFloat64())
				if lo, hi := b.Band(); lo <= next && next <= hi {
					inside++
				}
			}
			covers(t, string(prior.Link), makings, inside)
		}
	}
}

// The same for counted shares. A making's share is beta around the studio's
// with the correlation of its sheets, and its counts are drawn from that.
func TestCountBandsCoverNextMaking(t *testing.T) {
	t.Parallel()
	for name, prior := range map[string]Belief{
		"share lost":         FromCounts(2.5, 22, 0.02),
		"share good":         FromCounts(6, 2, 0.1),
		"nearly a coin":      FromCounts(4, 5, 0.05),
		"makings much alike": FromCounts(3, 9, 0.005),
	} {
		rng := rand.New(rand.NewPCG(uint64(len(name)), 7))
		for _, makings := range []int{0, 1, 2, 5} {
			inside := 0
			for range runs {
				b := prior
				own := distuv.Beta{Alpha: b.A, Beta: b.B, Src: rng}.Rand()
				making := distuv.Beta{Alpha: own * (1 - b.Making) / b.Making, Beta: (1 - own) * (1 - b.Making) / b.Making, Src: rng}
				for range makings {
					p, hits := making.Rand(), 0
					for range 40 {
						if rng.Float64() < p {
							hits++
						}
					}
					b.Seen = append(b.Seen, Observation{Hits: float64(hits), Trials: 40})
				}
				next := making.Rand()
				if lo, hi := b.Band(); lo <= next && next <= hi {
					inside++
				}
			}
			covers(t, name, makings, inside)
		}
	}
}

func covers(t *testing.T, name string, makings, inside int) {
	t.Helper()
	cover := float64(inside) / runs
	t.Logf("%s, %d makings: %.3f", name, makings, cover)
	if cover < 0.88 || cover > 0.92 {
		t.Errorf("%s: after %d makings the bands cover %.1f %%, want 88 to 92", name, makings, cover*100)
	}
}

// Draws follow the next making's distribution: largest distance of the sample
// of 4,000 from the distribution below 1.95/√n, the 0.1 % point of
// Kolmogorov and Smirnov, and the same for the centre.
func TestDrawsFollowTheBelief(t *testing.T) {
	t.Parallel()
	const n = 4000
	for _, b := range []Belief{
		FromBand(Plain, 3, -1, 7, 0.3),
		FromBand(Root, 0.06, 0.03, 0.10, 0.15),
		FromBand(Log, 20, 14, 28, 0.2),
		FromBand(Logit, 0.33, 0.27, 0.39, 0.5),
		FromCounts(2.5, 22, 0.02),
	} {
		b.Key, b.Name, b.Source = "k", "n", "memory"
		var cdf func(v float64) float64
		if b.Link == Count {
			al, be := b.NextBeta()
			cdf = distuv.Beta{Alpha: al, Beta: be}.CDF
		} else {
			m, s := b.Next()
			law := distuv.StudentsT{Mu: m, Sigma: s * z95 / distuv.StudentsT{Sigma: 1, Nu: Degrees}.Quantile(0.95), Nu: Degrees}
			cdf = func(v float64) float64 { return law.CDF(b.To(v)) }
		}
		bk := figure.NewBook(n, 11)
		c := Draw[measure.Number](bk, b)
		sample := make([]float64, n)
		for i := range sample {
			sample[i] = cdf(float64(c.At(i)))
		}
		uniform := make([]float64, n)
		for i := range uniform {
			uniform[i] = (float64(i) + 0.5) / n
		}
		stat.SortWeighted(sample, nil)
		if d := stat.KolmogorovSmirnov(sample, nil, uniform, nil); d > 1.95/math.Sqrt(n) {
			t.Errorf("%s: the draws are %.4f off their distribution", b.Link, d)
		}
		if float64(c.Centre()) != b.Centre() {
			t.Errorf("%s: the centre drawn is %g, known is %g", b.Link, c.Centre(), b.Centre())
		}
	}
}

// What shares a latent is drawn together: on the link scale, correlation with
// each other is the product of both with the latent, and each keeps its spread.
func TestLatentCorrelates(t *testing.T) {
	t.Parallel()
	a, b := FromBand(Root, 0.06, 0.03, 0.10, 0.15), FromBand(Logit, 0.33, 0.27, 0.39, 0.3)
	a.Key, a.Latent, a.Corr = "shrinkage", "degree of beating", 0.7
	b.Key, b.Latent, b.Corr = "pressed solids", "degree of beating", -0.5
	free := FromBand(Log, 20, 14, 28, 0.2)
	free.Key = "depth"
	const n = 20000
	bk := figure.NewBook(n, 4)
	column := func(x Belief) []float64 {
		c, out := Draw[measure.Number](bk, x), make([]float64, n)
		for i := range out {
			out[i] = x.To(float64(c.At(i)))
		}
		_, s := x.Next() // of a Student's t law: its own standard deviation is a little more
		want := s * z95 / distuv.StudentsT{Sigma: 1, Nu: Degrees}.Quantile(0.95) * math.Sqrt(Degrees/(Degrees-2.0))
		if math.Abs(stat.StdDev(out, nil)/want-1) > 0.02 {
			t.Errorf("%s spreads %.5f, want %.5f", x.Key, stat.StdDev(out, nil), want)
		}
		return out
	}
	ca, cb, cf := column(a), column(b), column(free)
	latent := bk.Latent("degree of beating")
	for _, c := range []struct {
		x, y []float64
		want float64
	}{{ca, latent, 0.7}, {cb, latent, -0.5}, {ca, cb, -0.35}, {ca, cf, 0}, {cf, latent, 0}} {
		if r := stat.Correlation(c.x, c.y, nil); !near(r, c.want, 0.025) {
			t.Errorf("correlation %.3f, want %.2f", r, c.want)
		}
	}
}

// A pinned or certain belief enters a book as one number with its grounds.
func TestDrawOfPin(t *testing.T) {
	t.Parallel()
	b := FromBand(Log, 20, 14, 28, 0.2)
	b.Key, b.Name, b.Pin = "depth", "effective depth", &Pin{Value: 19.4, Grade: source.Measured}
	c := Draw[measure.Length](figure.NewBook(100, 1), b)
	f := c.Figure()
	if !c.Certain() || c.At(99) != 19.4 || f.Basis != source.Measured || f.Sum[0].Note != "fixed by you" || f.Sum[0].Source != "maker" {
		t.Errorf("a pin enters as %+v", f)
	}
	sure := Belief{Key: "s", Link: Plain, Mean: 5, Source: "definition"}
	if c := Draw[measure.Number](figure.NewBook(100, 1), sure); !c.Certain() || c.Centre() != 5 {
		t.Errorf("a belief without spread enters as %v", c.Centre())
	}
}

// BenchmarkDraw: 2,000 draws of one belief of each link.
func BenchmarkDraw(b *testing.B) {
	for _, x := range []Belief{FromBand(Root, 0.06, 0.03, 0.10, 0.15), FromBand(Log, 20, 14, 28, 0.2), FromBand(Logit, 0.33, 0.27, 0.39, 0.5), FromCounts(2.5, 22, 0.02)} {
		b.Run(string(x.Link), func(b *testing.B) {
			for b.Loop() {
				bk := figure.NewBook(2000, 1)
				Draw[measure.Number](bk, x)
				bk.Release()
			}
		})
	}
}
