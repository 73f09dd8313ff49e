package run

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/fault"
)

// Reading is a weighing, or a reading of the level, against what was expected
// just before it. Of a run that does what is believed of runs, Off over Spread
// is chance alone: it scatters about nothing by one, each for itself.
type Reading struct {
	Event    int     // its place
	First    int     // the sheets weighed; both 0: no sheets, but the vat was read
	Last     int     //
	Off      float64 // over what was expected, of the logarithm
	Spread   float64 // standard deviation of that, the scale's error included
	Believed bool    // false: out of all reason, and not stood by
}

// Readings are all readings in the order in which the run took them.
func (r *Run) Readings() []Reading { return r.readings }

// Within is the share of the sheets pulled that weigh within a part of the
// target, by all that is known now: a sheet that was not weighed itself counts as
// far as it may. Errors: OutOfRange for a part outside 0 to 1; Infeasible
// before the first sheet.
func (r *Run) Within(part float64) (float64, error) {
	if !(part > 0 && part < 1) {
		return 0, fault.OutOfRange("tolerance", "A tolerance must lie between 0 and 1; this says %g.", part)
	}
	n := r.f.pulled()
	if n == 0 {
		return 0, fault.Infeasible("sheets", "No sheet has been pulled yet.")
	}
	target := ln(float64(r.p.Target) * float64(r.p.Area))
	low, high, sum := target+math.Log1p(-part), target+math.Log1p(part), 0.0
	for i := sheets; i < sheets+n; i++ {
		sd := math.Sqrt(max(r.f.cov[i][i], leastNoise))
		sum += distuv.UnitNormal.CDF((high-r.f.at[i])/sd) - distuv.UnitNormal.CDF((low-r.f.at[i])/sd)
	}
	return sum / float64(n), nil
}

// Scatter is how far the sheets of the run lie apart, a standard deviation as a
// fraction, by all that is known now: what the run's level is unsure by moves
// all sheets together and does not count. Errors: Infeasible before the second
// sheet.
//
//	s² = (Σ(µi − µ)² + Σ Pii − Σ Pij/n)/(n − 1)
func (r *Run) Scatter() (float64, error) {
	n := r.f.pulled()
	if n < 2 {
		return 0, fault.Infeasible("sheets", "How far sheets lie apart shows from the second sheet on.")
	}
	mean, own, all := 0.0, 0.0, 0.0
	for i := sheets; i < sheets+n; i++ {
		mean += r.f.at[i] / float64(n)
		own += r.f.cov[i][i]
		for _, v := range r.f.cov[i][sheets : sheets+n] {
			all += v
		}
	}
	sum := own - all/float64(n)
	for i := sheets; i < sheets+n; i++ {
		sum += square(r.f.at[i] - mean)
	}
	return math.Sqrt(max(0, sum) / float64(n-1)), nil
}
