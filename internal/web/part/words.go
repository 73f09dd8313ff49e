package part

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"vatside/internal/measure"
)

// Upper begins a text with a capital.
func Upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Since says a past time the way one looks back at it from now, in now's zone.
func Since(t, now time.Time) string {
	t = t.In(now.Location())
	switch days := dayNumber(now) - dayNumber(t); {
	case days == 0:
		return t.Format("15:04")
	case days == 1:
		return "yesterday"
	case days < 7:
		return t.Format("Monday")
	default:
		return t.Format("2 January 2006")
	}
}

// Moment is Since to the minute.
func Moment(t, now time.Time) string {
	day, clock := Since(t, now), t.In(now.Location()).Format("15:04")
	if day == clock {
		day = "today"
	}
	return day + ", " + clock
}

func dayNumber(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / (24 * 60 * 60))
}

// Chance says how often a promise is kept, in the words a brief is written in.
func Chance(pct float64) string {
	switch pct {
	case 50:
		return "an even chance"
	case 90:
		return "nine times in ten"
	case 95:
		return "nineteen times in twenty"
	case 99:
		return "ninety-nine times in a hundred"
	}
	return strconv.FormatFloat(pct, 'f', 0, 64) + " times in 100"
}

// Span of time in hours, as a person says it.
func Hours(h float64) string {
	switch {
	case h < 1:
		return fmt.Sprintf("%.0f min", h*60)
	case h < 48:
		return fmt.Sprintf("%s h", plain(float64(int(h*2+0.5))/2))
	default:
		return fmt.Sprintf("%.0f days", h/24)
	}
}

// Minutes says hands-on minutes.
func Minutes(m float64) string {
	if m < 90 {
		return fmt.Sprintf("%.0f min", m)
	}
	return Hours(m / 60)
}

// Day says a date written as year-month-day.
func Day(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("2 January 2006")
}

// Jugs says how many jugs; a jug is filled to a twentieth at best.
func Jugs(n float64) string {
	twentieths := math.Round(n * 20)
	if twentieths == 0 {
		return plain(n)
	}
	return strconv.FormatFloat(twentieths/20, 'f', -1, 64)
}

// Many counts things of which one is called so.
func Many(n int, one string) string {
	text, _ := measure.Show(float64(n), "sheets", measure.Metric)
	if n != 1 {
		one += "s"
	}
	return text + " " + one
}

// Listed names things in a sentence.
func Listed(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// written is how fine a number is written into a blank, in parts of one: below
// it lies what binary arithmetic leaves over, and no scale of a studio reads it.
const written = 1e4

// Written is a number as it is written into a blank.
func Written(v float64) string {
	return strconv.FormatFloat(math.Round(v*written)/written, 'f', -1, 64)
}
