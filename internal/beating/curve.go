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
// that is expected and the readings so far. A curve is a value, made by
// NewCurve; With returns another.
//
// A rate is known by a factor, so that the prior of q is a small family of
// normal-inverse-gamma laws, each for a rate some steps slower or faster, and
// a reading shifts weight between them as well as within: a load that beats
// three times as fast as the handbook has it is not held back by it.
type Curve struct {
	scale  scale
	family []member
	rate   Rate // before any reading
	last   measure.Hours
	count  int
}

type member struct {
	known  num.Posterior
	weight float64 // all add up to 1
}

// The family of a rate whose logarithm has the spread s: members from three
// steps slower to three steps faster, a step of 0.8 s, each with 0.6 s of its
// own, so that all together have s (0.8² + 0.6² = 1).
const (
	familySteps = 3
	familyStep  = 0.8
	familyOwn   = 0.6
)

// NewCurve returns the curve before any reading: started from what unbeaten
// stock drains like, and rising at the rate given, which is HandbookRate or
// what this studio's earlier runs of the fibre in the same machine had.
func NewCurve(s Scale, r Rate) (Curve, error) {
	sc, err := s.of()
	if err != nil {
		return Curve{}, err
	}
	if !measure.Within(r.Mid, 1e-4, 100) || !measure.Within(r.Spread, 0.01, 1) {
		return Curve{}, fault.OutOfRange("rate", "a rate must be between 0.0001 and 100 an hour, its spread between 0.01 and 1")
	}
	c := Curve{scale: sc}
	var all float64
	for k := -familySteps; k <= familySteps; k++ {
		mid := r.Mid * math.Exp(float64(k)*familyStep*r.Spread)
		known, err := lawOf(sc, sc.startSD, mid, mid*familyOwn*r.Spread)
		if err != nil {
			return Curve{}, err
		}
		c.family = append(c.family, member{known, math.Exp(-float64(k*k) / 2)})
		all += c.family[len(c.family)-1].weight
	}
	for i := range c.family {
		c.family[i].weight /= all
	}
	c.rate = c.Rate()
	return c, nil
}

func lawOf(sc scale, startSD, rate, rateSD float64) (num.Posterior, error) {
	known, err := num.NewPosterior([]float64{sc.line(sc.start), rate}, num.Independent(startSD, rateSD), noiseWeight/2, noiseWeight/2)
	if err != nil {
		return num.Posterior{}, fault.Invalid("rate", "no curve can be drawn with this rate")
	}
	return known, nil
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
	x, y := []float64{1 / sd, float64(r.At) / sd}, c.scale.line(r.Value)/sd
	family, likely, most := make([]member, len(c.family)), make([]float64, len(c.family)), math.Inf(-1)
	for i, m := range c.family {
		likely[i] = math.Log(m.weight) + m.known.Next(x).LogProb(y)
		most = max(most, likely[i])
		if family[i].known, err = m.known.Observe(x, y); err != nil {
			return c, fault.Invalid("value", "no curve can be drawn through this reading")
		}
	}
	var all float64
	for i := range family {
		family[i].weight = math.Exp(likely[i] - most)
		all += family[i].weight
	}
	for i := range family {
		// a member never goes out quite: a later reading may call it back
		family[i].weight = max(family[i].weight/all, 1e-12)
	}
	c.family, c.last, c.count = family, max(c.last, r.At), c.count+1
	return c, nil
}

// Readings returns how many readings the curve rests on.
func (c Curve) Readings() int { return c.count }

// Rate returns how fast slowness rises, as known now.
func (c Curve) Rate() Rate {
	var mean, square float64
	for _, m := range c.family {
		q := m.known.At([]float64{0, 1})
		mean += m.weight * q.Mu
		square += m.weight * (q.Mu*q.Mu + q.Sigma*q.Sigma)
	}
	return Rate{mean, math.Sqrt(square-mean*mean) / mean}
}

