// Package rehearsal plays runs at a vat whose true numbers are hidden from the
// maker, once with every way of recharging, and counts how even the sheets
// come: what a way of working is worth before it costs a sheet.
//
// Hidden are the true depth and its drift over the run, the strength of the
// stock, the water carried off, the hand, the scale, and, in some runs, one
// recharge that is noted and never poured. The vat is counted here sheet by
// sheet, apart from what follows it in run. Ways: nothing; a lump by feel every
// eight sheets; a fixed dose; a plan's table; what run advises after weighings.
// Test sheets are pulled first and not counted, as a plan does not count them.
// Source: derived, docs/models/run.md. Missing: sheets kissed off, fines, a
// maker who does otherwise than advised.
package rehearsal
