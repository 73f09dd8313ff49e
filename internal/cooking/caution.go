package cooking

import (
	"fmt"
	"slices"
	"sync"

	"vatside/internal/source"
)

// Caution is one thing to know before the act, with where it comes from.
// Cautions defer to the maker's data sheet, to local rules and to licensed
// practice.
type Caution struct {
	Code   string `json:"code"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// known are the cautions of data/cautions.csv with the acts that call for them.
type actCaution struct {
	Caution
	acts []string
}

var cautions = sync.OnceValue(func() []actCaution {
	var out []actCaution
	mustRead("data/cautions.csv", 4, func(r []string) error {
		if _, ok := source.Get(r[3]); !ok {
			return fmt.Errorf("the source %q is not in the registry", r[3])
		}
		out = append(out, actCaution{Caution{r[0], r[2], r[3]}, source.Entries(r[1])})
		return nil
	})
	return out
})

// caution returns one by its code; tests hold that every code used is there.
func caution(code string) Caution {
	for _, c := range cautions() {
		if c.Code == code {
			return c.Caution
		}
	}
	panic("cooking: no caution " + code)
}

// Acts are what cautions are asked for: "weigh lye", "cook" and so on.
func Acts() []string {
	var out []string
	for _, c := range cautions() {
		for _, a := range c.acts {
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	return out
}

// CautionsAt returns what to say at acts, gravest first, each once.
func CautionsAt(acts ...string) []Caution {
	var out []Caution
	for _, c := range cautions() {
		if slices.ContainsFunc(c.acts, func(a string) bool { return slices.Contains(acts, a) }) {
			out = append(out, c.Caution)
		}
	}
	return out
}

// CautionsOf returns what to say before a cook with an alkali.
func CautionsOf(a Alkali) []Caution {
	acts := []string{"cook", "clear up"}
	switch {
	case a.Name == SlakedLime:
		acts = append(acts, "lime", "caustic")
	case a.Name == WoodAshLye:
		acts = append(acts, "ash lye", "caustic")
	case a.Name == Lye || a.Name == PotashLye:
		acts = append(acts, "lye", "caustic")
	case a.Name == PotashCarbonate:
		acts = append(acts, "potash", "mild")
	default:
		acts = append(acts, "soda ash", "mild")
	}
	return CautionsAt(acts...)
}

// CautionsWithLime are those of soda ash and lime in one pot, which is lye.
func CautionsWithLime() []Caution {
	return CautionsAt("caustic", "lye made", "lime", "soda ash", "cook", "clear up")
}
