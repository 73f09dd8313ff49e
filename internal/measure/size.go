package measure

import (
	"regexp"
	"strconv"
	"strings"

	"vatside/internal/fault"
)

// by parts the two sides of a size.
var by = regexp.MustCompile(` ?(?:×|x|\*|\bby\b) ?`)

const sizeExamples = "22 x 30 in, 56 × 76 cm or 560 x 760 mm"

// ReadSize reads two sides, in the order typed. A unit written once holds for
// both; with none, both are in the unit the system prefers.
//
// Faults: Invalid without a field.
func ReadSize(text string, sys System) (first, second Length, err error) {
	a, b, err := sides(text, sys)
	if err != nil {
		return 0, 0, err
	}
	return Length(total(a)), Length(total(b)), nil
}

// sides reads the two sides of a size part by part.
func sides(text string, sys System) (first, second []part, err error) {
	wrong := fault.Invalid("", "%q is not a size; write two sides like %s", shorten(text), sizeExamples)
	if tooLong(text) {
		return nil, nil, wrong
	}
	two := by.Split(tidy(text), -1)
	if len(two) != 2 {
		return nil, nil, wrong
	}
	a, b := strings.TrimSpace(two[0]), strings.TrimSpace(two[1])
	if isBare(a) != isBare(b) {
		unit := unitOfLast(a) + unitOfLast(b) // one of them is empty
		if unit == "" {
			return nil, nil, wrong
		}
		if isBare(a) {
			a += " " + unit
		} else {
			b += " " + unit
		}
	}
	first, err1 := side(a, text, sys)
	second, err2 := side(b, text, sys)
	if err := fault.First(err1, err2); err != nil {
		return nil, nil, err
	}
	if t := min(total(first), total(second)); !(t > 0) || max(total(first), total(second)) > mostValue {
		return nil, nil, wrong
	}
	return first, second, nil
}

// side reads one side of a size.
func side(s, text string, sys System) ([]part, error) {
	parts, rest, err := lead(OfLength, fields[OfLength], s, text, sys)
	if err == nil && rest != "" {
		err = fault.Invalid("", "%q is not a size; write two sides like %s", shorten(text), sizeExamples)
	}
	return parts, err
}

// isBare reports whether a text is a number and nothing else.
func isBare(s string) bool {
	_, rest, err := readNumber(s, US)
	return err == nil && rest == ""
}

// unitOfLast is the spelling of the unit after the last number of a length.
func unitOfLast(s string) string {
	return strings.TrimLeft(s[strings.LastIndexAny(s, "0123456789.,")+1:], " ")
}

// ShowSize writes two sides with their unit, as ReadSize reads them.
func ShowSize(first, second Length, sys System) string {
	a, ua := Show(float64(first), "mm", sys)
	b, ub := Show(float64(second), "mm", sys)
	if ua == ub {
		return a + " × " + b + " " + ub
	}
	return a + " " + ua + " × " + b + " " + ub
}

// ShowCaliper writes a thickness in thousandths of a millimetre or an inch, as
// gauges read: 0.203 mm, 0.008 in.
func ShowCaliper(thick Length, sys System) (number, unit string) {
	if sys == US {
		return finite(float64(thick)/inch, 3), "in"
	}
	return finite(float64(thick), 3), "mm"
}

func finite(v float64, places int) string {
	if !Finite(v) {
		return nothing
	}
	return decimals(v, places)
}

// shortNumber writes a number with at most seven significant digits and
// nothing to part thousands, as workings have it.
func shortNumber(v float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 6, 64), 64)
	if err != nil {
		return nothing
	}
	return strings.Replace(strconv.FormatFloat(rounded, 'f', -1, 64), "-", minus, 1)
}
