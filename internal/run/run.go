package run

import (
	"math"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Run is one run as far as it has come.
type Run struct {
	p    Prior
	f    *filter
	n    int
	asks []Ask

	readings []Reading
}

// Ask is a reading that is out of all reason: it is not believed until the
// maker stands by it.
type Ask struct {
	Event int     // its place
	Off   float64 // over what was expected, fraction
	Apart float64 // in standard deviations
}

// Band is a value with the band it falls into nine times in ten.
type Band struct{ Value, Low, High measure.GrammageFormed }

// Start begins a run. Errors: as Prior.Check.
func Start(p Prior) (*Run, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	return &Run{p: p, f: newFilter(p)}, nil
}

// Happen takes the next event. Errors: OutOfRange, Invalid and Infeasible; the
// run is then as before. A correction needs the events before it: use Replay.
func (r *Run) Happen(e Event) error {
	if _, ok := e.(Corrected); ok {
		return fault.Invalid("event", "A correction changes what went before: the run is followed again from its start.")
	}
	return r.happen(e)
}

func (r *Run) happen(e Event) error {
	if e != nil {
		if err := e.happen(r, r.n); err != nil {
			return err
		}
	}
	r.n++
	return nil
}

// Replay follows a run from its start through its events; a corrected event
// counts as corrected from its own place on. Errors: as Happen.
func Replay(p Prior, events []Event) (*Run, error) {
	r, err := Start(p)
	if err != nil {
		return nil, err
	}
	put := make([]Event, len(events))
	copy(put, events)
	for i, e := range events {
		c, ok := e.(Corrected)
		if !ok {
			continue
		}
		if c.Event < 0 || c.Event >= i {
			return nil, fault.Invalid("event", "A correction must name an event before it, from 0 to %d; this says %d.", i-1, c.Event)
		}
		_, of := put[c.Event].(Corrected)
		if _, by := c.By.(Corrected); of || by {
			return nil, fault.Invalid("event", "Correct the event itself, not its correction.")
		}
		put[c.Event] = c.By
	}
	for _, e := range put {
		if err := r.happen(e); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// Clone is a run that stands where this one does and goes on by itself.
func (r *Run) Clone() *Run {
	c := *r
	c.f, c.asks, c.readings = r.f.clone(), slices.Clone(r.asks), slices.Clone(r.readings)
	return &c
}

// Asks are the readings to ask about.
func (r *Run) Asks() []Ask { return r.asks }

// Pulled is how many sheets have been couched.
func (r *Run) Pulled() int { return r.f.pulled() }

// Sheet is what a sheet weighs, as far as is known by now.
func (r *Run) Sheet(n int) (Band, error) {
	if n < 1 || n > r.f.pulled() {
		return Band{}, fault.OutOfRange("sheet", "There are sheets 1 to %d; this says %d.", r.f.pulled(), n)
	}
	i := sheets + n - 1
	return r.band(r.f.at[i], r.f.cov[i][i]), nil
}

// Next is what the next sheet will weigh if nothing is done before it.
func (r *Run) Next() Band { return r.band(r.f.next(), r.f.nextVariance()) }

// nineInTen is half the width of a band of nine in ten, in standard deviations
// of a normal law.
const nineInTen = 1.6448536

func (r *Run) band(mean, variance float64) Band {
	g, wide := math.Exp(mean)/float64(r.p.Area), math.Exp(nineInTen*math.Sqrt(max(0, variance)))
	return Band{measure.GrammageFormed(g), measure.GrammageFormed(g / wide), measure.GrammageFormed(g * wide)}
}

// Vat is the fibre and the water that are in the vat now.
func (r *Run) Vat() (measure.Mass, measure.Volume) {
	return measure.Mass(math.Exp(r.f.at[fibre])), measure.Volume(math.Exp(r.f.at[water]))
}

// Lesson is what a run leaves for the beliefs.
type Lesson struct {
	Depth   Learnt // mean effective depth of the run, mm
	Carried Learnt // water carried off with a gram of couched solids, L
	Weighed int    // sheets it rests on
}

// Learnt is the logarithm of a quantity, with its standard deviation.
type Learnt struct{ Log, Doubt float64 }

// Over is what alone moved a quantity from what was believed before: the
// evidence of a run without its prior, so that a belief can take it once. False
// where nothing worth a hundredth of the prior was said.
func (l Learnt) Over(before Learnt) (Learnt, bool) {
	after, prior := 1/(l.Doubt*l.Doubt), 1/(before.Doubt*before.Doubt)
	said := after - prior
	if !(said > prior/100) {
		return Learnt{}, false
	}
	return Learnt{(l.Log*after - before.Log*prior) / said, 1 / math.Sqrt(said)}, true
}

// Lesson sums the run up.
func (r *Run) Lesson() Lesson {
	half := -float64(r.f.pulled()) / 2
	return Lesson{
		Depth:   r.learnt(r.f.at[depth]+half*r.f.at[drift], term{depth, 1}, term{drift, half}),
		Carried: r.learnt(r.f.at[offing], term{offing, 1}),
		Weighed: r.f.weighed,
	}
}

func (r *Run) learnt(log float64, of ...term) Learnt {
	return Learnt{log, math.Sqrt(r.f.variance(of))}
}

// Forgotten is a recharge that was noted and, by the weighings since, probably
// not poured.
type Forgotten struct {
	Event, Before int     // its place, and the sheet it was noted before
	Chance        float64 // that some recharge was not poured
}

// Forgotten returns the recharge that most looks as if it were not poured, and
// the chance that any was. Each is weighed against none: by how much nearer the
// weighings lie to what they would be without it.
func (r *Run) Forgotten() Forgotten {
	if len(r.f.doses) == 0 {
		return Forgotten{}
	}
	best := 0
	for j, s := range r.f.said {
		if s > r.f.said[best] {
			best = j
		}
	}
	sum := 0.0
	for _, s := range r.f.said {
		sum += math.Exp(s - r.f.said[best])
	}
	odds := r.p.Forgetting / (1 - r.p.Forgetting) * sum / float64(len(r.f.said)) * math.Exp(min(r.f.said[best], 500))
	d := r.f.doses[best]
	return Forgotten{d.event, d.before, odds / (1 + odds)}
}
