// Package ask reads JSON requests strictly and says what they look like.
//
// A Form is one kind of request and its answer. Both have a JSON Schema
// (2020-12) made from the Go types, with the words, ranges and examples that
// types cannot carry added by hand. A request is held against its schema key
// by key, so that one reading names every fault: an unknown key with the
// nearest that exists, a missing one, a text where a number belongs, a key
// given twice. What numbers may be together is asked of the package that
// computes with them.
//
// Missing: requests larger than a megabyte, which no question of the bench is.
package ask
