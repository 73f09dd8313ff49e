// Package pressing models the press: the force of each kind of press, pressure on
// the real sheet area, how dry a post comes out, what weighings teach of that,
// the water left for the dryer, how large a post may be, how many posts a run
// makes and how many felts keep the vat going.
//
// Standing assumptions: the load is centred and even over the sheets; the press
// is held long enough that dripping has stopped, so pressure and not time
// decides (a hand press holds for minutes, a machine nip for milliseconds).
// Sources: docs/models/pressing.md. Missing: the effect of beating on pressed
// solids (known only by its sign: slow stock stays wetter), rewetting from the
// felts, and what a post does over the first minutes.
package pressing

import "vatside/internal/measure"

// Ranges of what a hand press can be.
const (
	leastForce measure.Force = 0.01 // kN; a brick
	mostForce  measure.Force = 5000 // kN; ten times the largest hand press
	leastArea  measure.Area  = 1e-4 // m²; 1 cm²
	mostArea   measure.Area  = 20   // m²

	leastPressure measure.Pressure = 0.1   // kPa
	mostPressure  measure.Pressure = 10000 // kPa
)
