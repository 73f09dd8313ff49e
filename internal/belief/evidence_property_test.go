package belief

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"vatside/internal/num"
)

// paper is a belief of shrinkage's kind for a test: a part shared with all
// papers, parts with those of the same fibres, the rest its own.
func paper(name string, shares map[string]float64) Belief {
	b := FromBand(Plain, 6, 1, 11, 0.2)
	b.Key = "shrinkage/" + name
	for _, f := range []string{"abaca", "cotton", "flax", "hemp"} {
		if x := shares[f]; x > 0 {
			b.Effects = append(b.Effects, Effect{"making of other papers of " + f, x * math.Sqrt(0.4)})
		}
	}
	b.Effects = append(b.Effects, Effect{"making of other papers", math.Sqrt(0.3)})
	return b
}

var papers = []Belief{
	paper("thin abaca", map[string]float64{"abaca": 1}),
	paper("thick abaca", map[string]float64{"abaca": 1}),
	paper("cotton", map[string]float64{"cotton": 1}),
	paper("blend", map[string]float64{"abaca": 0.6, "cotton": 0.4}),
	paper("strange", map[string]float64{"flax": 1}),
}

// drawEvidence is observations of the papers in any number and order.
func drawEvidence(t *rapid.T, spread float64) []Observation {
	var list []Observation
	for i := range rapid.IntRange(1, 14).Draw(t, "n") {
		b := rapid.SampledFrom(papers[:4]).Draw(t, "paper")
		off := rapid.Float64Range(-spread, spread).Draw(t, "off")
		list = append(list, b.Observed(Observation{Making: fmt.Sprint(i), Value: b.Mean + off, SD: rapid.SampledFrom([]float64{0, 0.3, 1}).Draw(t, "error")}))
	}
	return list
}

// The engine, which sums up and conditions at once, against the independent
// normal-inverse-gamma law that takes one row after the other: the scale from
// that of one kind of variance for all, and where it is below one the effects
// again for makings that scatter so much less.
func TestEngineEqualsRowByRow(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := drawEvidence(t, rapid.SampledFrom([]float64{0.5, 9}).Draw(t, "spread"))
		columns := []string{}
		for _, b := range papers {
			for _, e := range b.effects() {
				if !slices.Contains(columns, e.Name) {
					columns = append(columns, e.Name)
				}
			}
		}
		row := func(effects []Effect, by float64) []float64 {
			x := make([]float64, len(columns))
			for _, e := range effects {
				x[slices.Index(columns, e.Name)] += e.Weight / by
			}
			return x
		}
		ones := slices.Repeat([]float64{1}, len(columns))
		rows := func(noise float64) num.Posterior {
			l, err := num.NewPosterior(make([]float64, len(columns)), num.Independent(ones...), Degrees/2, Degrees/2/thick(Degrees)/thick(Degrees))
			for _, o := range list {
				by := math.Sqrt(noise * (o.Scatter*o.Scatter + o.SD*o.SD))
				if err == nil {
					l, err = l.Observe(row(o.Effects, by), (o.Value-o.Centre)/by)
				}
			}
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		degrees := Degrees + float64(len(list))
		l := rows(1)
		a, scale := l.Noise()
		scale = scale / a * thick(degrees) * thick(degrees)
		effects, noise := scale, scale
		if scale < 1 {
			effects, l = 1, rows(scale)
		}
		known := NewKnown(list, nil)
		for _, b := range papers {
			x := row(b.effects(), 1)
			var cx mat.VecDense
			cx.MulVec(l.Cov(), mat.NewVecDense(len(x), x))
			own := math.Sqrt(effects * mat.Dot(mat.NewVecDense(len(x), x), &cx))
			mean := b.Mean + mat.Dot(mat.NewVecDense(len(x), x), mat.NewVecDense(len(x), l.Mean()))
			got := b.With(known)
			if m, s := got.Posterior(); !near(m, mean, 1e-9) || !near(s, own, 1e-9) {
				t.Fatalf("%s: %.12f ± %.12f, row by row %.12f ± %.12f", b.Key, m, s, mean, own)
			}
			if _, s := got.Next(); !near(s, math.Hypot(own, b.Making*math.Sqrt(noise)), 1e-9) {
				t.Fatalf("%s: the next spreads by %.12f", b.Key, s)
			}
		}
	})
}

