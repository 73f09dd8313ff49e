// Package finishing models what is done with dry sheets: flattening them under
// weight, sorting, counting into quires and reams, packing and wrapping.
//
// Standing assumptions: sheets are dry through and lie in the room they were
// dried in; all sheets of a pile are alike. Sources: docs/models/finishing.md.
// Missing: how flat a sheet becomes, which no page measures; pressing hot;
// polishing; how long a size hardens, which is package sizing's.
package finishing

import "vatside/internal/measure"

// Ranges of sheets and piles.
const (
	mostSheets    measure.Sheets    = 1e6
	leastSide     measure.Length    = 10 // mm
	mostSide      measure.Length    = 10000
	mostPile      measure.Length    = 3000 // mm
	mostWeight    measure.Kilograms = 10000
	leastPressure measure.Pressure  = 0.01 // kPa; a board of its own weight
	mostPressure  measure.Pressure  = 5000
)
