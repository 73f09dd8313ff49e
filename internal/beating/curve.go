package beating

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/num"
)

// Reading is the slowness of a handful of stock taken from the beater.
type Reading struct {
	At    measure.Hours // of beating until then
	Value float64       // on the curve's scale: corrected seconds, °SR or mL CSF
}

// noiseWeight is for how many readings the remembered scatter of the readings
// stands: it is known to about a third.
const noiseWeight = 8

// Curve is how the slowness of one load rises with the hours:
//
//	logit(SR/100) = p + q·t,  −logit(CSF/1000) = p + q·t,  ln(seconds) = p + q·t
//
// with p, q and the scatter of a reading uncertain together, from the rate
// that is expected and the readings so far. A curve is a value: With returns
// another.
type Curve struct {
	scale scale
	known num.Posterior
	rate  Rate // before any reading
	last  measure.Hours
	count int
}

// NewCurve returns the curve before any reading: started from what unbeaten
// stock drains like, and rising at the rate given, which is HandbookRate or
// what this studio's earlier runs of the fibre in the same machine had.
func NewCurve(s Scale, r Rate) (Curve, error) {
	sc, err := s.of()
	if err != nil {
		return Curve{}, err
	}
	if !measure.Within(r.Mean, -100, 100) || !measure.Within(r.SD, 1e-4, 100) {
		return Curve{}, fault.OutOfRange("rate", "a rate must be between -100 and 100 an hour, its spread between 0.0001 and 100")
	}
	return newCurve(sc, sc.startSD, r)
}

func newCurve(sc scale, startSD float64, r Rate) (Curve, error) {
	known, err := num.NewPosterior([]float64{sc.line(sc.start), r.Mean}, num.Independent(startSD, r.SD), noiseWeight/2, noiseWeight/2)
	if err != nil {
		return Curve{}, fault.Invalid("rate", "no curve can be drawn with this rate")
	}
	return Curve{sc, known, r, 0, 0}, nil
}

// With returns the curve with one more reading, in any order.
func (c Curve) With(r Reading) (Curve, error) {
	err := fault.First(
		measure.Inside("at", "the beating until a reading", r.At, 0, fibre.MostHours, "h"),
		c.scale.check("value", r.Value))
	if err != nil {
		return c, err
	}
	// a row divided by its own scatter, so that the variance of all is near 1
	sd := c.scale.sd(r.Value)
	known, err := c.known.Observe([]float64{1 / sd, float64(r.At) / sd}, c.scale.line(r.Value)/sd)
	if err != nil {
		return c, fault.Invalid("value", "no curve can be drawn through this reading")
	}
	c.known, c.last, c.count = known, max(c.last, r.At), c.count+1
	return c, nil
}

// Readings returns how many readings the curve rests on.
func (c Curve) Readings() int { return c.count }

// Rate returns how fast slowness rises, as known now.
func (c Curve) Rate() Rate {
	q := c.known.At([]float64{0, 1})
	return Rate{q.Mu, q.Sigma}
}

// RunRate returns the rate of one finished run from its readings alone, what
// a studio keeps of it for the next run of the same fibre in the same machine.
func RunRate(s Scale, readings []Reading) (Rate, error) {
	sc, err := s.of()
	if err != nil {
		return Rate{}, err
	}
	c, err := newCurve(sc, 100, Rate{0, 100}) // so wide that only the readings count
	apart := false
	for _, r := range readings {
		if err != nil {
			return Rate{}, err
		}
		apart = apart || r.At != readings[0].At
		c, err = c.With(r)
	}
	if err != nil {
		return Rate{}, err
	}
	if !apart {
		return Rate{}, fault.Invalid("readings", "a rate needs readings at two different times")
	}
	return c.Rate(), nil
}

// Band is a reading to be expected: the middle, and the band of nine in ten.
type Band struct{ Low, Mid, High float64 }

