// Package beating is what is worked out before the beater is loaded: how many
// loads, how much fibre and water in each, how thick that is, and how long a
// fibre is beaten for a use.
//
// Assumed: masses are bone-dry fibre, volumes are the water put in; a litre of
// stock is taken as a litre of water, which at 50 g/L is 3 % too thick at
// most. The rating of a beater is what its maker or its owner says it takes.
// Sources: docs/models/beating.md. Missing: how slowness rises with time,
// energy, wear of the bars, and what beating does to the sheet except that
// package fibre knows the shrinkage.
package beating
