// Package figure makes numbers that are never bare: a figure has a value, a
// band, a unit, what it rests on, and its sum, the lines of arithmetic that
// made it.
//
// Formulas elsewhere stay plain functions of typed numbers. A Book composes
// them column by column over some thousand seeded draws, and band, basis and
// sum come from there, in one place. What is missing: figures that depend on
// a search over plans; a decision is one number chosen by a stated rule.
package figure

import "vatside/internal/source"

// Kind tells a number we choose from one the world will answer.
type Kind string

// The two kinds of figure.
const (
	Decision Kind = "decision" // one number chosen so that the brief's confidence is kept
	Outcome  Kind = "outcome"  // what will come, with a 90 % band
)

// Line is one line of a sum: what it is, the arithmetic with the numbers in
// it, its result with unit, and where it comes from.
type Line struct {
	What    string `json:"what"`
	Working string `json:"working"`
	Result  string `json:"result"`
	Source  string `json:"source,omitempty"`
	Grade   string `json:"grade,omitempty"`
	Note    string `json:"note,omitempty"`
}

// Figure is a number with its unit, band, basis and sum. Of a decision Low and
// High equal Value, and ExpectedLow and ExpectedHigh say what will probably be
// used; of an outcome Low and High are a 90 % band.
type Figure struct {
	Name         string       `json:"-"`
	Kind         Kind         `json:"kind"`
	Value        float64      `json:"value"`
	Low          float64      `json:"low"`
	High         float64      `json:"high"`
	Unit         string       `json:"unit"`
	Basis        source.Grade `json:"basis"`
	ExpectedLow  *float64     `json:"expected_low,omitempty"`
	ExpectedHigh *float64     `json:"expected_high,omitempty"`
	Sum          []Line       `json:"sum"`
}

// Certain reports whether the figure has no band worth showing.
func (f Figure) Certain() bool { return f.Low == f.High && f.ExpectedLow == nil }
