package trouble

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Speaks says what the facts say of a cause.
type Speaks int

// The three voices, in the order in which causes are named.
const (
	For     Speaks = iota // the facts speak for it
	Open                  // nothing known speaks: make the test
	Against               // the facts speak against it
)

// String returns the word.
func (s Speaks) String() string {
	return [...]string{"for", "open", "against"}[min(max(s, For), Against)]
}

// MarshalText writes the word.
func (s Speaks) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// finding is what a rule makes of the facts: its voice and, unless that is Open,
// a sentence that states the fact.
type finding struct {
	speaks Speaks
	why    string
}

var open = finding{speaks: Open}

// rule looks at the facts of a making.
type rule func(*Facts) finding

// look is the rule of causes of which no recorded fact can tell.
func look(*Facts) finding { return open }

// byNumber speaks for a cause when a fact is at or beyond one limit, against it at
// or beyond the other, and says nothing between. Which side speaks for it
// follows from the order of the limits. Sentences hold one %s.
func byNumber[T ~float64 | ~int](get func(*Facts) *T, speaks T, yes string, against T, no string, say func(float64) string) rule {
	return func(f *Facts) finding {
		v := get(f)
		if v == nil {
			return open
		}
		beyond := func(limit T, up bool) bool { return up && *v >= limit || !up && *v <= limit }
		text := say(float64(*v))
		switch up := speaks > against; {
		case beyond(speaks, up):
			return finding{For, fmt.Sprintf(yes, text)}
		case beyond(against, !up):
			return finding{Against, fmt.Sprintf(no, text)}
		}
		return open
	}
}

// byTruth speaks for a cause when a fact is as said, and against it otherwise.
func byTruth(get func(*Facts) *bool, speaks bool, yes, no string) rule {
	return func(f *Facts) finding {
		switch v := get(f); {
		case v == nil:
			return open
		case *v == speaks:
			return finding{For, yes}
		default:
			return finding{Against, no}
		}
	}
}

// tidy writes a number to three digits, the size a fact is known to.
func tidy(v float64) string {
	return strconv.FormatFloat(measure.Significant(v, 3), 'f', -1, 64)
}

func percent(v float64) string { return tidy(math.Round(v*1000)/10) + " %" }

// size is percent without the sign: the sentence says which way.
func size(v float64) string { return percent(math.Abs(v)) }

// lasting writes minutes as a hand counts them: seconds below two minutes.
func lasting(minutes float64) string {
	if minutes < 2 {
		return tidy(math.Round(minutes*60)) + " s"
	}
	return tidy(minutes) + " min"
}

// inside checks a fact that is known.
func inside[T ~int | ~float64](field, what string, v *T, low, high T, unit string) error {
	if v == nil {
		return nil
	}
	return measure.Inside(field, what, *v, low, high, unit)
}

// together checks facts against each other.
func (f *Facts) together() error {
	if f.Drying != "" && !slices.Contains(Dryings(), f.Drying) {
		return fault.Invalid("drying", "%q is not a way of drying; the ways are %s", f.Drying, strings.Join(Dryings(), ", "))
	}
	if f.KissedOff != nil && f.Pulled != nil && *f.KissedOff > *f.Pulled {
		return fault.OutOfRange("kissed_off", "the pulls kissed off must be between 0 and the sheets pulled")
	}
	return nil
}
