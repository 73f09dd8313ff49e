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
	wrong := func() (Length, Length, error) {
		return 0, 0, fault.Invalid("", "%q is not a size; write two sides like %s", shorten(text), sizeExamples)
	}
	if len([]rune(text)) > longestText {
		return wrong()
	}
	sides := by.Split(tidy(text), -1)
	if len(sides) != 2 {
		return wrong()
	}
	a, b := strings.TrimSpace(sides[0]), strings.TrimSpace(sides[1])
	if isBare(a) != isBare(b) {
		unit := unitOfLast(a) + unitOfLast(b) // one of them is empty
		if unit == "" {
			return wrong()
		}
		if isBare(a) {
			a += " " + unit
		} else {
			b += " " + unit
		}
	}
	long, err := Parse(OfLength, a, sys)
	if err != nil {
		return 0, 0, err
	}
	short, err := Parse(OfLength, b, sys)
	if err != nil {
		return 0, 0, err
	}
	if long <= 0 || short <= 0 {
		return wrong()
	}
	return Length(long), Length(short), nil
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
