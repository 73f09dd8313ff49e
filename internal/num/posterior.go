package num

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Posterior is what is known of a linear law y = x·β + ε, ε normal with variance
// v, when neither β nor v is certain: the normal-inverse-gamma law
//
//	β | v ~ N(m, v·P⁻¹),  v ~ inverse gamma(a, b)
//
// which an observed row turns into another of the same kind, so that what a
// few rows say is exact and the first of them already counts. A Posterior is a
// value: Observe returns another and leaves the one it was asked of alone.
// A row known better or worse than the others is divided by its own standard
// deviation, x and y alike; v is then a number near 1.
//
// The form is in any text on Bayesian regression; here it is worked row by
// row, which loses no digits to differences of large sums.
type Posterior struct {
	mean *mat.VecDense
	prec *mat.Cholesky // of P
	a, b float64
}

// NewPosterior returns the law before anything was seen: β around mean with
// covariance v·cov, and v inverse gamma with shape a and scale b, that is
// around b/a with the weight of 2a observations.
func NewPosterior(mean []float64, cov mat.Symmetric, a, b float64) (Posterior, error) {
	if len(mean) == 0 || cov.SymmetricDim() != len(mean) {
		return Posterior{}, fmt.Errorf("a covariance of %d rows goes not with a mean of %d numbers", cov.SymmetricDim(), len(mean))
	}
	if !(a > 0 && b > 0) || !allFinite(append([]float64{a, b}, mean...)) {
		return Posterior{}, errors.New("the mean must be finite, shape and scale finite and above 0")
	}
	var c mat.Cholesky
	if !c.Factorize(cov) {
		return Posterior{}, errors.New("the covariance must be positive definite")
	}
	var inverse mat.SymDense
	prec := new(mat.Cholesky)
	if err := c.InverseTo(&inverse); err != nil || !prec.Factorize(&inverse) {
		return Posterior{}, errors.New("the covariance is too near to a singular one")
	}
	return Posterior{mat.NewVecDense(len(mean), append([]float64(nil), mean...)), prec, a, b}, nil
}

// Independent returns the covariance of coefficients that a prior knows one by
// one, from their standard deviations.
func Independent(sd ...float64) mat.Symmetric {
	v := make([]float64, len(sd))
	for i, s := range sd {
		v[i] = s * s
	}
	return mat.NewDiagDense(len(v), v)
}

// Observe returns what is known after one more row.
//
//	m' = m + u·r/s,  P' = P + x·xᵀ,  a' = a + 1/2,  b' = b + r²/(2s)
//	u = P⁻¹x,  s = 1 + x·u,  r = y − x·m
func (l Posterior) Observe(x []float64, y float64) (Posterior, error) {
	if len(x) != l.mean.Len() || !allFinite(x) || !finite(y) {
		return Posterior{}, fmt.Errorf("a row is %d finite numbers and a finite outcome", l.mean.Len())
	}
	row := mat.NewVecDense(len(x), x)
	u, s := l.leverage(row)
	r := y - mat.Dot(row, l.mean)
	mean, prec := new(mat.VecDense), new(mat.Cholesky)
	mean.AddScaledVec(l.mean, r/s, u)
	if !prec.SymRankOne(l.prec, 1, row) {
		return Posterior{}, errors.New("the row is too large beside what is known")
	}
	return Posterior{mean, prec, l.a + 0.5, l.b + r*r/(2*s)}, nil
}

// leverage returns P⁻¹x and 1 + xᵀP⁻¹x.
func (l Posterior) leverage(x mat.Vector) (*mat.VecDense, float64) {
	u := new(mat.VecDense)
	// the error is a warning of a poor condition number; the digits are there
	_ = l.prec.SolveVecTo(u, x)
	return u, 1 + mat.Dot(x, u)
}

// Mean returns the middle of each coefficient.
func (l Posterior) Mean() []float64 { return append([]float64(nil), l.mean.RawVector().Data...) }

// Cov returns the covariance of the coefficients for v = 1: how certain the
// rows make them, whatever the scatter turns out to be.
func (l Posterior) Cov() *mat.SymDense {
	c := new(mat.SymDense)
	_ = l.prec.InverseTo(c) // as in leverage
	return c
}

// Noise returns the shape and scale of the inverse-gamma law of v.
func (l Posterior) Noise() (a, b float64) { return l.a, l.b }

// Next returns the law of the next outcome at x: Student's t with 2a degrees
// of freedom around x·m. Its Quantile(0.05) and Quantile(0.95) are the band
// that holds nine outcomes in ten.
func (l Posterior) Next(x []float64) distuv.StudentsT { return l.student(x, 1) }

// At returns the law of x·β itself, without the scatter of an outcome.
func (l Posterior) At(x []float64) distuv.StudentsT { return l.student(x, 0) }

func (l Posterior) student(x []float64, scatter float64) distuv.StudentsT {
	row := mat.NewVecDense(len(x), x)
	_, s := l.leverage(row)
	return distuv.StudentsT{Mu: mat.Dot(row, l.mean), Sigma: math.Sqrt(l.b / l.a * (s - 1 + scatter)), Nu: 2 * l.a}
}

// Draw returns one β and v out of what is known.
func (l Posterior) Draw(src rand.Source) (beta []float64, v float64) {
	v = 1 / distuv.Gamma{Alpha: l.a, Beta: l.b, Src: src}.Rand()
	normal := distuv.Normal{Sigma: 1, Src: src}
	z := mat.NewVecDense(l.mean.Len(), nil)
	for i := range z.Len() {
		z.SetVec(i, normal.Rand())
	}
	// P = UᵀU, so that U⁻¹z has the covariance P⁻¹
	out := new(mat.VecDense)
	_ = out.SolveVec(l.prec.RawU(), z) // as in leverage
	out.AddScaledVec(l.mean, math.Sqrt(v), out)
	return out.RawVector().Data, v
}

func allFinite(x []float64) bool {
	for _, v := range x {
		if !finite(v) {
			return false
		}
	}
	return true
}
