package num

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Row by row equals all rows at once by the closed form
//
//	Pn = V0⁻¹ + XᵀX, mn = Pn⁻¹(V0⁻¹m0 + Xᵀy), an = a0 + n/2,
//	bn = b0 + (yᵀy + m0ᵀV0⁻¹m0 − mnᵀPn·mn)/2
//
// to 1e-10, in any order of the rows.
func TestPosteriorRowByRowEqualsAllAtOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.IntRange(1, 4).Draw(t, "p")
		n := rapid.IntRange(0, 8).Draw(t, "n")
		number := rapid.Float64Range(-3, 3)
		mean := rapid.SliceOfN(number, p, p).Draw(t, "mean")
		sd := rapid.SliceOfN(rapid.Float64Range(0.1, 5), p, p).Draw(t, "sd")
		rows := mat.NewDense(max(n, 1), p, nil) // without a row a zero one adds nothing
		y := mat.NewVecDense(max(n, 1), nil)
		prior, err := NewPosterior(mean, Independent(sd...), 2.5, 1.5)
		if err != nil {
			t.Fatal(err)
		}
		seen := prior
		for i := range n {
			rows.SetRow(i, rapid.SliceOfN(number, p, p).Draw(t, "x"))
			y.SetVec(i, number.Draw(t, "y"))
		}
		for i := range n {
			k := n - 1 - i // backwards: the order must not matter
			if seen, err = seen.Observe(rows.RawRowView(k), y.AtVec(k)); err != nil {
				t.Fatal(err)
			}
		}
		var precision mat.Dense
		precision.Mul(rows.T(), rows)
		right := mat.NewVecDense(p, nil)
		right.MulVec(rows.T(), y)
		quad := mat.Dot(y, y)
		for j := range p {
			w := 1 / (sd[j] * sd[j])
			precision.Set(j, j, precision.At(j, j)+w)
			right.SetVec(j, right.AtVec(j)+w*mean[j])
			quad += w * mean[j] * mean[j]
		}
		var want mat.VecDense
		if err := want.SolveVec(&precision, right); err != nil {
			t.Fatal(err)
		}
		for j, got := range seen.Mean() {
			if math.Abs(got-want.AtVec(j)) > 1e-10*(1+math.Abs(got)) {
				t.Fatalf("coefficient %d: %.15g row by row, %.15g at once", j, got, want.AtVec(j))
			}
		}
		a, b := seen.Noise()
		if wantB := 1.5 + (quad-mat.Dot(&want, right))/2; a != 2.5+float64(n)/2 || math.Abs(b-wantB) > 1e-10*(1+quad) {
			t.Fatalf("noise %g, %.15g; at once %g, %.15g", a, b, 2.5+float64(n)/2, wantB)
		}
		var inverse mat.Dense
		if err := inverse.Inverse(&precision); err != nil {
			t.Fatal(err)
		}
		if !mat.EqualApprox(seen.Cov(), &inverse, 1e-10*(1+mat.Max(&inverse))) {
			t.Fatal("the covariance differs")
		}
		if a, _ := prior.Noise(); a != 2.5 || !mat.Equal(mat.NewVecDense(p, prior.Mean()), mat.NewVecDense(p, mean)) {
			t.Fatal("observing changed what was known before")
		}
	})
}

// Where the prior is right, the nine-in-ten band of the next outcome holds it
// in 88 to 92 of a hundred, from no row on: 5,000 laws drawn, a row each time
// tried against four outcomes, so that chance leaves a third of a point.
func TestPosteriorCoverage(t *testing.T) {
	t.Parallel()
	src := rand.NewPCG(7, 11)
	rng := rand.New(src)
	prior, err := NewPosterior([]float64{1, -2}, Independent(0.8, 1.5), 3, 2)
	if err != nil {
		t.Fatal(err)
	}
	row := func() []float64 { return []float64{1, rng.Float64()*2 - 1} }
	tries := map[int]int{0: 0, 1: 0, 2: 0, 5: 0}
	held := map[int]int{}
	for range 5000 {
		beta, v := prior.Draw(src)
		outcome := func(x []float64) float64 {
			return beta[0]*x[0] + beta[1]*x[1] + math.Sqrt(v)*rng.NormFloat64()
		}
		known := prior
		for n := 0; n <= 5; n++ {
			if _, ask := tries[n]; ask {
				for range 4 {
					x := row()
					next, y := known.Next(x), outcome(x)
					tries[n]++
					if p := next.CDF(y); p > 0.05 && p < 0.95 {
						held[n]++
					}
				}
			}
			x := row()
			if known, err = known.Observe(x, outcome(x)); err != nil {
				t.Fatal(err)
			}
		}
	}
	for n, all := range tries {
		share := float64(held[n]) / float64(all)
		t.Logf("after %d rows: %.3f", n, share)
		if share < 0.88 || share > 0.92 {
			t.Errorf("after %d rows the nine-in-ten band held %.3f", n, share)
		}
	}
}

