package handbook

import (
	"regexp"
	"strconv"
	"strings"
)

// Range is what a contract allows a number to be, in the type's own unit; both
// ends may themselves be left out of it.
type Range struct{ Low, High float64 }

// Limits are the range as a reader is told it, with the unit it is in; ok says
// whether there is one.
func (in Input) Limits() (low, high float64, unit string, ok bool) {
	switch {
	case in.Range == nil:
		return 0, 0, "", false
	case in.reading == percent:
		return 100 * in.Range.Low, 100 * in.Range.High, percent.metric, true
	}
	return in.Range.Low, in.Range.High, unitOf(in.typ), true
}

// How contracts state a range: "h 0.1 to 100 W/m²K", "0.5 ≤ h ≤ 200".
var (
	fromTo  = regexp.MustCompile(`^(.+?) (?:over |above )?([-−]?[\d.,]+) to ([-−]?[\d.,]+)(?: (\S+))?$`)
	between = regexp.MustCompile(`^([-−]?[\d.,]+) [<≤] (\S+) [<≤] ([-−]?[\d.,]+)(?: (\S+))?$`)
	listed  = regexp.MustCompile(`,? and |, `)
)

// rangeOf reads the range of one input out of the contract; nil where it is
// not stated for it alone, or in another unit.
func (f Formula) rangeOf(in Input) *Range {
	if in.Text {
		return nil
	}
	own := unitOf(in.typ)
	for _, part := range strings.Split(f.Contract.Valid, "; ") {
		names, low, high, unit := "", "", "", ""
		if m := fromTo.FindStringSubmatch(part); m != nil {
			names, low, high, unit = m[1], m[2], m[3], m[4]
		} else if m := between.FindStringSubmatch(part); m != nil {
			low, names, high, unit = m[1], m[2], m[3], m[4]
		} else {
			continue
		}
		if unit != "" && unit != own {
			continue
		}
		for _, name := range listed.Split(names, -1) {
			if name != in.Symbol && !strings.EqualFold(name, in.Key) {
				continue
			}
			a, err1 := number(low)
			b, err2 := number(high)
			if err1 == nil && err2 == nil && a < b {
				return &Range{a, b}
			}
		}
	}
	return nil
}

// number reads a number as contracts print it.
func number(s string) (float64, error) {
	return strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(s), 64)
}
