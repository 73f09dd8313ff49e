package num

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Curve is a model of y at x with coefficients b.
type Curve func(b []float64, x float64) float64

// Bounds keep coefficients from low to high; the zero value keeps none.
type Bounds struct{ Low, High []float64 }

// How the search steps.
const (
	mostSteps   = 5000
	firstDamp   = 1e-3  // of the squared column lengths
	mostDamp    = 1e16  // no step is short enough
	smallStep   = 1e-13 // relative; below it nothing moves
	noGain      = 1e-15 // relative; what a step gains below it is rounding: a coefficient near nought moves for ever
	mostIdle    = 4     // steps in a row that gain nothing
	differences = 6e-6  // relative; the cube root of a double's last digit
)

// FitCurve fits a curve to points by least squares, from a start: the method
// of Levenberg and Marquardt, damped on the longest that each column of the
// Jacobian has been (Moré 1978), the Jacobian by central differences.
//
// The best found is one hollow; another start may find another. R2 is counted
// from the mean.
func FitCurve(c Curve, x, y, start []float64, within Bounds) (Fit, error) {
	if len(x) != len(y) || len(start) == 0 || len(y) <= len(start) {
		return Fit{}, ErrFew
	}
	s := search{curve: c, x: x, y: y, within: within, b: append([]float64(nil), start...), length: make([]float64, len(start))}
	s.within.clip(s.b)
	s.left = s.residuals(s.b)
	if s.rss = square(s.left); !finite(s.rss) {
		return Fit{}, ErrNoFit
	}
	damp, idle := firstDamp, 0
	for range mostSteps {
		before := s.rss
		moved, stepped := s.step(damp)
		if stepped && before-s.rss <= noGain*before {
			idle++
		} else if stepped {
			idle = 0
		}
		switch {
		case stepped && moved <= smallStep, idle >= mostIdle:
			return s.fit()
		case stepped:
			damp = math.Max(damp/10, 1e-15)
		case moved <= smallStep || damp > mostDamp: // the smallest step helps no more
			return s.fit()
		default:
			damp *= 4
		}
	}
	return Fit{}, ErrNoFit
}

// search is where a fit stands.
type search struct {
	curve  Curve
	x, y   []float64
	within Bounds
	b      []float64
	left   []float64 // y − curve
	rss    float64
	length []float64 // the longest each column has been
	slopes *mat.Dense
}

func (s *search) residuals(b []float64) []float64 {
	out := make([]float64, len(s.y))
	for i, x := range s.x {
		out[i] = s.y[i] - s.curve(b, x)
	}
	return out
}

// step tries one damped step. It says how far it led, relative to where it
// stood, and whether it was taken: one that leads up is not.
func (s *search) step(damp float64) (moved float64, taken bool) {
	if s.slopes == nil {
		s.slopes = s.jacobian()
		for j := range s.b {
			s.length[j] = math.Max(s.length[j], norm(mat.Col(nil, j, s.slopes)))
		}
	}
	free := s.free()
	if len(free) == 0 {
		return 0, false
	}
	n, p := len(s.y), len(free)
	a, rhs := mat.NewDense(n+p, p, nil), mat.NewVecDense(n+p, nil)
	for k, j := range free {
		long := s.length[j]
		if long == 0 {
			long = 1
		}
		for i := range n {
			a.Set(i, k, s.slopes.At(i, j)/long)
		}
		a.Set(n+k, k, math.Sqrt(damp))
	}
	for i, v := range s.left {
		rhs.SetVec(i, v)
	}
	var d mat.VecDense
	if err := d.SolveVec(a, rhs); err != nil {
		if _, near := err.(mat.Condition); !near {
			return 1, false
		}
	}
	trial := append([]float64(nil), s.b...)
	for k, j := range free {
		if s.length[j] > 0 {
			trial[j] += d.AtVec(k) / s.length[j]
		}
	}
	s.within.clip(trial)
	for j, v := range trial {
		moved = math.Max(moved, math.Abs(v-s.b[j])/(math.Abs(s.b[j])+1e-300))
	}
	left := s.residuals(trial)
	if rss := square(left); finite(rss) && rss <= s.rss {
		s.b, s.left, s.rss, s.slopes = trial, left, rss, nil
		return moved, true
	}
	return moved, false
}

// jacobian is the slope of the curve on each coefficient at each point.
func (s *search) jacobian() *mat.Dense {
	out := mat.NewDense(len(s.y), len(s.b), nil)
	up, down := append([]float64(nil), s.b...), append([]float64(nil), s.b...)
	for j, b := range s.b {
		h := differences * math.Abs(b)
		if b == 0 {
			h = differences
		}
		up[j], down[j] = b+h, b-h
		s.within.clip(up)
		s.within.clip(down)
		for i, x := range s.x {
			if slope := (s.curve(up, x) - s.curve(down, x)) / (up[j] - down[j]); finite(slope) {
				out.Set(i, j, slope)
			}
		}
		up[j], down[j] = b, b
	}
	return out
}

// free are the coefficients that are not pressed against their bound.
func (s *search) free() []int {
	var out []int
	for j, b := range s.b {
		down := 0.0 // > 0: the fit betters as the coefficient grows
		for i, v := range s.left {
			down += v * s.slopes.At(i, j)
		}
		low, high := s.within.of(j)
		if !(b <= low && down <= 0) && !(b >= high && down >= 0) {
			out = append(out, j)
		}
	}
	return out
}

// fit is the result where the search ended.
func (s *search) fit() (Fit, error) {
	s.slopes = s.jacobian()
	f := Fit{Coef: s.b, SD: make([]float64, len(s.b)), RSS: s.rss, DF: len(s.y) - len(s.b), R2: explained(s.y, s.rss, true)}
	free := s.free()
	f.DF += len(s.b) - len(free)
	if len(free) == 0 {
		return f, nil
	}
	var columns [][]float64
	for _, j := range free {
		columns = append(columns, mat.Col(nil, j, s.slopes))
	}
	flat, err := Linear(columns, s.left) // the tangent plane tells how firmly each is held
	if err != nil {
		return Fit{}, err
	}
	for k, j := range free {
		f.SD[j] = flat.SD[k] * f.ResidualSD() / math.Max(flat.ResidualSD(), 1e-300)
	}
	return f, nil
}

func (w Bounds) of(j int) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if j < len(w.Low) {
		low = w.Low[j]
	}
	if j < len(w.High) {
		high = w.High[j]
	}
	return low, high
}

func (w Bounds) clip(b []float64) {
	for j := range b {
		low, high := w.of(j)
		b[j] = math.Min(math.Max(b[j], low), high)
	}
}
