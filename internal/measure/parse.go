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
// Missing: pounds to the ream, sizes such as 20 x 30, ranges.
func Parse(kind Kind, text string, sys System) (float64, error) {
	f, ok := fields[kind]
	if !ok {
		return 0, fault.Invalid("", "%q is not a kind of field", string(kind))
	}
	if len([]rune(text)) > longestText {
		return 0, refuse(kind, f, string([]rune(text)[:longestText])+"…")
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
	case kind == OfCount && v != math.Trunc(v):
		return 0, fault.Invalid("", "%q is not a count; write a whole number like %s", shorten(text), f.examples)
	}
	return v, nil
}

func isTime(kind Kind) bool { return kind == OfMinutes || kind == OfHours || kind == OfDays }

// amount reads numbers with their units and adds them up.
func amount(kind Kind, f field, s, text string, sys System, negative bool) (float64, error) {
	var total float64
	var last *unit
	for rest := s; rest != ""; {
		v, after, err := readNumber(rest, sys)
		if errors.Is(err, errNoNumber) {
			return 0, refuse(kind, f, text)
		}
		if err != nil {
			return 0, fault.Invalid("", "%s", err.Error())
		}
		u, after, err := readUnit(kind, f, strings.TrimLeft(after, " "), text, sys, last)
		if err != nil {
			return 0, err
		}
		if last != nil && (u.factor >= last.factor || kind == OfTemperature) {
			return 0, refuse(kind, f, text)
		}
		if negative {
			v = -v
		}
		total += u.canonical(v)
		last, rest = &u, strings.TrimLeft(after, " ")
	}
	if last == nil {
		return 0, refuse(kind, f, text)
	}
	return total, nil
}

// readUnit reads the unit after a number. Where none is written the first
// number is in the unit of the system, a later one in the unit that goes on
// from the one before it.
func readUnit(kind Kind, f field, rest, text string, sys System, last *unit) (unit, string, error) {
	for _, w := range vocabulary()[kind] {
		after, ok := strings.CutPrefix(rest, w.text)
		if !ok || !endsWord(after) {
			continue
		}
		if w.unsure && sys != US {
			return unit{}, "", fault.Invalid("", "%q is not the same everywhere; say %s if you mean that, or write it like %s", w.text, w.unit.name, f.examples)
		}
		return w.unit, strings.TrimPrefix(after, "."), nil
	}
	if rest != "" {
		return unit{}, "", refuse(kind, f, text)
	}
	name := f.metric
	if sys == US {
		name = f.us
	}
	if last != nil {
		if last.next == "" {
			return unit{}, "", refuse(kind, f, text)
		}
		name = last.next
	}
	if u, ok := named(kind, name); ok {
		return u, "", nil
	}
	return unit{kind: kind, factor: 1}, "", nil // numbers and counts
}

// endsWord reports whether a unit's spelling ends where after begins: "g" does
// not end in "gsm" or "g/l", "lb" does in "lb4oz".
func endsWord(after string) bool {
	return after == "" || strings.ContainsRune(" .0123456789", []rune(after)[0])
}

// refuse says what would be right, with a hint where the trade has a trap.
func refuse(kind Kind, f field, text string) error {
	lower := tidy(text)
	switch {
	case kind == OfGrammage && (strings.Contains(lower, "lb") || strings.Contains(lower, "#")):
		return fault.Invalid("", "pounds alone do not give a grammage, the ream's size and count are missing; write it like %s", f.examples)
	case (kind == OfVolume || kind == OfSmallVolume) && strings.HasSuffix(lower, "oz"):
		return fault.Invalid("", "%q is a weight; for a volume say US fl oz, or write it like %s", shorten(text), f.examples)
	case kind == OfMass && (strings.HasSuffix(lower, "l") || strings.Contains(lower, "cup") || strings.Contains(lower, "spoon")):
		return fault.Invalid("", "%q is a volume and a mass is needed; weigh it and write it like %s", shorten(text), f.examples)
	}
	return fault.Invalid("", "%q is not %s; write it like %s", shorten(text), article(kind), f.examples)
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