// At returns the slowness after so many hours, on the curve's scale: where the
// curve runs, not what a single test may give.
//
// Contract:
//
//   - Quantity: slowness on the curve's scale, with its nine-in-ten band
//   - Inputs: hours of beating, h
//   - Valid: 0 to 24 h; outside: fault.OutOfRange
//   - Assumes: one load, one roll schedule; a straight line on the scale
//   - Error: the band; over a wide span the true curve bends by a few degrees
//   - Source: derived, docs/models/beating.md
//   - Checked: coverage by simulation (TestCurveCovers); property: stays inside the scale
func (c Curve) At(hours measure.Hours) (Band, error) {
	if err := measure.Inside("hours", "beating", hours, 0, fibre.MostHours, "h"); err != nil {
		return Band{}, err
	}
	y := c.known.At([]float64{1, float64(hours)})
	back := func(x float64) float64 { return min(c.scale.back(x), c.scale.end()) }
	half := y.Quantile(0.95) - y.Mu
	b := Band{back(y.Mu - half), back(y.Mu), back(y.Mu + half)}
	if c.scale.falls {
		b.Low, b.High = b.High, b.Low
	}
	return b, nil
}

// Left is how much longer to beat.
type Left struct {
	Low, Mid, High measure.Hours // from the last reading on; the band of nine in ten
	Open           bool          // the later end is not in sight: High is where the sight ends, 24 h of beating
	Expected       measure.Share // how much of the rate is still what was expected before any reading: 1 all, 0 nothing
}

// OnExpectation reports whether the time rests on the expected rate more than
// on the readings, which must be said beside it.
func (l Left) OnExpectation() bool { return l.Expected > 0.5 }

// TimeTo returns how much longer to beat until the curve reaches a slowness.
//
//	P(reached by t) = P(p + q·t ≥ target), a Student t
//
// Contract:
//
//   - Quantity: hours from the last reading on, with their nine-in-ten band
//   - Inputs: target slowness on the curve's scale
//   - Valid: 0.5 to 36,000 s, 10 to 90 °SR, 30 to 850 mL CSF; outside: fault.OutOfRange
//   - Assumes: the same load, roll and bars to the end; slowness never falls, so what is reached stays so
//   - Error: the band; with readings at 0, 40 and 80 % of the way −9 to +11 % of the whole time, nine in ten
//   - Source: derived, docs/models/beating.md
//   - Checked: simulation (TestTimeToErrors) against docs/models/beating.md; property: no more time for a nearer target
func (c Curve) TimeTo(target float64) (Left, error) {
	if err := c.scale.check("target", target); err != nil {
		return Left{}, err
	}
	m, cov := c.known.Mean(), c.known.Cov()
	a, b := c.known.Noise()
	// how far the curve runs over the target at time t, and how surely
	over := func(t float64) (middle, sd float64) {
		spread := cov.At(0, 0) + 2*t*cov.At(0, 1) + t*t*cov.At(1, 1)
		return m[0] + m[1]*t - c.scale.line(target), math.Sqrt(b / a * spread)
	}
	away := distuv.StudentsT{Sigma: 1, Nu: 2 * a}.Quantile(0.95)
	l := Left{Expected: measure.Share(cov.At(1, 1) / (c.rate.SD * c.rate.SD))}
	l.Low, _ = c.reach(over, -away)
	l.Mid, _ = c.reach(over, 0)
	var seen bool
	l.High, seen = c.reach(over, away)
	l.Open = !seen
	return l, nil
}

// reach returns the time from the last reading until the curve runs so many
// standard deviations over the target, and whether that is in sight. From the
// last reading on the chance of it rises, or falls and then rises: it crosses
// the one asked for once.
func (c Curve) reach(over func(t float64) (middle, sd float64), away float64) (measure.Hours, bool) {
	reached := func(t float64) bool {
		middle, sd := over(t)
		return middle >= away*sd
	}
	low, high := float64(c.last), float64(fibre.MostHours)
	if reached(low) {
		return 0, true
	}
	if !reached(high) {
		return measure.Hours(high) - c.last, false
	}
	for range 40 { // 24 h to a tenth of a microsecond
		if mid := (low + high) / 2; reached(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return measure.Hours(high) - c.last, true
}
