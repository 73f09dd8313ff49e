// Package beating is what is worked out before and while the beater runs: how
// many loads, which machine takes them, how much fibre and water in each, how
// thick that is; how slowly the stock drains, how slowness rises with the
// hours, and how much longer to beat; where the roll stands, and what to do
// when a machine labours.
//
// Assumed: masses are bone-dry fibre, volumes are the water put in; a litre of
// stock is taken as a litre of water, which at 50 g/L is 3 % too thick at
// most. The rating of a machine is what its maker or its owner says it takes.
// Slowness rises straight on the logit of a tester's scale or the logarithm of
// a drain time. Sources: docs/models/beating.md. Missing: energy, edge load,
// slow wear of the bars, and what beating does to the sheet except that
// package fibre knows the shrinkage.
package beating
