package source

import (
	"cmp"
	"iter"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// joints are what people put between the words of a name, and marks that they
// leave out.
var joints = strings.NewReplacer("-", " ", "_", " ", ",", " ", "'", "", "’", "")

// Plain brings a name to the form it is looked up by: capitals, hyphens, commas,
// apostrophes and doubled spaces do not matter.
func Plain(name string) string {
	return strings.Join(strings.Fields(joints.Replace(strings.ToLower(name))), " ")
}

// Near returns up to n names like the one asked for, the nearest first: names
// it is part of, or that differ by few letters. The known names come in plain
// form, each with the name it stands for; names unlike all are answered with
// none.
func Near(asked string, n int, known iter.Seq2[string, string]) []string {
	asked = Plain(asked)
	if asked == "" || n <= 0 {
		return nil
	}
	best := map[string]int{}
	for plain, name := range known {
		if off, near := unlike(asked, plain); near {
			if old, ok := best[name]; !ok || off < old {
				best[name] = off
			}
		}
	}
	out := make([]string, 0, len(best))
	for name := range best {
		out = append(out, name)
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(best[a], best[b]), cmp.Compare(a, b))
	})
	// Beside a name that is missed by a letter, one missed by three is noise.
	kept := slices.DeleteFunc(out, func(name string) bool { return best[name] > best[out[0]]+2 })
	return kept[:min(n, len(kept))]
}

// unlike counts the letters by which two names differ, and says whether they
// are still near. Two letters may be wrong, of long names a third, of very
// short ones only one: more is another word.
func unlike(asked, known string) (int, bool) {
	off := levenshtein.ComputeDistance(asked, known)
	if len(asked) >= 3 && (strings.Contains(known, asked) || len(known) >= 3 && strings.Contains(asked, known)) {
		off = min(off, 1)
	}
	letters := len([]rune(asked))
	return off, off <= max(2, letters/3) && (off <= 1 || letters >= 4)
}
