package measure

import (
	"errors"
	"math"
	"regexp"
	"strings"

	"vatside/internal/fault"
)

const (
	longestText = 60   // characters in a field
	mostValue   = 1e12 // in the kind's own unit; more cannot be meant
)

var clock = regexp.MustCompile(`^(\d{1,3}):([0-5]\d)$`)

// Parse reads what somebody typed into a field of a kind and returns it in the
// kind's own unit (OfMass in grams, OfPercent in per cent…). A bare number is
// in the unit the system prefers; a unit that is written always wins, so the
// same text with a unit means the same in both systems. Amounts in two units
// add: 1 lb 4 oz, 1 h 20. What cannot be meant comes back as an Invalid fault
// without a field, one sentence that says what would be right.
//
// Sizes are read by ReadSize, amounts of something by ReadAmount. Missing:
// ranges of a bare number.
func Parse(kind Kind, text string, sys System) (float64, error) {
	f, ok := fields[kind]
	if !ok {
		return 0, fault.Invalid("", "%q is not a kind of field", string(kind))
	}
	if tooLong(text) {
		return 0, fault.Invalid("", "%q is not %s; write it like %s", shorten(text), article(kind), f.examples)
	}
	s := tidy(text)
	if s == "" {
		return 0, fault.Invalid("", "nothing is written here; write %s like %s", article(kind), f.examples)
	}
	s, negative := strings.CutPrefix(s, "-")
	s = strings.TrimSpace(strings.TrimPrefix(s, "+"))
	if m := clock.FindStringSubmatch(s); m != nil && isTime(kind) {
		s = m[1] + " h " + m[2] + " min"
	}
	v, err := amount(kind, f, s, text, sys, negative)
	if err != nil {
		return 0, err
	}
	switch {
	case math.IsNaN(v) || math.Abs(v) > mostValue:
		return 0, fault.Invalid("", "%q is larger than any %s here; write it like %s", shorten(text), kind, f.examples)
	case v < 0 && !f.negative:
		return 0, fault.Invalid("", "%s cannot be below zero; write it like %s", article(kind), f.examples)
	case (kind == OfCount || kind == OfSheets) && v != math.Trunc(v):
		return 0, fault.Invalid("", "%q is not a count; write a whole number like %s", shorten(text), f.examples)
	}
	return v, nil
}

func isTime(kind Kind) bool { return kind == OfMinutes || kind == OfHours || kind == OfDays }

// part is one number with its unit; unsure where the unit's word means it to a
// studio on US units only.
type part struct {
	value  float64
	unit   unit
	unsure string // the word
}

// total adds the parts of an amount, in the kind's own unit.
func total(parts []part) float64 {
	var sum float64
	for _, p := range parts {
		sum += p.unit.canonical(p.value)
	}
	return sum
}

// amount reads numbers with their units, nothing after them, and adds them up.
func amount(kind Kind, f field, s, text string, sys System, negative bool) (float64, error) {
	parts, rest, err := lead(kind, f, s, text, sys)
	if err != nil {
		return 0, err
	}
	if rest != "" {
		return 0, refuse(kind, f, text)
	}
	if negative {
		for i := range parts {
			parts[i].value = -parts[i].value
		}
	}
	return total(parts), nil
}

// lead reads the numbers with their units that a text begins with, each unit
// smaller than the one before, and returns what follows.
func lead(kind Kind, f field, s, text string, sys System) (parts []part, rest string, err error) {
	var last *unit
	for rest = s; rest != ""; {
		v, after, err := readNumber(rest, sys)
		if errors.Is(err, errNoNumber) {
			break
		}
		if err != nil {
			return nil, "", fault.Invalid("", "%s", err.Error())
		}
		p, after, err := readUnit(kind, f, strings.TrimLeft(after, " "), text, sys, last)
		if err != nil {
			return nil, "", err
		}
		if last != nil && (p.unit.factor >= last.factor || kind == OfTemperature) {
			return nil, "", refuse(kind, f, text)
		}
		p.value = v
		if err := p.possible(); err != nil {
			return nil, "", err
		}
		parts = append(parts, p)
		last, rest = &p.unit, strings.TrimLeft(after, " ")
	}
	if last == nil {
		return nil, "", refuse(kind, f, text)
	}
	return parts, rest, nil
}

// possible refuses more than can be: a vacuum deeper than the atmosphere.
func (p part) possible() error {
	if p.unit.most == 0 || p.unit.canonical(p.value) <= p.unit.most {
		return nil
	}
	hint := ""
	if p.unit.name == "psi vacuum" && p.value*inchHg <= atmosphere {
		hint = "; such gauges often read inHg"
	}
	return fault.Invalid("", "a vacuum is at most one atmosphere, which is 101.3 kPa, 14.7 psi or 29.9 inHg, so %s %s cannot be%s", shortNumber(p.value), p.unit.name, hint)
}

// readUnit reads the unit after a number. Where none is written the first
// number is in the unit of the system, a later one in the unit that goes on
// from the one before it.
func readUnit(kind Kind, f field, rest, text string, sys System, last *unit) (part, string, error) {
	if w, after, ok := longest(kind, rest); ok {
		if !w.unsure {
			return part{unit: w.unit}, strings.TrimPrefix(after, "."), nil
		}
		if sys != US {
			names := strings.Join(append([]string{w.unit.name}, w.unit.rivals()...), " or ")
			return part{}, "", fault.Invalid("", "%q is not the same everywhere; say %s, or write it like %s", w.text, names, f.examples)
		}
		return part{unit: w.unit, unsure: w.text}, strings.TrimPrefix(after, "."), nil
	}
	if rest != "" {
		return part{}, "", refuse(kind, f, text)
	}
	name := f.metric
	if sys == US {
		name = f.us
	}
	if last != nil {
		if last.next == "" {
			return part{}, "", refuse(kind, f, text)
		}
		name = last.next
	}
	if u, ok := named(kind, name); ok {
		return part{unit: u}, "", nil
	}
	return part{unit: unit{kind: kind, factor: 1}}, "", nil // numbers and counts
}

// longest finds the longest spelling of a kind that a text begins with.
func longest(kind Kind, text string) (w word, after string, ok bool) {
	for _, w := range vocabulary()[kind] {
		if after, ok := strings.CutPrefix(text, w.text); ok && endsWord(after) {
			return w, after, true
		}
	}
	return word{}, "", false
}

// endsWord reports whether a unit's spelling ends where after begins: "g" does
// not end in "gsm" or "g/l", "lb" does in "lb4oz".
func endsWord(after string) bool {
	return after == "" || strings.ContainsRune(" .0123456789", []rune(after)[0])
}

// tooLong reports whether a text is longer than any field holds.
func tooLong(text string) bool {
	return len(text) > 4*longestText || len([]rune(text)) > longestText
}

// shorten keeps a refused text readable.
func shorten(text string) string {
	r := []rune(strings.TrimSpace(text))
	if len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return string(r)
}

// article puts a or an before a kind.
func article(kind Kind) string {
	switch kind {
	case OfMinutes, OfHours, OfDays:
		return "a time"
	case OfArea, OfAltitude, OfAirflow:
		return "an " + string(kind)
	}
	return "a " + string(kind)
}
