// Package studio holds the records of one studio and the use cases on them:
// papers and their revisions, briefs, makings, what happened in a making, and
// what was learned from it.
//
// Standing assumptions: what is counted and weighed is appended as it happened
// and never edited (a correction points at what it corrects); the state of a
// making is nothing but the replay of its events; personal data of customers
// stands apart, so that it can be erased; the clock is passed in. The rules
// are written down in docs/models/record.md. Missing: orders with money, the
// store of fibres, days and classes.
package studio
