package part

import (
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// NamedSize is a finished size people call by name.
type NamedSize struct {
	Name            string
	LongMM, ShortMM float64
}

const inch = 25.4 // mm, exact: international yard and pound agreement, 1959

// Sizes are the sizes known by name: ISO 216:2007 for A and B, and the inch
// sizes of American stationery and art papers (common practice).
var Sizes = []NamedSize{
	{"A2", 594, 420}, {"A3", 420, 297}, {"A4", 297, 210}, {"A5", 210, 148}, {"A6", 148, 105},
	{"B4", 353, 250}, {"B5", 250, 176},
	{"Letter", 11 * inch, 8.5 * inch}, {"Half letter", 8.5 * inch, 5.5 * inch},
	{"Legal", 14 * inch, 8.5 * inch}, {"Tabloid", 17 * inch, 11 * inch},
	{"Quarter sheet", 15 * inch, 11 * inch}, {"Half sheet", 22 * inch, 15 * inch}, {"Full sheet", 30 * inch, 22 * inch},
}

// SizeNames lists the names on offer, those of the reader's system first.
func (s Speech) SizeNames() []Option {
	var iso, inches []Option
	for _, n := range Sizes {
		o := Option{Value: n.Name, Label: s.sides(n.LongMM, n.ShortMM)}
		if strings.HasPrefix(n.Name, "A") || strings.HasPrefix(n.Name, "B") {
			iso = append(iso, o)
		} else {
			inches = append(inches, o)
		}
	}
	if s.US() {
		return append(inches, iso...)
	}
	return append(iso, inches...)
}

// SizeName says a size as people do: by its name where it has one.
func (s Speech) SizeName(long, short float64) string {
	for _, n := range Sizes {
		if near(n.LongMM, long) && near(n.ShortMM, short) {
			return n.Name
		}
	}
	return s.sides(long, short)
}

// SizeLine says a size with name and sides.
func (s Speech) SizeLine(long, short float64) string {
	name, sides := s.SizeName(long, short), s.sides(long, short)
	if name == sides {
		return sides
	}
	return name + ", " + sides
}

func (s Speech) sides(long, short float64) string {
	a, _ := s.Show(long, "mm")
	b, u := s.Show(short, "mm")
	return a + " × " + b + " " + u
}

func near(a, b float64) bool { return a-b < 0.05 && b-a < 0.05 }

// ReadSize reads a finished size: a name, or two sides in the reader's units
// or with their own; the longer side comes first whichever was typed first.
func (s Speech) ReadSize(field, typed string) (long, short float64, err error) {
	text := strings.TrimSpace(typed)
	for _, n := range Sizes {
		if strings.EqualFold(n.Name, text) {
			return n.LongMM, n.ShortMM, nil
		}
	}
	refuse := fault.Invalid(field, "write a size by name, such as A4 or Letter, or as two sides, such as %s", s.sides(297, 210))
	sep := func(r rune) bool { return r == '×' || r == 'x' || r == 'X' || r == '*' }
	i := strings.IndexFunc(text, sep)
	if text == "" || i < 0 || strings.IndexFunc(text[i+1:], sep) > 0 && strings.Count(text, "x") > 1 {
		return 0, 0, refuse
	}
	left, right := text[:i], strings.TrimLeftFunc(text[i:], sep)
	// The unit after the second side holds for both, unless the first has its own.
	if unit := strings.TrimLeft(right, " 0123456789.,/½¼¾"); unit != "" && strings.Trim(left, " 0123456789.,/½¼¾") == "" {
		left += " " + unit
	}
	a, errA := s.Read(field, left, measure.OfLength)
	b, errB := s.Read(field, right, measure.OfLength)
	if errA != nil || errB != nil || !(a > 0) || !(b > 0) {
		return 0, 0, refuse
	}
	return max(a, b), min(a, b), nil
}