// The order of evidence does not matter, nor whether it came at once or one
// making after the other, nor by which belief it was asked for first.
func TestEvidenceInAnyOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := drawEvidence(t, 5)
		at := NewKnown(list, nil)
		one := newPool(Plain, Degrees)
		for i := range list {
			o := list[len(list)-1-i]
			one.add(o.Belief, o)
			one.solve()
		}
		mixed := NewKnown(rapid.Permutation(list).Draw(t, "order"), nil)
		for _, b := range papers {
			m, s := b.With(at).Next()
			if m2, s2 := b.With(mixed).Next(); !near(m, m2, 1e-10) || !near(s, s2, 1e-10) {
				t.Fatalf("%s: %.14f ± %.14f, in another order %.14f ± %.14f", b.Key, m, s, m2, s2)
			}
			l := one.law(b)
			if !near(m, l.mean, 1e-10) || !near(s, math.Hypot(l.own, l.making), 1e-10) {
				t.Fatalf("%s: %.14f ± %.14f, one by one %.14f ± %.14f", b.Key, m, s, l.mean, math.Hypot(l.own, l.making))
			}
		}
	})
}

// Two papers by hand. Each is its share of one common effect and its own, half
// and half of a variance of 4; one making of the first, measured exactly,
// scatters by 1 and lies 5 above its centre. Its own value is known with
// 5·4/(4 + 1) = 4 above; the other's moves with the common half: 5·2/(4 + 1) = 2.
// Variances left: 4 − 16/5 = 0.8 and 4 − 4/5 = 3.2.
func TestLentByHand(t *testing.T) {
	t.Parallel()
	half := []Effect{{"making of other papers", math.Sqrt(0.5)}}
	a := Belief{Key: "x/a", Link: Plain, Mean: 10, SD: 2, Making: 1, Effects: half}
	b := Belief{Key: "x/b", Link: Plain, Mean: 20, SD: 2, Making: 1, Effects: half}
	c := Belief{Key: "x/c", Link: Plain, Mean: 20, SD: 2, Making: 1}
	other := Belief{Key: "y/b", Link: Plain, Mean: 20, SD: 2, Making: 1, Effects: half}
	known := NewKnown([]Observation{a.Observed(Observation{Value: 15})}, nil)
	for _, want := range []struct {
		Belief
		mean, variance float64
		told           string
	}{{a, 14, 0.8, "handbook, and you measured it once"}, {b, 22, 3.2, "handbook, and 1 making of other papers"}, {c, 20, 4, "handbook only"}, {other, 20, 4, "handbook only"}} {
		got := want.Belief.With(known)
		if m, s := got.Posterior(); !near(m, want.mean, 1e-9) || !near(s*s, want.variance, 1e-9) || got.told() != want.told {
			t.Errorf("%s: %.6f, variance %.6f, %s; want %g, %g, %s", want.Key, m, s*s, got.told(), want.mean, want.variance, want.told)
		}
	}
}

