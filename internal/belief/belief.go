// Package belief holds what a studio knows of each uncertain coefficient: a
// prior from the handbook with its source and grade, the studio's own
// observations, and the posterior that is used everywhere.
//
// One mechanism serves all. On a link scale (plain, root, logarithm, logit) a
// value is the handbook's centre, plus what is peculiar to this studio, plus
// what is peculiar to this making. What is peculiar to the studio is a sum of
// named effects (its fibre, its mould, the way it dries, this very paper), so
// that a making of one paper lends evidence to others by what they have in
// common, blends by their parts. All is normal, and how far makings scatter is
// itself uncertain: normal-inverse-gamma, so that the posterior is closed form
// and the next making's value Student's t. Shares counted out of so many are
// beta, also closed form, with the sheets of one making counted for less than
// as many separate trials, because they share its fate.
// Sources: docs/models/belief.md. Missing: drift with time, odd observations
// found out by themselves.
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
//
// Centre, Scatter and Effects are those of the belief it was made under, so
// that it bears on others of its kind too. Without effects it bears on the
// belief it is kept under alone, by what that is now.
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
	Centre   float64   `json:"centre"`             // the handbook's, on the link scale
	Scatter  float64   `json:"scatter"`            // sd from making to making, on the link scale
	Effects  []Effect  `json:"effects,omitempty"`  // what the studio's own value was made of
}

// Effect is one thing that the studio's own value hangs on: before any evidence
// a standard normal number, of which one makes Weight. Two values with an
// effect of one name have it in common. The name reads on: "making of other
// papers of abaca".
type Effect struct {
	Name   string  `json:"name"`
	Weight float64 `json:"weight"`
}

// Pin is a value the maker fixed.
type Pin struct {
	Value float64
	Grade source.Grade
	Why   string
}

// Belief is one coefficient. Key is kind/context, such as
// "effective depth/western/abaca 100, 6 h".
type Belief struct {
	Key     string
	Name    string  // plain words
	Unit    string  // of Value as computed: fractions have none
	Link    Link    //
	Mean    float64 // prior mean on the link scale; unused for Count
	SD      float64 // prior sd of the studio's own value, link scale
	Making  float64 // sd from making to making, link scale; for Count the correlation within a making
	Degrees float64 // of how many makings the stated spreads are worth; 0: they are certain
	// What of the studio's own value is shared with other beliefs of the kind,
	// in parts of SD, the nearest first; the rest is this belief's own.
	Effects []Effect
	A, B    float64 // Count: prior beta parameters
	Latent  string  // what it shares its draws with, such as "beating degree"
	Corr    float64 // correlation with the latent
	Source  string  // source key of the prior
	Grade   source.Grade
	// What a value can be at all, to which draws are held: the tail of a wide
	// law reaches where no formula holds. Most 0: anything.
	Least, Most float64
	Seen        []Observation // of this very belief
	Pin         *Pin

	pool *pool // the evidence of its kind, from With
	met  *law  // what that makes of this belief
}

// Degrees is of how many makings a stated spread is worth: it is known to about
// a quarter. From memory, like the spreads.
const Degrees = 10

// z95 is the 95 % point of the standard normal, the half width of a 90 % band.
const z95 = 1.6448536269514722

// FromBand returns a belief whose prior for the next making has the given
// median and 90 % band on the given link, of which the share making of the
// variance is making to making.
func FromBand(link Link, median, low, high, making float64) Belief {
	b := Belief{Link: link, Degrees: Degrees}
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

// counts reports whether an observation counts.
func (b Belief) counts(o Observation) bool { return b.Link.holds(o) }

// holds reports whether an observation counts: it was not left out, and it is
// a number the link scale can hold. A share of nought or of all is none on the
// logit scale, nor is nought on the logarithmic one.
func (l Link) holds(o Observation) bool {
	if l == Count {
		return o.Excluded == "" && o.Trials > 0 && o.Hits >= 0 && o.Hits <= o.Trials && !math.IsInf(o.Trials, 1)
	}
	x := l.To(o.Value) + o.SD
	return o.Excluded == "" && o.SD >= 0 && !math.IsNaN(x) && !math.IsInf(x, 0)
}

// Posterior returns mean and sd of the studio's own value on the link scale
// after the evidence. The sd is the band's half width over 1.645, as that of
// Next: what it is for a normal law.
//
// Count beliefs have none on a link scale: use Beta.
func (b Belief) Posterior() (mean, sd float64) {
	l := b.law()
	return l.mean, l.own
}

// Next returns mean and sd on the link scale of the next making's value.
func (b Belief) Next() (mean, sd float64) {
	l := b.law()
	return l.mean, math.Hypot(l.own, l.making)
}

// Grounds returns the source and grade the belief now rests on: a pin's, the
// studio's own once it was measured and the evidence outweighs the prior, else
// the prior's. What other papers lend alone makes nothing measured.
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

// evidence returns the share of the posterior that observations make.
func (b Belief) evidence() float64 {
	if b.Link == Count {
		a, c := b.Beta()
		return 1 - (b.A+b.B)/(a+c)
	}
	return b.law().evidence
}
