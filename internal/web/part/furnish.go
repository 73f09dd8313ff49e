package part

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
)

// ReadFurnish reads a blend as people write it: "cotton rag 70, abaca 30", in
// any order of name and number, or one name alone for the whole. Fibres are
// called by the handbook's name afterwards.
func ReadFurnish(field, typed string) ([]plan.Part, error) {
	pieces := strings.FieldsFunc(typed, func(r rune) bool { return r == ',' || r == ';' || r == '+' || r == '\n' })
	var parts []plan.Part
	var total float64
	for _, piece := range pieces {
		name, share, err := fibreShare(field, piece)
		if err != nil {
			return nil, err
		}
		if name == "" {
			continue
		}
		f, err := fibre.Find(field, name)
		if err != nil {
			return nil, err
		}
		parts = append(parts, plan.Part{Fibre: f.Name, SharePct: share})
		total += share
	}
	if len(parts) == 1 && parts[0].SharePct == 0 {
		parts[0].SharePct, total = 100, 100
	}
	if len(parts) == 0 {
		return nil, fault.Invalid(field, "name at least one fibre, such as abaca")
	}
	// Half a per cent lets thirds be written as 33.3; the shares are then scaled,
	// for a plan wants the whole.
	if math.Abs(total-100) > 0.5 {
		return nil, fault.Invalid(field, "the shares must add to 100 %%; %s make %s %%", shares(parts), plain(total))
	}
	for i := range parts {
		parts[i].SharePct *= 100 / total
	}
	return parts, nil
}

// fibreShare splits one piece into a name and a share; 0 where none is said.
func fibreShare(field, piece string) (string, float64, error) {
	var name []string
	share := 0.0
	for _, word := range strings.Fields(strings.ReplaceAll(piece, "%", " ")) {
		if unicode.IsDigit(rune(word[0])) || word[0] == '-' || word[0] == '.' {
			v, err := strconv.ParseFloat(word, 64)
			if err != nil || !(v > 0 && v <= 100) {
				return "", 0, fault.OutOfRange(field, "a share is more than 0 and at most 100 %%, not %s", word)
			}
			share = v
			continue
		}
		name = append(name, word)
	}
	return strings.Join(name, " "), share, nil
}

func shares(parts []plan.Part) string {
	var s []string
	for _, p := range parts {
		s = append(s, plain(p.SharePct))
	}
	return strings.Join(s, " + ")
}

// WriteFurnish writes a blend the way ReadFurnish reads it.
func WriteFurnish(parts []plan.Part) string {
	if len(parts) == 1 && parts[0].SharePct == 100 {
		return parts[0].Fibre
	}
	var s []string
	for _, p := range parts {
		s = append(s, fmt.Sprintf("%s %s", p.Fibre, plain(p.SharePct)))
	}
	return strings.Join(s, ", ")
}

// FibreNames offers the fibres of the handbook.
func FibreNames() []Option {
	var list []Option
	for _, f := range fibre.All() {
		list = append(list, Option{Value: f.Name, Label: f.Kind})
	}
	return list
}