// A blend has evidence by its parts, an excluded making lends nothing, and
// what is lent makes nothing measured.
func TestBlendsAndExclusion(t *testing.T) {
	t.Parallel()
	abaca, blend, cotton := papers[0], papers[3], papers[2]
	var list []Observation
	for i := range 3 {
		list = append(list, abaca.Observed(Observation{Making: fmt.Sprint(i), Value: 9, SD: 0.2}))
	}
	known := NewKnown(list, nil)
	move := func(b Belief, k Known) float64 { m, _ := b.With(k).Posterior(); return m - b.Mean }
	if a, x, c := move(abaca, known), move(blend, known), move(cotton, known); !(a > x && x > c && c > 0) {
		t.Errorf("three makings of abaca at 9 move abaca by %.2f, the blend by %.2f, cotton by %.2f", a, x, c)
	}
	b := blend.With(known)
	if got := b.Lent(); got != "3 makings of other papers of abaca" {
		t.Errorf("lent %q", got)
	}
	if _, grade := b.Grounds(); grade != b.Grade || b.Count() != 0 {
		t.Errorf("what was lent counts as measured: %s, %d", grade, b.Count())
	}
	for i := range list {
		list[i].Excluded = "typed wrongly"
	}
	if k := NewKnown(list, nil); move(blend, k) != 0 || blend.With(k).Lent() != "" {
		t.Errorf("excluded makings move the blend by %g, %s", move(blend, k), blend.With(k).Lent())
	}
}

// However steady the studio's makings are, a strange fibre keeps the band of
// the handbook for its own part; and a studio far off the handbook makes the
// bands of the strange fibre no narrower.
func TestStrangeFibreKeepsItsBand(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 1))
	strange := papers[4]
	_, before := strange.Posterior()
	for _, scatter := range []float64{0.2, 1, 3} {
		var list []Observation
		for i := range 100 {
			b := papers[i%2]
			list = append(list, b.Observed(Observation{Making: fmt.Sprint(i), Value: b.Mean + b.Making*scatter*rng.NormFloat64()}))
		}
		got := strange.With(NewKnown(list, nil))
		_, after := got.Posterior()
		// what it has in common with abaca are 0.3 of the variance, which cannot be told apart from abaca's own quite
		if after < before*math.Sqrt(0.7) {
			t.Errorf("steady by %g: a strange fibre is known to %.3f, the handbook has %.3f", scatter, after, before)
		}
		_, next := got.Next()
		// the stated spread counts for ten makings beside the hundred
		found, want := math.Sqrt(next*next-after*after)/strange.Making, math.Sqrt((Degrees+100*scatter*scatter)/(Degrees+100))
		if math.Abs(found/want-1) > 0.25 {
			t.Errorf("makings scatter by %g of what was stated: found %g, want about %g", scatter, found, want)
		}
	}
	for _, far := range []float64{12, -12, 30} { // four and ten standard deviations off
		for _, n := range []int{2, 10, 40} {
			var list []Observation
			for i := range n {
				b := papers[i%2]
				list = append(list, b.Observed(Observation{Making: fmt.Sprint(i), Value: b.Mean + far + b.Making*rng.NormFloat64()}))
			}
			_, after := strange.With(NewKnown(list, nil)).Posterior()
			if after < before {
				t.Errorf("%d makings %+g off the handbook: a strange fibre is known to %.3f, the handbook has %.3f", n, far, after, before)
			}
		}
	}
}

// Many makings of one kind are summed up once, and then every belief of the
// kind is a matter of microseconds.
func BenchmarkEvidence(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 5))
	var list []Observation
	var beliefs []Belief
	fibres := []string{"abaca", "cotton", "flax", "hemp"}
	for i := range 60 {
		f, g := fibres[i%4], fibres[(i+1+i/12)%4]
		beliefs = append(beliefs, paper(fmt.Sprintf("paper %d", i), map[string]float64{f: 0.7, g: 0.3}))
	}
	for i := range 3000 {
		p := beliefs[rng.IntN(len(beliefs))]
		list = append(list, p.Observed(Observation{Making: fmt.Sprint(i), Value: p.Mean + rng.NormFloat64(), SD: 0.1}))
	}
	b.Run("gathered", func(b *testing.B) {
		for b.Loop() {
			beliefs[0].With(NewKnown(list, nil)).Band()
		}
	})
	known := NewKnown(list, nil)
	b.Run("asked again", func(b *testing.B) {
		for b.Loop() {
			beliefs[1].With(known).Band()
		}
	})
}
