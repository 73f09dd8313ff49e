package pressing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Weighing is one weighing of sheets at parting: how hard they were pressed and
// what of them was fibre.
type Weighing struct {
	Pressure measure.Pressure
	Solids   measure.Solids
}

// WeighingScatter is how far weighed solids lie off the law from post to post,
// on a logarithmic scale: 5 % of the solids (source: memory).
const WeighingScatter measure.Number = 0.05

// Law is what is known of pressed solids: the two coefficients of SolidsAt and
// how far they may be off. The law is a straight line in logarithms, so one
// closed form takes in any number of weighings, in any order.
//
//	ln s = ln S1 + n ln(P / 350 kPa)
type Law struct {
	Reference   measure.Solids // S1, at 350 kPa
	Exponent    measure.Number // n
	ReferenceSD measure.Solids
	ExponentSD  measure.Number

	line  [2]float64 // ln S1 and n, before n is kept from being negative
	trust [3]float64 // their precision: of the one, of both together, of the other
}

// PriorLaw is the law before any weighing (source: memory).
func PriorLaw() Law {
	spread := ReferenceSolidsSD / float64(ReferenceSolids)
	return law([2]float64{math.Log(float64(ReferenceSolids)), float64(Exponent)}, [3]float64{1 / (spread * spread), 0, 1 / (ExponentSD * ExponentSD)})
}

// law reads the coefficients off the line and its precision.
func law(line [2]float64, trust [3]float64) Law {
	det := trust[0]*trust[2] - trust[1]*trust[1]
	reference := math.Exp(line[0])
	return Law{
		Reference: measure.Solids(reference), ReferenceSD: measure.Solids(reference * math.Sqrt(trust[2]/det)),
		Exponent: measure.Number(max(0, line[1])), ExponentSD: measure.Number(math.Sqrt(trust[0] / det)),
		line: line, trust: trust,
	}
}

// After returns the law after weighings: least squares in logarithms, what was
// known before counting as it is trusted.
//
//	(Λ0 + Σ x xᵀ/σ²) b = Λ0 b0 + Σ x ln s/σ², x = (1, ln(P / 350 kPa))
//
// Contract:
//
//   - Quantity: both coefficients of SolidsAt with their standard deviations
//   - Inputs: scatter σ of ln s from post to post, a number; weighings: pressure kPa, solids a fraction
//   - Valid: the law comes of PriorLaw; scatter 0.001 to 1; p 0.1 to 10000 kPa; solids 0.10 to 0.50, where the law holds; outside: fault.OutOfRange
//   - Assumes: the same stock and felts; weighings err independently; an exponent under zero is taken as zero
//   - Error: given by the standard deviations
//   - Source: derived; the prior from memory
//   - Checked: property: six weighings give the exponent back, one after the other as all at once, the order does not matter, more never widen
func (l Law) After(scatter measure.Number, weighings ...Weighing) (Law, error) {
	if err := measure.Inside("scatter", "the scatter of weighings", scatter, 0.001, 1, ""); err != nil {
		return Law{}, err
	}
	if l.trust[0] == 0 {
		return Law{}, fault.Invalid("law", "a law starts from the prior")
	}
	w := 1 / float64(scatter*scatter)
	trust := l.trust
	right := [2]float64{trust[0]*l.line[0] + trust[1]*l.line[1], trust[1]*l.line[0] + trust[2]*l.line[1]}
	for _, one := range weighings {
		err := fault.First(
			measure.Inside("pressure", "the pressure", one.Pressure, leastPressure, mostPressure, "kPa"),
			measure.Inside("solids", "the weighed solids", one.Solids, LeastSolids, MostSolids, "as a fraction"),
		)
		if err != nil {
			return Law{}, err
		}
		x, y := math.Log(float64(one.Pressure/ReferencePressure)), math.Log(float64(one.Solids))
		trust[0] += w
		trust[1] += w * x
		trust[2] += w * x * x
		right[0] += w * y
		right[1] += w * x * y
	}
	det := trust[0]*trust[2] - trust[1]*trust[1]
	return law([2]float64{(trust[2]*right[0] - trust[1]*right[1]) / det, (trust[0]*right[1] - trust[1]*right[0]) / det}, trust), nil
}