// RunRate returns the rate of one finished run from its readings alone, what
// a studio keeps of it for the next run of the same fibre in the same machine.
func RunRate(s Scale, readings []Reading) (Rate, error) {
	sc, err := s.of()
	if err != nil {
		return Rate{}, err
	}
	vague, err := lawOf(sc, 100, 0, 100) // so wide that only the readings count
	c := Curve{scale: sc, family: []member{{vague, 1}}}
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
	if r := c.Rate(); r.Mid > 0 {
		return r, nil
	}
	return Rate{}, fault.Invalid("readings", "the readings show no rise: leave this run out")
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
	laws := make([]distuv.StudentsT, len(c.family))
	low, high := math.Inf(1), math.Inf(-1)
	for i, m := range c.family {
		laws[i] = m.known.At([]float64{1, float64(hours)})
		low, high = min(low, laws[i].Mu-9*laws[i].Sigma), max(high, laws[i].Mu+9*laws[i].Sigma)
	}
	value := func(chance float64) float64 {
		x := crossing(low, high, func(x float64) float64 {
			below := -chance
			for i, m := range c.family {
				below += m.weight * laws[i].CDF(x)
			}
			return below
		})
		return min(c.scale.back(x), c.scale.end())
	}
	b := Band{value(0.05), value(0.5), value(0.95)}
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
//	P(reached by t) = P(p + q·t ≥ target), of Student's laws
//
// Contract:
//
//   - Quantity: hours from the last reading on, with their nine-in-ten band
//   - Inputs: target slowness on the curve's scale
//   - Valid: 0.5 to 36,000 s, 10 to 90 °SR, 30 to 850 mL CSF; outside: fault.OutOfRange
//   - Assumes: the same load, roll and bars to the end; slowness never falls, so what is reached stays so
//   - Error: the band; with readings at 0, 40 and 80 % of the way −9 to +12 % of the whole time, nine in ten
//   - Source: derived, docs/models/beating.md
//   - Checked: simulation (TestTimeToErrors) against docs/models/beating.md; property: no more time for a nearer target
func (c Curve) TimeTo(target float64) (Left, error) {
	if err := c.scale.check("target", target); err != nil {
		return Left{}, err
	}
	reached := c.reached(c.scale.line(target))
	from, end := float64(c.last), float64(fibre.MostHours)
	after := func(chance float64) measure.Hours {
		return measure.Hours(crossing(from, end, func(t float64) float64 { return reached(t) - chance }) - from)
	}
	now := c.Rate().Spread / c.rate.Spread
	return Left{after(0.05), after(0.5), after(0.95), reached(end) < 0.95, measure.Share(min(1, now*now))}, nil
}

// reached returns the chance that the curve has come to a goal by a time.
func (c Curve) reached(goal float64) func(t float64) float64 {
	type law struct{ p, q, pp, pq, qq, weight, nu float64 }
	laws := make([]law, len(c.family))
	for i, m := range c.family {
		mean, cov := m.known.Mean(), m.known.Cov()
		a, b := m.known.Noise()
		laws[i] = law{mean[0] - goal, mean[1], cov.At(0, 0) * b / a, cov.At(0, 1) * b / a, cov.At(1, 1) * b / a, m.weight, 2 * a}
	}
	return func(t float64) float64 {
		var chance float64
		for _, l := range laws {
			sd := math.Sqrt(l.pp + 2*t*l.pq + t*t*l.qq)
			chance += l.weight * distuv.StudentsT{Sigma: 1, Nu: l.nu}.CDF((l.p+l.q*t)/sd)
		}
		return chance
	}
}

// crossing returns where a rising function comes to nought between low and
// high, by false position with the Illinois rule: low where it is above nought
// already, high where it never is.
func crossing(low, high float64, over func(float64) float64) float64 {
	below, above := over(low), over(high)
	if below >= 0 {
		return low
	}
	if above < 0 {
		return high
	}
	for range 100 {
		mid := (low*above - high*below) / (above - below)
		if !(mid > low && mid < high) {
			mid = (low + high) / 2
		}
		switch f := over(mid); {
		case math.Abs(f) < 1e-7: // of a chance
			return mid
		case f > 0:
			high, above = mid, f
			below /= 2
		default:
			low, below = mid, f
			above /= 2
		}
	}
	return high
}
