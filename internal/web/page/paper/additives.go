package paper

import (
	"regexp"
	"slices"
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

const additivesHint = "Dose of what acts, in % on bone-dry fibre; strength of the product after “at”; formation aids in mL to a litre of vat: calcium carbonate 5, AKD 0.5 at 12 %, PEO 15 mL/L."

// readAdditives reads additives parted by commas.
func readAdditives(typed string) ([]plan.Additive, error) {
	var list []plan.Additive
	for piece := range strings.FieldsFuncSeq(typed, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		text := strings.Join(strings.Fields(piece), " ")
		if text == "" {
			continue
		}
		said := additive.FindStringSubmatch(text)
		if said == nil || said[2] == "" && said[3] == "" || muddled.MatchString(said[1]) {
			return nil, refused(text)
		}
		a := plan.Additive{Kind: said[1]}
		for i, of := range []*float64{&a.DosePct, &a.DoseMLL, new(float64)} {
			if said[i+2] == "" {
				continue
			}
			v, err := strconv.ParseFloat(said[i+2], 64)
			if err != nil {
				return nil, refused(text)
			}
			if *of = v; i == 2 {
				a.StrengthPct = of
			}
		}
		list = append(list, a)
	}
	return list, nil
}

func refused(text string) error {
	return fault.Invalid("additives", "%q is not understood: write each with its dose, such as calcium carbonate 5 (%% of what acts on bone-dry fibre), AKD 0.5 at 12 %% (the product holds 12 %%), or PEO 15 mL/L (of its solution to a litre of vat)", text)
}

// writeAdditives writes them the way readAdditives reads them.
func writeAdditives(list []plan.Additive) string {
	var out []string
	for _, a := range list {
		text := a.Kind
		if a.DosePct != 0 || a.DoseMLL == 0 {
			text += " " + part.Written(a.DosePct)
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

// priced keeps the price of what stays: of the first of its name that is not
// taken yet.
func priced[T any](now, old []T, of func(*T) (string, **float64)) {
	old = slices.Clone(old)
	for i := range now {
		name, price := of(&now[i])
		j := slices.IndexFunc(old, func(o T) bool { was, _ := of(&o); return was == name })
		if j < 0 {
			continue
		}
		_, was := of(&old[j])
		*price = *was
		old = slices.Delete(old, j, j+1)
	}
}
