// Package run follows one run at the vat, event by event, and says what each
// sheet weighs, what the next will, and what to pour before it.
//
// The state is the fibre and the water in the vat, the effective depth of this
// mould with this stock and its slow drift, the strength of the stock, and the
// water a couched sheet carries off; beside them stands the mass of every sheet
// pulled so far, so that a weighing that comes late, of any sheets together,
// is put where it belongs. All are held as logarithms, in which a sheet's mass is a
// plain sum and a Kalman filter all but exact: docs/models/run.md.
//
// A run is a pure function of what was believed before it and of its events in
// order; a correction of an earlier event is one more event. Assumed: the vat
// is stirred, water that drains returns, a kissed-off sheet goes back whole.
// Source: derived, docs/models/run.md. Missing: fines, a change of stock within the
// run, moisture of the weighed sheets (masses are bone-dry).
package run
