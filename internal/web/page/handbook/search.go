package handbook

import (
	"cmp"
	"slices"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/handbook"
)

// Found is one thing the search may show; its rank is how well it answers, 0
// not at all.
type Found struct {
	Name, Text, Href string
	rank             int
}

// How well a word asked for is met, best last.
const (
	inMatter = 1 // somewhere in what is said of the thing
	inText   = 2
	inName   = 4
	begins   = 8 // a word of the name
)

// find ranks a thing: every word asked for must be in it, in its name best of
// all. matter is what else is said of it.
func find(asked []string, f Found, matter ...string) Found {
	name, text, rest := " "+strings.ToLower(f.Name), strings.ToLower(f.Text), strings.ToLower(strings.Join(matter, " "))
	for _, word := range asked {
		word = stem(word)
		switch {
		case strings.Contains(name, " "+word):
			f.rank += begins
		case strings.Contains(name, word):
			f.rank += inName
		case strings.Contains(text, word):
			f.rank += inText
		case strings.Contains(rest, word):
			f.rank += inMatter
		default:
			f.rank = 0
			return f
		}
	}
	return f
}

// stem takes off a plural s: felts finds felt.
func stem(word string) string {
	if len(word) > 3 && strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") {
		return word[:len(word)-1]
	}
	return word
}

// ranked keeps what answers, the best first.
func ranked(list []Found) []Found {
	list = slices.DeleteFunc(list, func(f Found) bool { return f.rank == 0 })
	slices.SortStableFunc(list, func(a, b Found) int { return cmp.Compare(b.rank, a.rank) })
	return list
}

// findNotes searches the notes about one kind of stuff.
func findNotes(about string) func(asked []string) []Found {
	return func(asked []string) (out []Found) {
		for _, t := range fibre.Notes(about) {
			for _, n := range t.Notes {
				out = append(out, find(asked, Found{Name: n.Name, Text: n.Text, Href: "/handbook/" + about + "#" + handbook.Term{Word: "for " + t.Name}.ID()}, about, t.Name))
			}
		}
		return out
	}
}
