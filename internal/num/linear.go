package num

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Fit is what least squares found.
type Fit struct {
	Coef []float64 // coefficients, in the order they were asked for
	SD   []float64 // standard deviation of each; 0 for one held at its bound
	RSS  float64   // residual sum of squares
	DF   int       // observations less coefficients
	R2   float64   // share of the variation explained; 0 where a fit has none to speak of
}

// ResidualSD is the scatter about the fit, √(RSS/DF).
func (f Fit) ResidualSD() float64 { return math.Sqrt(f.RSS / float64(f.DF)) }

// Why a fit can fail.
var (
	ErrFew      = errors.New("num: fewer observations than a fit needs")
	ErrSingular = errors.New("num: the observations do not tell the coefficients apart")
	ErrNoFit    = errors.New("num: no best fit was found")
)

// worstCondition is where a double's digits no longer suffice: the columns,
// each brought to length one, are then the same to about eight digits.
const worstCondition = 1e9

// Linear fits y = Σ coef[j]·columns[j] by least squares: QR of the columns,
// each brought to length one, and one round of refinement on the residuals.
//
// R2 is counted from the mean where a column is constant, from zero otherwise.
func Linear(columns [][]float64, y []float64) (Fit, error) {
	n, p := len(y), len(columns)
	if p == 0 || n <= p {
		return Fit{}, ErrFew
	}
	x, length, constant := mat.NewDense(n, p, nil), make([]float64, p), false
	for j, c := range columns {
		if len(c) != n {
			return Fit{}, ErrFew
		}
		length[j] = norm(c)
		if length[j] == 0 || !finite(length[j]) {
			return Fit{}, ErrSingular
		}
		for i, v := range c {
			x.Set(i, j, v/length[j])
		}
		constant = constant || same(c)
	}
	var qr mat.QR
	qr.Factorize(x)
	if !finite(norm(y)) || !(qr.Cond() < worstCondition) {
		return Fit{}, ErrSingular
	}
	b, left := mat.NewVecDense(p, nil), mat.NewVecDense(n, append([]float64(nil), y...))
	for range 2 { // the second round takes what rounding left in the residuals
		var more mat.VecDense
		if err := qr.SolveVecTo(&more, false, left); err != nil {
			return Fit{}, ErrSingular
		}
		b.AddVec(b, &more)
		for i := range n {
			left.SetVec(i, residual(x.RawRowView(i), b, y[i]))
		}
	}
	f := Fit{Coef: make([]float64, p), RSS: square(left.RawVector().Data), DF: n - p}
	f.SD = spread(&qr, p, f.ResidualSD())
	for j := range p {
		f.Coef[j] = b.AtVec(j) / length[j]
		f.SD[j] /= length[j]
	}
	f.R2 = explained(y, f.RSS, constant)
	return f, nil
}

// residual is y − x·b, summed with products taken whole.
func residual(x []float64, b *mat.VecDense, y float64) float64 {
	sum, rest := y, 0.0
	for j, v := range x {
		w := b.AtVec(j)
		part := -v * w
		rest += math.FMA(-v, w, -part) // what rounding cut from the product
		next := sum + part
		if math.Abs(sum) >= math.Abs(part) { // and from the sum (Neumaier)
			rest += sum - next + part
		} else {
			rest += part - next + sum
		}
		sum = next
	}
	return sum + rest
}

// spread is the standard deviation of each coefficient: s·√((XᵀX)⁻¹)jj, the
// row lengths of R⁻¹.
func spread(qr *mat.QR, p int, s float64) []float64 {
	var r mat.Dense
	qr.RTo(&r)
	var inverse mat.TriDense
	triangle := mat.NewTriDense(p, mat.Upper, nil)
	for i := range p {
		for j := i; j < p; j++ {
			triangle.SetTri(i, j, r.At(i, j))
		}
	}
	out := make([]float64, p)
	if inverse.InverseTri(triangle) != nil {
		return out
	}
	for i := range p {
		for j := i; j < p; j++ {
			out[i] = math.Hypot(out[i], inverse.At(i, j))
		}
		out[i] *= s
	}
	return out
}

// explained is R²: one less the share left over.
func explained(y []float64, rss float64, fromMean bool) float64 {
	centre := 0.0
	if fromMean {
		centre = mean(y)
	}
	total := 0.0
	for _, v := range y {
		total += (v - centre) * (v - centre)
	}
	if total == 0 {
		return 0
	}
	return 1 - rss/total
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x / float64(len(v))
	}
	return sum
}

func square(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return sum
}

func norm(v []float64) float64 { return math.Sqrt(square(v)) }

func same(v []float64) bool {
	for _, x := range v {
		if x != v[0] {
			return false
		}
	}
	return true
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
