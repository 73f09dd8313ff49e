// Package num holds the pure mathematics that neither the standard library nor
// gonum has ready: chances of counts, and the smallest number that reaches one;
// least squares of lines and curves with how firmly each coefficient is held;
// whether groups differ; what a few observations say of a linear law.
//
// Nothing here knows of paper. Missing: what gonum has.
package num

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// AtLeast returns the chance that of n independent trials, each a success with
// chance p, at least need succeed. It is 1 for need ≤ 0 and 0 for need > n.
//
// The sum of binomial terms is the regularised incomplete beta function
// I_p(need, n − need + 1) (Abramowitz and Stegun 26.5.24).
func AtLeast(need, n int, p float64) float64 {
	switch {
	case need <= 0:
		return 1
	case need > n || p <= 0:
		return 0
	case p >= 1:
		return 1
	}
	return mathext.RegIncBeta(float64(need), float64(n-need+1), p)
}

// AtLeastUncertain returns the same chance where the chance of success is
// itself uncertain, beta distributed with parameters a and b, and the same for
// all n trials: the beta-binomial law.
func AtLeastUncertain(need, n int, a, b float64) float64 {
	if need <= 0 {
		return 1
	}
	if need > n {
		return 0
	}
	// the shorter tail is summed, by the ratio of neighbouring terms
	miss := n - need
	term := math.Exp(lbeta(a+float64(n), b) - lbeta(a, b)) // all n succeed
	sum := term
	for m := 1; m <= miss; m++ { // m misses
		k := float64(n - m)
		term *= (k + 1) / float64(m) * (b + float64(m-1)) / (a + k)
		sum += term
	}
	return math.Min(sum, 1)
}

func lbeta(a, b float64) float64 {
	x, _ := math.Lgamma(a)
	y, _ := math.Lgamma(b)
	z, _ := math.Lgamma(a + b)
	return x + y - z
}

// ShareBand returns the ends of a band of nine in ten for a share of which hits
// of n trials were seen, n ≥ 1: the interval of Jeffreys, the 5 and the 95 %
// quantile of beta(hits + ½, n − hits + ½). With no hit it starts at 0, with
// nothing else it ends at 1 (Brown, Cai and DasGupta 2001,
// from memory).
func ShareBand(hits, n int) (low, high float64) {
	law := distuv.Beta{Alpha: float64(hits) + 0.5, Beta: float64(n-hits) + 0.5}
	low, high = law.Quantile(0.05), law.Quantile(0.95)
	if hits == 0 {
		low = 0
	}
	if hits == n {
		high = 1
	}
	return low, high
}

// Fewest returns the smallest n from need to most for which chance(n) is at
// least conf, and whether there is one. chance must not fall as n grows.
func Fewest(need, most int, conf float64, chance func(n int) float64) (int, bool) {
	lo, hi := need-1, need // the first that suffices is above lo
	for step := 1; chance(hi) < conf; step *= 2 {
		if hi >= most {
			return most, false
		}
		lo, hi = hi, min(hi+step, most) // far numbers cost most to reckon: they are tried last
	}
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; chance(mid) >= conf {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}
