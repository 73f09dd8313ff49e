package measure

import (
	"regexp"
	"strings"

	"vatside/internal/fault"
)

// Amount is an amount of something as it was typed: "3 US tbsp soda ash",
// "27 lb wet at 8-15 %".
type Amount struct {
	Kind                  Kind    // OfMass or OfSmallVolume
	Value                 float64 // g or mL, with its water where it is wet
	Of                    string  // what it is an amount of, in lower case; "" if not said
	Wet                   bool    // called wet, or with its solids said
	SolidsLow, SolidsHigh Solids  // both 0 if not said
	parts                 []part
}

// atSolids finds the solids at the end of an amount: wet at 10 %, at 8-15 %
// solids.
var atSolids = regexp.MustCompile(`^(.*?),?(?: ?\bat\b)? ?([\d.,]+)(?: ?(?:-|to) ?([\d.,]+))? ?(?:%|per ?cent|pct)(?: solids| dry)?$`)

const amountExamples = "12 oz soda ash, 3 US tbsp soda ash or 27 lb wet at 10 %"

// ReadAmount reads an amount by mass or by volume, what it is of, and how much
// of it is solids. A mass stays a mass and a volume a volume: what a spoonful
// weighs hangs on the product. A bare number is a mass.
//
// Faults: Invalid without a field.
func ReadAmount(text string, sys System) (Amount, error) {
	if tooLong(text) {
		return Amount{}, fault.Invalid("", "%q is too long for an amount; write it like %s", shorten(text), amountExamples)
	}
	s := strings.TrimSpace(strings.TrimPrefix(tidy(text), "+"))
	kind, err := amountKind(s, text, sys)
	if err != nil {
		return Amount{}, err
	}
	parts, rest, err := lead(kind, fields[kind], s, text, sys)
	if err != nil {
		return Amount{}, err
	}
	a := Amount{Kind: kind, Value: total(parts), parts: parts}
	if a.Value > mostValue {
		return Amount{}, fault.Invalid("", "%q is larger than any %s here; write it like %s", shorten(text), kind, amountExamples)
	}
	if rest, err = a.readSolids(rest, sys); err != nil {
		return Amount{}, err
	}
	if strings.Contains(rest, "%") {
		return Amount{}, fault.Invalid("", "%q does not say its solids; write it like %s", shorten(text), amountExamples)
	}
	var of []string
	for _, w := range strings.Fields(strings.ReplaceAll(rest, ",", " ")) {
		switch {
		case w == "wet":
			a.Wet = true
		case w == "of" && len(of) == 0:
		default:
			of = append(of, w)
		}
	}
	a.Of = strings.Join(of, " ")
	return a, nil
}

// amountKind tells a volume from a mass by the unit after the first number.
func amountKind(s, text string, sys System) (Kind, error) {
	_, after, err := readNumber(s, sys)
	if err != nil {
		return "", fault.Invalid("", "%q is not an amount; write it like %s", shorten(text), amountExamples)
	}
	after = strings.TrimLeft(after, " ")
	if after == "" {
		return OfMass, nil
	}
	mass, _, isMass := longest(OfMass, after)
	volume, _, isVolume := longest(OfSmallVolume, after)
	switch {
	case isMass && len(mass.text) >= len(volume.text):
		return OfMass, nil
	case isVolume:
		return OfSmallVolume, nil
	case after == "t" || strings.HasPrefix(after, "t "):
		return "", fault.Invalid("", `"t" may be a teaspoon, a tablespoon or a tonne; write US tsp, US tbsp or tonnes`)
	}
	return "", fault.Invalid("", "%q has no unit to weigh or measure by; write it like %s", shorten(text), amountExamples)
}

// readSolids takes the solids from the end of what follows an amount.
func (a *Amount) readSolids(rest string, sys System) (string, error) {
	m := atSolids.FindStringSubmatch(rest)
	if m == nil {
		return rest, nil
	}
	low, err := decimal(m[2], sys)
	high := low
	if err == nil && m[3] != "" {
		high, err = decimal(m[3], sys)
	}
	if err != nil {
		return "", fault.Invalid("", "%s", err.Error())
	}
	if !(low > 0) || high < low || high > 100 {
		return "", fault.Invalid("", "solids lie between 0 and 100 %%, the lower end first; write it like wet at 8-15 %%")
	}
	a.Wet, a.SolidsLow, a.SolidsHigh = true, Solids(low/100), Solids(high/100)
	return m[1], nil
}
