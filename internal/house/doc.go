// Package house holds only tests: they read the source and the documents of
// the whole project and fail where a house rule is broken.
//
// The rules are those of CONTRIBUTING.md: layers and imports, the contract of
// every formula, sizes, what the documents must name, and words that do not
// belong in the project. Exemptions stand in one table to each rule, each with
// its reason, and an exemption that is no longer needed fails too. Missing: a
// judge of good prose.
package house
