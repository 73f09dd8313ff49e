package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/num"
)

// Weighing is one weighing of sheets at parting: how hard they were pressed and
// what of them was fibre.
type Weighing struct {
	Pressure measure.Pressure
	Solids   measure.Solids
}

// How far weighed solids lie off the law from post to post is itself not
// known: about 5 % of the solids, believed like six posts' worth of weighings
// (source: memory).
const (
	weighingScatter = 0.05 // of ln s
	weighingTrust   = 6.0  // weighings
)

// Law is what is known of pressed solids: the two coefficients of SolidsAt and
// how far they may be off. In logarithms the law is a straight line, so a
// closed form takes in any number of weighings, in any order.
//
//	ln s = ln S1 + n ln(P / 350 kPa)
type Law struct {
	Reference   measure.Solids // S1, at 350 kPa
	ReferenceSD measure.Solids
	Exponent    measure.Number // n
	ExponentSD  measure.Number

	line num.Posterior // of ln S1 and n
}

// PriorLaw is the law before any weighing (source: memory).
func PriorLaw() Law {
	line, err := num.NewPosterior(
		[]float64{math.Log(float64(ReferenceSolids)), float64(Exponent)},
		// The covariance is stated in units of the scatter.
		num.Independent(ReferenceSolidsSD/float64(ReferenceSolids)/weighingScatter, ExponentSD/weighingScatter),
		weighingTrust/2, weighingTrust/2*weighingScatter*weighingScatter,
	)
	if err != nil {
		panic(err) // the constants above make a law or they do not
	}
	return law(line)
}

// law reads the coefficients off the line; an exponent under zero, by which
// harder pressing would leave more water, is taken as zero.
func law(line num.Posterior) Law {
	b := line.Mean()
	reference := math.Exp(b[0])
	return Law{
		Reference: measure.Solids(reference), ReferenceSD: measure.Solids(reference * line.At([]float64{1, 0}).Sigma),
		Exponent: measure.Number(max(0, b[1])), ExponentSD: measure.Number(line.At([]float64{0, 1}).Sigma),
		line: line,
	}
}

// row is a pressure as the line takes it.
func row(p measure.Pressure) []float64 {
	return []float64{1, math.Log(float64(p / ReferencePressure))}
}

// After returns the law after weighings.
func (l Law) After(weighings ...Weighing) (Law, error) {
	if l.Reference == 0 {
		return Law{}, fault.Invalid("law", "a law of pressed solids starts from the prior")
	}
	line := l.line
	for _, w := range weighings {
		err := fault.First(
			measure.Inside("pressure", "the pressure", w.Pressure, leastPressure, mostPressure, "kPa"),
			measure.Inside("solids", "the weighed solids", w.Solids, LeastSolids, MostSolids, "as a fraction"),
		)
		if err != nil {
			return Law{}, err
		}
		if line, err = line.Observe(row(w.Pressure), math.Log(float64(w.Solids))); err != nil {
			return Law{}, fault.OutOfRange("pressure", "these weighings cannot be taken together: pressures between %g and %g kPa, solids between %g and %g", float64(leastPressure), float64(mostPressure), float64(LeastSolids), float64(MostSolids))
		}
	}
	return law(line), nil
}

// Next returns the solids of the next post at a pressure, with the band that
// holds nine posts in ten.
//
//	ln s ~ Student t around ln S1 + n ln(P / 350 kPa)
//
// Contract:
//
//   - Quantity: solids of the pressed sheets, a fraction: low and high are a 90 % band around mid
//   - Inputs: the law, of PriorLaw and After; p pressure on the sheets, kPa
//   - Valid: p 0.1 to 10000 kPa; outside: fault.OutOfRange; a law that starts from nothing: fault.Invalid
//   - Assumes: as SolidsAt; scatter from post to post is normal in logarithms
//   - Error: the band itself
//   - Source: memory for the prior; derived
//   - Checked: property: six weighings give the exponent back, order does not matter, the middle is SolidsAt's, bands hold nine simulated posts in ten
func (l Law) Next(p measure.Pressure) (low, mid, high measure.Solids, err error) {
	if l.Reference == 0 {
		return 0, 0, 0, fault.Invalid("law", "a law of pressed solids starts from the prior")
	}
	if mid, err = SolidsAt(p, l.Reference, l.Exponent); err != nil {
		return 0, 0, 0, err
	}
	next := l.line.Next(row(p))
	solids := func(share float64) measure.Solids {
		return min(max(measure.Solids(math.Exp(next.Quantile(share))), LeastSolids), MostSolids)
	}
	return min(solids(0.05), mid), mid, max(solids(0.95), mid), nil
}
