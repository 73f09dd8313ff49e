package trouble

import (
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"vatside/internal/fault"
)

// Find returns the symptom of a key, a name or any of the words makers use for
// it; a whole sentence will do if it holds such words. What is not found, or
// may be several, is a fault of that field which names what is near.
func Find(field, text string) (Symptom, error) {
	said := words(text)
	if len(said) == 0 {
		return Symptom{}, fault.Invalid(field, "say what is wrong with the sheet, such as %q", load().symptoms[0].Name)
	}
	best, found := 0, []Symptom(nil)
	for _, s := range load().symptoms {
		switch n := s.heard(said); {
		case n == 0 || n < best:
		case n == best:
			found = append(found, s)
		default:
			best, found = n, []Symptom{s}
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
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

// heard is how many letters of one of the symptom's names are in what was said,
// all words of that name being there; 0 if none is.
func (s Symptom) heard(said []string) int {
	best := 0
	for _, name := range s.names() {
		want := words(name)
		if slices.Equal(want, said) {
			return exact
		}
		letters := 0
		for _, w := range want {
			if !slices.ContainsFunc(said, func(have string) bool { return alike(w, have) }) {
				letters = 0
				break
			}
			letters += len(w)
		}
		best = max(best, letters)
	}
	return best
}

func (s Symptom) names() []string { return append([]string{s.Key, s.Name}, s.Aliases...) }

// alike takes one slip of the keyboard in a long word.
func alike(a, b string) bool {
	return a == b || min(len(a), len(b)) >= 6 && a[0] == b[0] && levenshtein.ComputeDistance(a, b) <= 1
}

// near are the three symptoms whose names take the fewest changes.
func near(said []string) []Symptom {
	text := strings.Join(said, " ")
	all := slices.Clone(load().symptoms)
	far := map[string]int{}
	for _, s := range all {
		far[s.Key] = exact
		for _, name := range s.names() {
			far[s.Key] = min(far[s.Key], levenshtein.ComputeDistance(strings.Join(words(name), " "), text))
		}
	}
	slices.SortStableFunc(all, func(a, b Symptom) int { return far[a.Key] - far[b.Key] })
	return all[:3]
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
