// Package costing sums what one making costs and what a good sheet must
// therefore bring.
//
// It models labour by the hour, material by the kilogram, an overhead as a
// share of both, and the sheets that have to pay for those that are lost.
//
// Assumed: one rate of pay for all hours; price per kilogram as bought, so the
// mass is as bought too. Sums are plain numbers in the studio's currency; only
// for showing and storing are they rounded to its smallest coin. Sources:
// docs/models/costing.md. Missing: taxes, wear of equipment by the hour, the
// price a customer will pay, several currencies in one sum.
package costing
