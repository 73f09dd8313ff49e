// Package costing sums what one making costs and what a good sheet must
// therefore bring.
//
// It models labour by the hour, material by the kilogram as it lies, an overhead
// as a share of both or by the hour, the sheets that have to pay for those that
// are lost, what faulty sheets bring back, and the least that a run must be.
//
// Estimates are plain numbers in the studio's currency. What is charged is whole
// smallest coins: Break rounds each line by itself and adds the rounded lines, so
// that a printed column and the shares of the sheets add up to the coin.
//
// Assumed: one rate of pay for all hours; price per kilogram as bought, so the
// mass is as bought too, or AsItLies converts. Sources: docs/models/costing.md.
// Missing: taxes, the price a customer will pay, several currencies in one sum.
package costing
