package measure

import (
	"strings"

	"vatside/internal/fault"
)

// refuse says what would be right, with a hint where the trade has a trap.
func refuse(kind Kind, f field, text string) error {
	if hint := trap(kind, unitTyped(text)); hint != "" {
		return fault.Invalid("", "%s; write it like %s", hint, f.examples)
	}
	return fault.Invalid("", "%q is not %s; write it like %s", shorten(text), article(kind), f.examples)
}

// unitTyped is what stands after the first number of a text, tidied.
func unitTyped(text string) string {
	s := tidy(text)
	if _, rest, err := readNumber(s, US); err == nil {
		s = rest
	}
	return strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "."))
}

// trap says why a unit does not answer what a kind asks for, where people in
// the trade take one for the other; "" where they do not.
func trap(wanted Kind, typed string) string {
	is := func(kind Kind) bool {
		_, after, ok := longest(kind, typed)
		return ok && after == ""
	}
	weight := wanted == OfMass || wanted == OfGrammage
	volume := wanted == OfVolume || wanted == OfSmallVolume
	first, _, _ := strings.Cut(typed, " ")
	switch {
	case weight && (first == "pt" || first == "pts" || first == "point" || first == "points"):
		return "points (pt) are a thickness, 0.001 in each, and say nothing of weight"
	case wanted == OfGrammage && (strings.HasPrefix(typed, "lb") || strings.HasPrefix(typed, "#") || strings.HasPrefix(typed, "pound")):
		return "pounds alone do not give a grammage: pounds of which basis? The ream's size and count are missing"
	case volume && strings.HasSuffix(typed, "oz"):
		return "an ounce (oz) is a weight; a volume is said in US fl oz or imp fl oz"
	case volume && is(OfMass):
		return "that is a weight and a volume is needed"
	case wanted == OfMass && is(OfSmallVolume):
		return "that is a volume and a mass is needed: weigh it"
	case wanted == OfSheets && (strings.HasPrefix(first, "ream") || strings.HasPrefix(first, "quire")):
		return "reams and quires differ: say reams of 480 or 500 (472 and 516 are met too), quires of 24 or 25"
	}
	return ""
}
