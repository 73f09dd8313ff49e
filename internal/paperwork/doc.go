// Package paperwork prints what a studio takes to the bench: the making card.
//
// It sets type and rules lines; it does no papermaking sums. A Card holds
// finished strings, counts and the rows of tables; FromPlan makes one out of
// a plan, and WritePDF sets it on A4 or Letter. A card is meant to be worked
// from without a screen: what is needed at the vat is readable from two
// metres, nothing is said in colour, and every blank is high enough for a
// wet hand with a pencil.
//
// Assumptions: left-to-right scripts. Latin text is set in the studio's own
// typeface, Greek and Cyrillic in a second one; letters that neither holds
// (Chinese, Japanese, Korean, Arabic, Hebrew) print as an open box, and the
// card says so at its foot. Sources: the legibility of large figures, see
// docs/card.md. Missing: price lists, quotes, labels, calendars.
package paperwork
