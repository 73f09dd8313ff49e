package intake

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

var (
	ratioMarks   = regexp.MustCompile(`[/:]`)
	ratio        = regexp.MustCompile(`^\d{1,3}([/:]\d{1,3})+%?$`)
	stroke       = regexp.MustCompile(`(\d)/(\d)`)
	decimalComma = regexp.MustCompile(`(\d),(\d)`)
	leadingRatio = regexp.MustCompile(`^(\d{1,3}(?:\s*[/:]\s*\d{1,3})+)\s*%?\s+(\D.*)$`)
	partMarks    = regexp.MustCompile(`\s*(?:[,;+&/、，；]|\band\b|\bund\b|\bwith\b|\bplus\b)\s*`)
	shareBefore  = regexp.MustCompile(`^([\d.,]+)\s*(%|parts?\b|g\b|kg\b|lbs?\b|oz\b)?\s*(?:of\s+)?(\D.*)$`)
	shareAfter   = regexp.MustCompile(`^(.*?\D)[\s(]*([\d.,]+)\s*(%|parts?|g|kg|lbs?|oz)?\)?$`)
	shareWithin  = regexp.MustCompile(`^.*\pL\W+[\d.,]+\s*(%|parts?\b|g\b|kg\b|lbs?\b|oz\b)?\W*(?:of\s+)?(\pL.*)$`)
	fraction     = regexp.MustCompile(`^(?:(\d+)/(\d+)|([½⅓⅔¼¾]))\s*(?:of\s+)?(\D.*)$`)
)

var signs = map[string]float64{"½": 50, "⅓": 100.0 / 3, "⅔": 200.0 / 3, "¼": 25, "¾": 75}

// furnish reads fibres and their shares: "70 % cotton rag, 30 % abaca",
// "abaca/flax 60/40", "half-and-half" in names alone as equal parts. Fibres the
// shelf does not know keep the name they were given.
func readFurnish(text string, shelf fibre.Shelf, sys measure.System) (parts []plan.Part, notes []string, err error) {
	t, _ := roughly(text)
	names, shares := split(t)
	if len(names) == 0 {
		return nil, nil, fault.Invalid("", "%q names no fibre; write them like 70 %% cotton rag, 30 %% abaca", text)
	}
	total, said := 0.0, 0
	for _, s := range shares {
		if s > 0 {
			total += s
			said++
		}
	}
	switch {
	case said == 0 && len(names) > 1:
		notes = append(notes, fmt.Sprintf("“%s” says no shares; equal parts are taken", text))
	case said == len(names)-1 && total < 100: // the rest is the last one's
		for i := range shares {
			if shares[i] == 0 {
				shares[i] = 100 - total
			}
		}
		total, said = 100, len(names)
	case said > 0 && said < len(names):
		return nil, nil, fault.Invalid("", "%q gives some shares and not others", text)
	case said > 0 && math.Abs(total-100) > 0.5:
		notes = append(notes, fmt.Sprintf("the shares of “%s” add up to %.4g; they are taken in that proportion", text, total))
	}
	for i, name := range names {
		share := 100 / float64(len(names))
		if said > 0 {
			share = shares[i] / total * 100
		}
		if f, ok := shelf.Get(name); ok {
			name = f.Name
		} else if unparted(name, shelf) {
			return nil, nil, fault.Invalid("", "%q has a share between two fibres and no mark; write them like 70 %% cotton rag, 30 %% abaca", text)
		} else if near := shelf.Near(name, 1); len(near) == 1 && alike(name, near[0]) {
			notes = append(notes, fmt.Sprintf("“%s” is taken as %s", name, near[0]))
			name = near[0]
		} else {
			notes = append(notes, fmt.Sprintf("“%s” is in neither the handbook nor your own fibres; its name is kept", name))
		}
		parts = append(parts, plan.Part{Fibre: name, SharePct: math.Round(share*1e6) / 1e6})
	}
	return merge(parts), notes, nil
}

// unparted reports whether a name holds a share that belongs to one of two
// fibres: one with a unit, or one before a fibre that is known.
func unparted(name string, shelf fibre.Shelf) bool {
	m := shareWithin.FindStringSubmatch(name)
	if m == nil {
		return false
	}
	_, known := shelf.Get(m[2])
	return m[1] != "" || known
}

// alike holds of names that a slip of the pen parts.
func alike(a, b string) bool {
	return len([]rune(a)) >= 4 && strings.EqualFold(a[:1], b[:1])
}

// merge adds up a fibre that is named twice.
func merge(parts []plan.Part) []plan.Part {
	var out []plan.Part
	at := map[string]int{}
	for _, p := range parts {
		if i, ok := at[p.Fibre]; ok {
			out[i].SharePct += p.SharePct
			continue
		}
		at[p.Fibre] = len(out)
		out = append(out, p)
	}
	return out
}

// split parts a text into fibres and what stands with each; 0: nothing does.
func split(t string) (names []string, shares []float64) {
	if m := leadingRatio.FindStringSubmatch(t); m != nil {
		figures := ratioMarks.Split(m[1], -1)
		list := partMarks.Split(m[2], -1)
		if len(list) == 1 && len(figures) == len(strings.Fields(m[2])) {
			list = strings.Fields(m[2])
		}
		if len(list) == len(figures) {
			for i, f := range figures {
				v, _ := strconv.ParseFloat(strings.TrimSpace(f), 64)
				names, shares = append(names, strings.TrimSpace(list[i])), append(shares, v)
			}
			return names, shares
		}
	}
	if i := strings.LastIndex(t, " "); i > 0 && ratio.MatchString(t[i+1:]) {
		return split(t[i+1:] + " " + t[:i])
	}
	for _, piece := range partMarks.Split(guardFractions(t), -1) {
		name, share := part(strings.ReplaceAll(piece, "\x00", "/"))
		if strings.ContainsFunc(name, unicode.IsLetter) {
			names, shares = append(names, name), append(shares, share)
		}
	}
	return names, shares
}

// guardFractions keeps the stroke of 1/2 and the comma of 33,3 from parting
// fibres.
func guardFractions(t string) string {
	t = stroke.ReplaceAllString(t, "$1\x00$2")
	return decimalComma.ReplaceAllString(t, "$1.$2")
}

func part(piece string) (name string, share float64) {
	piece = strings.Trim(piece, " .()")
	if m := fraction.FindStringSubmatch(piece); m != nil {
		if v, ok := signs[m[3]]; ok {
			return strings.TrimSpace(m[4]), v
		}
		a, _ := strconv.ParseFloat(m[1], 64)
		b, _ := strconv.ParseFloat(m[2], 64)
		if b > 0 {
			return strings.TrimSpace(m[4]), 100 * a / b
		}
	}
	figure, unit := "", ""
	if m := shareBefore.FindStringSubmatch(piece); m != nil {
		figure, unit, name = m[1], m[2], m[3]
	} else if m := shareAfter.FindStringSubmatch(piece); m != nil {
		name, figure, unit = m[1], m[2], m[3]
	} else {
		return piece, 0
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(figure, ",", "."), 64)
	if err != nil {
		return piece, 0
	}
	if g, err := measure.Parse(measure.OfMass, "1 "+unit, measure.Metric); err == nil && unit != "" {
		v *= g // shares told by mass
	}
	return strings.Trim(name, " .()-:%"), v
}
