package trouble

import (
	"cmp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"vatside/internal/fault"
)

// mostSaid is the longest complaint that is read, in bytes.
const mostSaid = 500

// Find returns the symptom of a key, a name or any of the words makers use for
// it; a whole sentence will do if it holds such words. What is not found, or
// may be several, is a fault of that field which names what is near.
func Find(field, text string) (Symptom, error) {
	said := words(text[:min(len(text), mostSaid)])
	if len(said) == 0 || len(text) > mostSaid {
		return Symptom{}, fault.Invalid(field, "say in a few words what is wrong with the sheet, such as %q", load().symptoms[0].Name)
	}
	t := load()
	best, found := 0, []Symptom(nil)
	for i, s := range t.symptoms {
		switch n := heard(t.heard[i], said); {
		case n == 0 || n < best:
		case n == best:
			found = append(found, s)
		default:
			best, found = n, []Symptom{s}
		}
	}
	switch len(found) {
	case 1:
		return found[0].clone(), nil
	case 0:
		found = near(said)
	}
	names := make([]string, len(found))
	for i, s := range found {
		names[i] = s.Name
	}
	return Symptom{}, fault.Invalid(field, "%q is not one fault known here; near it are: %s", text, strings.Join(names, "; "))
}

// exact is more than any number of letters heard.
const exact = 1 << 20

// heard is how many letters of one of a symptom's names are in what was said, all
// words of that name being there; 0 if none is.
func heard(names [][]string, said []string) int {
	best := 0
	for _, want := range names {
		if slices.Equal(want, said) {
			return exact
		}
		if n, all := letters(want, said); all {
			best = max(best, n)
		}
	}
	return best
}

// letters counts those of the words of a name that were said, and whether all were.
func letters(want, said []string) (n int, all bool) {
	all = true
	for _, w := range want {
		if slices.ContainsFunc(said, func(have string) bool { return alike(w, have) }) {
			n += len(w)
		} else {
			all = false
		}
	}
	return n, all
}

// alike takes one slip of the keyboard in a long word.
func alike(a, b string) bool {
	return a == b || min(len(a), len(b)) >= 6 && a[0] == b[0] && levenshtein.ComputeDistance(a, b) <= 1
}

// near are the three symptoms that share most with what was said, and of those
// the ones whose names take the fewest changes.
func near(said []string) []Symptom {
	type guess struct {
		s              Symptom
		shared, change int
	}
	t, text := load(), strings.Join(said, " ")
	guesses := make([]guess, len(t.symptoms))
	for i, s := range t.symptoms {
		g := guess{s: s, change: exact}
		for _, name := range t.heard[i] {
			n, _ := letters(name, said)
			g.shared = max(g.shared, n)
			g.change = min(g.change, levenshtein.ComputeDistance(strings.Join(name, " "), text))
		}
		guesses[i] = g
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return cmp.Or(b.shared-a.shared, a.change-b.change) })
	out := make([]Symptom, 0, 3)
	for _, g := range guesses[:3] {
		out = append(out, g.s)
	}
	return out
}

func (s Symptom) names() []string { return append([]string{s.Key, s.Name}, s.Aliases...) }

// clone keeps the table safe from a caller who changes a slice.
func (s Symptom) clone() Symptom {
	s.Aliases = slices.Clone(s.Aliases)
	return s
}

// idle are words that say nothing of the fault.
var idle = strings.Fields("the a an my is are was it its i in on of to and or very all some from at with sheet sheets paper papers come comes")

// spelling brings other spellings, and forms that endings do not explain, to ours.
var spelling = map[string]string{
	"mold": "mould", "molds": "mould", "moldy": "mouldy", "screen": "mould", "color": "colour", "colors": "colour", "colored": "coloured",
	"fiber": "fibre", "fibers": "fibre", "stuck": "sticks", "torn": "tears", "tore": "tears", "clung": "clings", "shrunk": "shrank", "shrinks": "shrank",
}

// words are the stems of the words of a text that tell, in our spelling.
func words(text string) []string {
	var all, out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !('a' <= r && r <= 'z' || r == '\'') }) {
		if better, ok := spelling[w]; ok {
			w = better
		}
		all = append(all, stem(w))
		if !slices.Contains(idle, w) {
			out = append(out, stem(w))
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// stem takes the ending off a word, so that cockle, cockles and cockling are one.
func stem(w string) string {
	for _, end := range []string{"ing", "ed", "es", "s", "e"} {
		if short, ok := strings.CutSuffix(w, end); ok && len(short) >= 3 && !strings.HasSuffix(w, "ss") {
			return short
		}
	}
	return w
}
