// Package belief holds what a studio knows of each uncertain coefficient: a
// prior from the handbook with its source and grade, the studio's own
// observations, and the posterior that is used everywhere.
//
// One mechanism serves all. On a link scale (plain, root, logarithm, logit)
// the studio's own value is normal around the prior, and each making's value
// is normal around the studio's; both spreads are stated, so the posterior is
// closed form. Shares counted out of so many are beta, also closed form, with
// the sheets of one making counted for less than as many separate trials,
// because they share its fate.
// Sources: docs/models/belief.md. Missing: sharing of evidence between fibres
// and papers, spreads learned rather than stated.
package belief

import (
	"math"
	"time"

	"vatside/internal/source"
)

// Link is the scale on which a belief is normal; Count marks a beta belief.
type Link string

// The links.
const (
	Plain Link = "plain" // any number
	Root  Link = "root"  // not negative, may be close to 0: normal in the square root
	Log   Link = "log"   // positive numbers, spread by a factor
	Logit Link = "logit" // fractions between 0 and 1
	Count Link = "count" // a share counted as so many of so many: beta
)

// Observation is one piece of evidence from one making. Of a Count belief,
// Hits of Trials; else Value with its own standard deviation on the link
// scale (0: exact but for the making's own spread). One making gives at most
// one observation of a belief: its summary.
type Observation struct {
	ID       string    `json:"id"`
	Making   string    `json:"making"`
	Belief   string    `json:"belief"` // full key
	Value    float64   `json:"value"`
	SD       float64   `json:"sd"`
	Hits     float64   `json:"hits"`
	Trials   float64   `json:"trials"`
	At       time.Time `json:"at"`
	Excluded string    `json:"excluded,omitempty"` // the reason, when left out
}

// Pin is a value the maker fixed.
type Pin struct {
	Value float64
	Grade source.Grade
	Why   string
}

// Belief is one coefficient. Key is kind/context, such as
// "effective depth/western/a3 mould".
type Belief struct {
	Key    string
	Name   string  // plain words
	Unit   string  // of Value as computed: fractions have none
	Link   Link    //
	Mean   float64 // prior mean on the link scale; unused for Count
	SD     float64 // prior sd of the studio's own value, link scale
	Making float64 // sd from making to making, link scale; for Count the correlation within a making
	A, B   float64 // Count: prior beta parameters
	Latent string  // what it shares its draws with, such as "beating degree"
	Corr   float64 // correlation with the latent
	Source string  // source key of the prior
	Grade  source.Grade
	Seen   []Observation
	Pin    *Pin
}

// Known is a studio's evidence and its pins, by belief key.
type Known struct {
	Seen map[string][]Observation
	Pins map[string]Pin
}

// With returns the belief with what the studio knows of it.
func (b Belief) With(k Known) Belief {
	b.Seen = k.Seen[b.Key]
	if p, ok := k.Pins[b.Key]; ok {
		b.Pin = &p
	}
	return b
}

// z95 is the 95 % point of the standard normal, the half width of a 90 % band.
const z95 = 1.6448536269514722

// FromBand returns a belief whose prior for the next making has the given
// median and 90 % band on the given link, of which the share making of the
// variance is making to making.
func FromBand(link Link, median, low, high, making float64) Belief {
	b := Belief{Link: link}
	b.Mean = b.To(median)
	total := (b.To(high) - b.To(low)) / (2 * z95)
	b.Making = total * math.Sqrt(making)
	b.SD = total * math.Sqrt(1-making)
	return b
}

// FromCounts returns a Count belief worth a earlier hits and b earlier misses,
// with the correlation rho of sheets within one making.
func FromCounts(a, b, rho float64) Belief { return Belief{Link: Count, A: a, B: b, Making: rho} }

// To takes a value to the link scale.
func (b Belief) To(v float64) float64 { return b.Link.To(v) }

// From takes a link-scale number back to a value.
func (b Belief) From(x float64) float64 { return b.Link.From(x) }

