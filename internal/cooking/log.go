package cooking

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/num"
	"vatside/internal/source"
)

// Cook is one cook as it was: how hot, how much alkali, and when the strand
// first parted.
type Cook struct {
	Temp   measure.Temperature // of the simmer, °C
	Charge measure.Dose        // alkali on dry fibre
	Done   measure.Hours       // from the simmer to the test that passed
}

const (
	// usualSpread is how far apart cooks of one fibre in one studio end, as a
	// standard deviation of the logarithm of hours: a test every half hour
	// alone makes 0.1; 0.1 to 0.35 (source: memory).
	usualSpread = 0.2
	// spreadWeight is how many cooks that counts for (source: memory).
	spreadWeight = 4
	// activationSD is the standard deviation of the activation energy, kJ/mol:
	// 60 to 107.5 as a band of nine in ten.
	activationSD = 14.5
	// chargeSD is how strongly the hours may go with the charge, as a standard
	// deviation of an exponent around none: no source states one, so only the
	// studio's own cooks teach it (source: memory).
	chargeSD = 0.5
)

// Law is what is known of one fibre's hours: from the handbook first, then
// from this studio's own cooks. In logarithms it is a straight line.
type Law struct {
	Hours      source.Value   // at 100 °C and the usual charge, h
	Usual      measure.Dose   // charge that the hours are stated for
	Activation measure.Number // kJ/mol
	ActivSD    measure.Number
	Exponent   measure.Number // of the charge, under none where more alkali is faster
	ExponentSD measure.Number
	Cooks      int // seen

	line num.Posterior
}

// PriorLaw returns the law before this studio has cooked: hours at 100 °C with
// their band, and the charge they are stated for.
func PriorLaw(hours source.Value, usual measure.Dose) (Law, error) {
	if !(hours.Low > 0 && hours.Low <= hours.Mid && hours.Mid <= hours.High && hours.High <= 100) {
		return Law{}, fault.OutOfRange("hours", "the hours of a cook must be between 0 and 100, low, middle and high in order")
	}
	if err := measure.Inside("alkali", "the usual charge", usual, 0.001, MostCharge, "as a fraction"); err != nil {
		return Law{}, err
	}
	// 1.645 standard deviations each way hold nine in ten
	spread := max(0.05, math.Log(hours.High/hours.Low)/(2*1.645))
	v := usualSpread * usualSpread
	line, err := num.NewPosterior(
		[]float64{math.Log(hours.Mid), Activation().Mid, 0},
		num.Independent(spread/usualSpread, activationSD/usualSpread, chargeSD/usualSpread),
		spreadWeight/2, spreadWeight/2*v,
	)
	if err != nil {
		return Law{}, fault.OutOfRange("hours", "the hours of a cook must be between 0 and 100, low, middle and high in order")
	}
	return Law{Usual: usual, line: line}.told(hours.Source, hours.Grade), nil
}

// told reads the coefficients off the line.
func (l Law) told(from string, grade source.Grade) Law {
	at := func(x ...float64) float64 { return l.line.At(x).Sigma }
	m, band := l.line.Mean(), l.line.At([]float64{1, 0, 0})
	l.Hours = source.Value{Low: math.Exp(band.Quantile(0.05)), Mid: math.Exp(m[0]), High: math.Exp(band.Quantile(0.95)), Source: from, Grade: grade}
	l.Activation, l.ActivSD = measure.Number(m[1]), measure.Number(at(0, 1, 0))
	l.Exponent, l.ExponentSD = measure.Number(m[2]), measure.Number(at(0, 0, 1))
	return l
}

// row is a cook as the line takes it.
func (l Law) row(t measure.Temperature, c measure.Dose) []float64 {
	return []float64{1, 1000 / gas * inverse(t), math.Log(float64(c / l.Usual))}
}

func (l Law) check(t measure.Temperature, c measure.Dose) error {
	if l.Usual == 0 {
		return fault.Invalid("law", "the hours of a fibre start from those of a handbook or a recipe")
	}
	return fault.First(
		measure.Inside("temperature", "the liquor", t, 60, 130, "°C"),
		measure.Inside("alkali", "the charge on dry fibre", c, 0.001, MostCharge, "as a fraction"),
	)
}

// After returns the law after this studio's cooks of that fibre and alkali.
func (l Law) After(cooks ...Cook) (Law, error) {
	for _, c := range cooks {
		if err := fault.First(l.check(c.Temp, c.Charge), measure.Inside("hours", "the cook", c.Done, 0.05, 100, "h")); err != nil {
			return Law{}, err
		}
		line, err := l.line.Observe(l.row(c.Temp, c.Charge), math.Log(float64(c.Done)))
		if err != nil {
			return Law{}, fault.OutOfRange("hours", "these cooks cannot be taken together: between 60 and 130 °C, 0.05 and 100 hours")
		}
		l.line, l.Cooks = line, l.Cooks+1
	}
	if len(cooks) == 0 {
		return l, nil
	}
	return l.told(source.KeyStudio, source.Measured), nil
}

// Next returns the hours of the next cook with the band that holds nine in ten.
//
//	ln h ~ Student t around ln h₁₀₀ + E/R (1/T − 1/373.15) + n ln(c / usual)
//
// Contract:
//
//   - Quantity: hours at the simmer until the strand parts; low and high are a 90 % band around mid
//   - Inputs: the law, of PriorLaw and After; t simmer, °C; c charge on dry fibre, a fraction
//   - Valid: t 60 to 130 °C; c 0.001 to 1.5; outside: fault.OutOfRange; a law that starts from nothing: fault.Invalid
//   - Assumes: one fibre, one alkali; scatter from cook to cook is normal in logarithms
//   - Error: the band itself
//   - Source: kenaf-sulphate-pulp for the prior; memory for its scatter; derived
//   - Checked: property: after twelve cooks at three temperatures the rate is off by a third less than before, as far as its own band says; order does not matter; bands hold nine simulated cooks in ten
func (l Law) Next(t measure.Temperature, c measure.Dose) (low, mid, high measure.Hours, err error) {
	if err := l.check(t, c); err != nil {
		return 0, 0, 0, err
	}
	next := l.line.Next(l.row(t, c))
	at := func(share float64) measure.Hours { return measure.Hours(math.Exp(next.Quantile(share))) }
	return at(0.05), measure.Hours(math.Exp(next.Mu)), at(0.95), nil
}
