// Package source holds the grades of evidence and the registry of sources that
// every number of Vatside names.
//
// A source is cited by its key; the registry says what it is, where it stands
// and how far it is to be trusted. Nothing here is fetched: the texts were read
// once and what was taken from them stands in the project.
package source

import "fmt"

// Grade is how well a number is founded, best first.
type Grade int

// The grades, best to worst.
const (
	Standard  Grade = iota // an exact definition, a standard, or arithmetic
	Measured               // this studio measured it
	Paper                  // a published study
	Handbook               // a handbook or textbook of the trade
	Secondary              // somebody reporting somebody else
	Practice               // common practice, one maker's figure, or what the maker says
	Memory                 // from memory, unverified: wide bands only
)

var gradeNames = [...]string{"standard", "measured", "paper", "handbook", "secondary", "practice", "memory"}

// String returns the grade's word.
func (g Grade) String() string {
	if g < 0 || int(g) >= len(gradeNames) {
		return "memory"
	}
	return gradeNames[g]
}

// ParseGrade returns the grade of that name.
func ParseGrade(name string) (Grade, error) {
	for i, n := range gradeNames {
		if n == name {
			return Grade(i), nil
		}
	}
	return Memory, fmt.Errorf("%q is not a grade; the grades are standard, measured, paper, handbook, secondary, practice, memory", name)
}

// MarshalText writes the grade's word.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads the grade's word.
func (g *Grade) UnmarshalText(b []byte) error {
	v, err := ParseGrade(string(b))
	*g = v
	return err
}

// Worse returns the worse of two grades.
func Worse(a, b Grade) Grade { return max(a, b) }