// To takes a value to the link scale.
func (l Link) To(v float64) float64 {
	switch l {
	case Root:
		return math.Sqrt(max(v, 0))
	case Log:
		return math.Log(v)
	case Logit:
		return math.Log(v / (1 - v))
	default:
		return v
	}
}

// From takes a link-scale number back to a value.
func (l Link) From(x float64) float64 {
	switch l {
	case Root:
		if x < 0 {
			return 0
		}
		return x * x
	case Log:
		return math.Exp(x)
	case Logit:
		return 1 / (1 + math.Exp(-x))
	default:
		return x
	}
}

// Count returns how many observations count.
func (b Belief) Count() int {
	n := 0
	for _, o := range b.Seen {
		if b.counts(o) {
			n++
		}
	}
	return n
}

// counts reports whether an observation counts: it was not left out, and it is
// a number the link scale can hold. A share of nought or of all is none on the
// logit scale, nor is nought on the logarithmic one.
func (b Belief) counts(o Observation) bool {
	if b.Link == Count {
		return o.Excluded == "" && o.Trials > 0 && o.Hits >= 0 && o.Hits <= o.Trials && !math.IsInf(o.Trials, 1)
	}
	x := b.To(o.Value) + o.SD
	return o.Excluded == "" && o.SD >= 0 && !math.IsNaN(x) && !math.IsInf(x, 0)
}

// Posterior returns mean and sd of the studio's own value on the link scale
// after its observations: precisions add.
//
// Count beliefs have none on a link scale: use Beta.
func (b Belief) Posterior() (mean, sd float64) {
	precision := 1 / (b.SD * b.SD)
	weighted := b.Mean * precision
	if b.SD == 0 {
		return b.Mean, 0
	}
	for _, o := range b.Seen {
		if !b.counts(o) {
			continue
		}
		p := 1 / (b.Making*b.Making + o.SD*o.SD + tiny)
		precision += p
		weighted += b.To(o.Value) * p
	}
	return weighted / precision, 1 / math.Sqrt(precision)
}

// tiny keeps an observation said to be exact from an infinite weight.
const tiny = 1e-12

// Beta returns the posterior beta parameters of a Count belief. Each making's
// counts are discounted by 1 + (trials − 1)·rho, the design effect of sheets
// that share a making (Kish 1965).
func (b Belief) Beta() (alpha, beta float64) {
	alpha, beta = b.A, b.B
	for _, o := range b.Seen {
		if !b.counts(o) {
			continue
		}
		w := 1 / (1 + max(o.Trials-1, 0)*b.Making)
		alpha += o.Hits * w
		beta += (o.Trials - o.Hits) * w
	}
	return alpha, beta
}

// NextBeta returns the beta parameters of the next making's own share: the
// posterior widened by the spread from making to making, moments matched.
func (b Belief) NextBeta() (alpha, beta float64) {
	a, c := b.Beta()
	mean := a / (a + c)
	between := mean * (1 - mean) / (a + c + 1)
	within := b.Making * (mean*(1-mean) - between)
	size := mean*(1-mean)/(between+within) - 1
	return mean * size, (1 - mean) * size
}

// Next returns mean and sd on the link scale of the next making's value.
func (b Belief) Next() (mean, sd float64) {
	m, s := b.Posterior()
	return m, math.Hypot(s, b.Making)
}

// Grounds returns the source and grade the belief now rests on: a pin's, the
// studio's own once its evidence outweighs the prior, else the prior's.
func (b Belief) Grounds() (sourceKey string, grade source.Grade) {
	switch {
	case b.Pin != nil:
		return "maker", b.Pin.Grade
	case b.Count() > 0 && b.evidence() >= 0.5:
		return "maker", source.Measured
	default:
		return b.Source, b.Grade
	}
}

// evidence returns the share of the posterior that the studio's own
// observations make.
func (b Belief) evidence() float64 {
	if b.Link == Count {
		a, c := b.Beta()
		return 1 - (b.A+b.B)/(a+c)
	}
	_, s := b.Posterior()
	return 1 - s*s/(b.SD*b.SD)
}
