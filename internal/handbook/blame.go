package handbook

import (
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"vatside/internal/fault"
)

var said = regexp.MustCompile(`(?:this says|not|is|are) (−?-?\d[\d.,e+]*)`)

// blame tells which input a fault of the formula belongs to: the one whose
// field it names, whose words it uses and whose number it repeats; "" where
// several do so alike.
func blame(list []Input, values []reflect.Value, e *fault.Error) string {
	if len(list) == 1 {
		return list[0].Key
	}
	text := strings.ToLower(e.Field + " " + e.Text)
	best, key, tied := 0, "", false
	for i, in := range list {
		score := 0
		if e.Field != "" && (strings.EqualFold(e.Field, in.Key) || len(in.Key) > 2 && strings.HasPrefix(strings.ToLower(e.Field), in.Key)) {
			score += 8
		}
		for _, w := range strings.Fields(words(in.Key) + " " + typeWords(in.typ) + " " + strings.ToLower(in.Label)) {
			if w = strings.Trim(w, ",.()"); len(w) > 3 && strings.Contains(text, strings.TrimSuffix(w, "s")) {
				score++
			}
		}
		if !in.Text && repeats(values[i].Convert(reflect.TypeFor[float64]()).Float(), e.Text) {
			score += 16 // the surest sign
		}
		switch {
		case score > best:
			best, key, tied = score, in.Key, false
		case score == best:
			tied = true
		}
	}
	if tied {
		return ""
	}
	return key
}

// repeats reports whether a sentence says a number, as such or in per cent.
func repeats(v float64, text string) bool {
	for _, m := range said.FindAllStringSubmatch(text, -1) {
		n, err := strconv.ParseFloat(strings.TrimRight(m[1], ".,"), 64)
		for _, x := range []float64{v, 100 * v} {
			if err == nil && n-x <= 1e-3*abs(x) && x-n <= 1e-3*abs(x) {
				return true
			}
		}
	}
	return false
}

var asFraction = regexp.MustCompile(`between ([\d.]+) and ([\d.]+) as a fraction; this says (-?[\d.e+-]+)`)

// inPercent says a range of fractions as the fields ask for it.
func inPercent(text string) string {
	return asFraction.ReplaceAllStringFunc(text, func(s string) string {
		m := asFraction.FindStringSubmatch(s)
		var say [3]string
		for i := range say {
			v, err := strconv.ParseFloat(m[i+1], 64)
			if err != nil {
				return s
			}
			say[i] = strconv.FormatFloat(100*v, 'g', 6, 64)
		}
		return "between " + say[0] + " and " + say[1] + " %; this says " + say[2] + " %"
	})
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
