package page

import (
	"regexp"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/web/part"
)

// additive is one additive as people write it: its name; its dose, of what acts
// in it in per cent on bone-dry fibre, or of a made-up solution in millilitres
// to a litre of vat, or both; and after "at" how much of the product acts. The
// two per cents stand on either side of that word, so that neither is taken for
// the other.
var additive = regexp.MustCompile(`(?i)^(.*?\S)(?:\s+([0-9.]+)\s*%?)?(?:\s+([0-9.]+)\s*ml\s*/\s*l)?(?:\s+at\s+([0-9.]+)\s*%?)?$`)

// muddled is a name that holds what is meant for a dose or a strength.
var muddled = regexp.MustCompile(`(?i)[%/]|(^|\s)(at|[0-9.]+)$`)

// AdditivesHint says how they are written.
const AdditivesHint = "Dose of what acts, in % on bone-dry fibre; strength of the product after “at”; formation aids in mL to a litre of vat: calcium carbonate 5 %, AKD 0.5 % at 12 %, PEO 15 mL/L."

// ReadAdditives reads additives parted by commas.
func ReadAdditives(field, typed string) ([]plan.Additive, error) {
	var list []plan.Additive
	for piece := range strings.FieldsFuncSeq(typed, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		text := strings.Join(strings.Fields(piece), " ")
		if text == "" {
			continue
		}
		said := additive.FindStringSubmatch(text)
		if said == nil || said[2] == "" && said[3] == "" || muddled.MatchString(said[1]) {
			return nil, noAdditive(field, text)
		}
		a := plan.Additive{Kind: said[1]}
		for i, of := range []*float64{&a.DosePct, &a.DoseMLL, new(float64)} {
			if said[i+2] == "" {
				continue
			}
			v, err := strconv.ParseFloat(said[i+2], 64)
			if err != nil {
				return nil, noAdditive(field, text)
			}
			if *of = v; i == 2 {
				a.StrengthPct = of
			}
		}
		list = append(list, a)
	}
	return list, nil
}

func noAdditive(field, text string) error {
	return fault.Invalid(field, "%q is not understood: write each with its dose, such as calcium carbonate 5 %% (of what acts on bone-dry fibre), AKD 0.5 %% at 12 %% (the product holds 12 %%), or PEO 15 mL/L (of its solution to a litre of vat)", text)
}

// WriteAdditives writes them the way ReadAdditives reads them.
func WriteAdditives(list []plan.Additive) string {
	var out []string
	for _, a := range list {
		text := a.Kind
		if a.DosePct != 0 || a.DoseMLL == 0 {
			text += " " + part.Written(a.DosePct) + " %"
		}
		if a.DoseMLL != 0 {
			text += " " + part.Written(a.DoseMLL) + " mL/L"
		}
		if a.StrengthPct != nil {
			text += " at " + part.Written(*a.StrengthPct) + " %"
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}
