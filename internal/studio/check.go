package studio

import (
	"math"
	"time"
	"unicode/utf8"

	"vatside/internal/fault"
	"vatside/internal/plan"
)

// Bounds of what can be meant; what only looks odd is flagged, not refused.
const (
	mostSheets  = 100_000 // sheets in one brief or making; ours: far above a lifetime's edition
	mostMM      = 10_000  // mm of one side; ours: larger than any mould two people hold
	mostGrams   = 1e6     // g in one weighing; ours: a tonne
	mostMinutes = 10_000  // min of one step; ours: a week
	shortText   = 200     // characters of a name
	longText    = 20_000  // characters of a note
	firstYear   = 2000    // a time before it comes from a clock never set
	lastYear    = 2199
)

// checkNumber adds a fault unless lo ≤ v ≤ hi; NaN and Inf are outside.
func checkNumber(faults *fault.List, field string, v, lo, hi float64, unit string) {
	if !(v >= lo && v <= hi) || math.IsNaN(v) {
		faults.Add(fault.OutOfRange(field, "between %g and %g %s", lo, hi, unit))
	}
}

// checkOver is checkNumber with the lower end left out: 0 < v ≤ hi.
func checkOver(faults *fault.List, field string, v, hi float64, unit string) {
	if !(v > 0 && v <= hi) {
		faults.Add(fault.OutOfRange(field, "more than 0 and at most %g %s", hi, unit))
	}
}

func checkInt(faults *fault.List, field string, v, lo, hi int, unit string) {
	if v < lo || v > hi {
		faults.Add(fault.OutOfRange(field, "between %d and %d %s", lo, hi, unit))
	}
}

func checkText(faults *fault.List, field, s string, most int) {
	if !utf8.ValidString(s) {
		faults.Add(fault.Invalid(field, "this is not readable text"))
	} else if n := utf8.RuneCountInString(s); n > most {
		faults.Add(fault.OutOfRange(field, "at most %d characters, not %d", most, n))
	}
}

func checkSheet(faults *fault.List, field string, s plan.Sheet) {
	checkOver(faults, field+".long_mm", s.LongMM, mostMM, "mm")
	checkOver(faults, field+".short_mm", s.ShortMM, mostMM, "mm")
	switch s.Edges {
	case "", "deckle", "trimmed":
	default:
		faults.Add(fault.Invalid(field+".edges", "edges are deckle or trimmed"))
	}
}

func checkConfidence(faults *fault.List, pct float64) {
	// Below one half a promise is none; at 100 % no number of sheets is enough.
	checkNumber(faults, "confidence_pct", pct, 50, 99.9, "%")
}

func checkTime(faults *fault.List, field string, t time.Time) {
	if y := t.Year(); y < firstYear || y > lastYear {
		faults.Add(fault.OutOfRange(field, "a time between the years %d and %d", firstYear, lastYear))
	}
}