// Draws have the mean and the spread that the law says.
func TestPosteriorDraws(t *testing.T) {
	t.Parallel()
	l, err := NewPosterior([]float64{2, -1}, mat.NewSymDense(2, []float64{1, 0.6, 0.6, 2}), 6, 5)
	if err != nil {
		t.Fatal(err)
	}
	src := rand.NewPCG(3, 4)
	x := []float64{1, 0.5}
	law := l.At(x)
	const n = 20000
	below := 0
	for range n {
		b, _ := l.Draw(src)
		if b[0]*x[0]+b[1]*x[1] < law.Quantile(0.9) {
			below++
		}
	}
	if share := float64(below) / n; math.Abs(share-0.9) > 0.008 {
		t.Errorf("%.4f of the draws are below the 90 %% point", share)
	}
}

// Many rows leave the prior behind: the least-squares line comes out.
func TestPosteriorLimits(t *testing.T) {
	t.Parallel()
	l, err := NewPosterior([]float64{0, 0}, Independent(1e6, 1e6), 1e-6, 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 50 {
		if l, err = l.Observe([]float64{1, float64(i)}, 3+0.25*float64(i)); err != nil {
			t.Fatal(err)
		}
	}
	m := l.Mean()
	if math.Abs(m[0]-3) > 1e-6 || math.Abs(m[1]-0.25) > 1e-8 {
		t.Errorf("line %v, want 3 + 0.25 x", m)
	}
	if at, next := l.At([]float64{1, 10}), l.Next([]float64{1, 10}); at.Sigma >= next.Sigma || at.Mu != next.Mu {
		t.Errorf("the line %v is not surer than an outcome %v", at, next)
	}
}

func TestPosteriorEdges(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for name, c := range map[string]struct {
		mean []float64
		cov  mat.Symmetric
		a, b float64
	}{
		"no coefficient":        {nil, Independent(1), 1, 1},
		"sizes that differ":     {[]float64{1}, Independent(1, 1), 1, 1},
		"a mean that is no one": {[]float64{nan}, Independent(1), 1, 1},
		"shape 0":               {[]float64{1}, Independent(1), 0, 1},
		"scale negative":        {[]float64{1}, Independent(1), 1, -1},
		"scale NaN":             {[]float64{1}, Independent(1), 1, nan},
		"sd 0":                  {[]float64{1, 1}, Independent(1, 0), 1, 1},
		"not a covariance":      {[]float64{1, 1}, mat.NewSymDense(2, []float64{1, 2, 2, 1}), 1, 1},
	} {
		if _, err := NewPosterior(c.mean, c.cov, c.a, c.b); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	l, err := NewPosterior([]float64{0, 0}, Independent(1, 1), 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][]float64{nil, {1}, {1, nan}, {1, math.Inf(1)}, {1, 2, 3}} {
		if _, err := l.Observe(x, 1); err == nil {
			t.Errorf("row %v was taken", x)
		}
	}
	if _, err := l.Observe([]float64{1, 1}, math.Inf(-1)); err == nil {
		t.Error("an endless outcome was taken")
	}
	// without a row the next outcome is the prior's own
	if got, want := l.Next([]float64{1, 2}), (distuv.StudentsT{Mu: 0, Sigma: math.Sqrt(6), Nu: 2}); got != want {
		t.Errorf("prior outcome %v, want %v", got, want)
	}
}
