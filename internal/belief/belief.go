// Package belief holds what a studio knows of each uncertain coefficient: a
// prior from the handbook with its source and grade, the studio's own
// observations, and the posterior that is used everywhere.
//
// One mechanism serves all. On a link scale (plain, logarithm, logit) the
// studio's own value is normal around the prior, and each making's value is
// normal around the studio's; both spreads are stated, so the posterior is
// closed form. Shares counted out of so many are beta, also closed form.
// Sources: docs/models/belief.md. Missing: sharing of evidence between
// fibres and papers.
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
	Log   Link = "log"   // positive numbers, spread by a factor
	Logit Link = "logit" // fractions between 0 and 1
	Count Link = "count" // a share counted as so many of so many: beta
)

// Observation is one piece of evidence from one making. Of a Count belief,
// Hits of Trials; else Value with its own standard deviation on the link
// scale (0: exact but for the making's own spread).
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

// Belief is one coefficient. Key is kind/context; Median and the band are the
// prior for a studio not yet known; Making is the spread from making to making
// on the link scale.
type Belief struct {
	Key    string
	Name   string
	Unit   string
	Link   Link
	Mean   float64 // prior mean on the link scale
	SD     float64 // prior sd of the studio's own value on the link scale
	Making float64 // sd from making to making on the link scale
	A, B   float64 // Count: prior beta parameters
	Latent string  // what it shares its draws with, such as "beating degree"
	Corr   float64 // correlation with the latent
	Source string
	Grade  source.Grade
	Seen   []Observation
	Pin    *Pin
}

// link takes a value to the link scale.
func (b Belief) link(v float64) float64 {
	switch b.Link {
	case Log:
		return math.Log(v)
	case Logit, Count:
		return math.Log(v / (1 - v))
	default:
		return v
	}
}

// unlink takes a link-scale number back.
func (b Belief) unlink(x float64) float64 {
	switch b.Link {
	case Log:
		return math.Exp(x)
	case Logit, Count:
		return 1 / (1 + math.Exp(-x))
	default:
		return x
	}
}
