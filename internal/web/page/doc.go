// Package page is what every page shares: the base it is set on, rendering to
// a buffer, forms that keep what was typed, the short message after an act, and
// how a design is asked for and said.
//
// Pages live in folders below it, one noun each, and import this package and
// part; web alone knows their URLs. Missing: languages other than English.
package page
