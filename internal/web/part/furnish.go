package part

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/sizing"
)

// Words that say of a raw fibre how it is bought or kept.
const (
	cookedWord = "cooked"
	rawWord    = "raw"
)

// ReadFurnish reads a blend as people write it: "cotton rag 70, abaca 30", in
// any order of name and share, or one name alone for the whole. A fibre that is
// beaten by itself says so, "abaca 30 beaten 6 h", and a raw one that is bought
// or kept cooked, "kozo 20 cooked". Fibres are called by the shelf's name
// afterwards.
func ReadFurnish(shelf fibre.Shelf, field, typed string) ([]plan.Part, error) {
	pieces := strings.FieldsFunc(typed, func(r rune) bool { return r == ',' || r == ';' || r == '+' || r == '\n' })
	var parts []plan.Part
	var total float64
	for _, piece := range pieces {
		words := strings.Fields(strings.ReplaceAll(piece, "%", " "))
		if len(words) == 0 {
			continue
		}
		p, err := readPart(shelf, field, words)
		if err != nil {
			return nil, err
		}
		parts = append(parts, p)
		total += p.SharePct
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

// Waterleaf reports whether a paper has no size, neither on it nor in it; sized
// says that a size was put on it whatever the design meant.
func Waterleaf(d plan.Paper, sized bool) bool {
	inStock := slices.ContainsFunc(d.Additives, func(a plan.Additive) bool { return len(sizing.Cures(a.Kind)) > 0 })
	return d.SurfaceSize == "" && !sized && !inStock
}

// readPart reads one fibre with what is said of it.
func readPart(shelf fibre.Shelf, field string, words []string) (plan.Part, error) {
	name, rest := named(shelf, words)
	p, unknown := plan.Part{Fibre: name}, []string{}
	for i := 0; i < len(rest); i++ {
		w, next := strings.ToLower(rest[i]), ""
		if i+1 < len(rest) {
			next = rest[i+1]
		}
		cooked := w == cookedWord
		switch {
		case numeral(w):
			v, err := strconv.ParseFloat(w, 64)
			if err != nil || !(v > 0 && v <= 100) {
				return p, fault.OutOfRange(field, "a share is more than 0 and at most 100 %%, not %s", w)
			}
			if p.SharePct != 0 {
				return p, fault.Invalid(field, "%s has two shares; hours of beating are written so: abaca 30 beaten 6 h", strings.Join(words, " "))
			}
			p.SharePct = v
		case w == "beaten" && numeral(next):
			h, err := strconv.ParseFloat(strings.TrimSuffix(next, "h"), 64)
			if err != nil || !(h >= 0 && h <= float64(fibre.MostHours)) {
				return p, fault.OutOfRange(field, "hours of beating are between 0 and %g, not %s", float64(fibre.MostHours), next)
			}
			p.BeatingHours = &h
			i++
			if i+1 < len(rest) && slices.Contains([]string{"h", "hour", "hours"}, rest[i+1]) {
				i++
			}
		case name != "" && (cooked || w == rawWord):
			p.Cooked = &cooked
		default:
			unknown = append(unknown, rest[i])
		}
	}
	if name != "" && len(unknown) == 0 {
		return p, nil
	}
	asked := strings.TrimSpace(name + " " + strings.Join(unknown, " "))
	if _, err := shelf.Find(field, asked); err != nil {
		return p, err
	}
	return p, fault.Invalid(field, "write the name and then its share, such as %s 30", asked)
}

// named finds the fibre's name, the longest run of words that the shelf knows,
// for a name may itself begin with cooked; and the words besides.
func named(shelf fibre.Shelf, words []string) (string, []string) {
	start := 0
	for start < len(words) && numeral(words[start]) {
		start++
	}
	end := start
	for end < len(words) && !numeral(words[end]) {
		end++
	}
	for k := end; k > start; k-- {
		if f, ok := shelf.Get(strings.Join(words[start:k], " ")); ok {
			return f.Name, slices.Concat(words[:start], words[k:])
		}
	}
	return "", words
}

// numeral reports whether a word begins as a number does.
func numeral(word string) bool {
	return word != "" && (unicode.IsDigit([]rune(word)[0]) || word[0] == '-' || word[0] == '.')
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
	var s []string
	for _, p := range parts {
		text := p.Fibre
		if len(parts) > 1 || p.SharePct != 100 || p.BeatingHours != nil || p.Cooked != nil {
			text += " " + plain(p.SharePct)
		}
		if p.BeatingHours != nil {
			text += fmt.Sprintf(" beaten %s h", Written(*p.BeatingHours))
		}
		if p.Cooked != nil && *p.Cooked {
			text += " " + cookedWord
		} else if p.Cooked != nil {
			text += " " + rawWord
		}
		s = append(s, text)
	}
	return strings.Join(s, ", ")
}

// Shelf is the fibres a studio can name: its own ones and the handbook's. Where
// its own cannot be meant, which their page tells, the handbook's alone.
func Shelf(kit plan.Studio) fibre.Shelf {
	shelf, err := fibre.NewShelf(kit.Fibres)
	if err != nil {
		return fibre.Shelf{}
	}
	return shelf
}

// FibreNames offers the fibres of a shelf, own ones first.
func FibreNames(shelf fibre.Shelf) []Option {
	var list []Option
	for _, f := range shelf.All() {
		o := Option{Value: f.Name, Label: f.Kind}
		if f.Like != "" {
			o.Label = "your own, like " + f.Like
		}
		list = append(list, o)
	}
	return list
}
