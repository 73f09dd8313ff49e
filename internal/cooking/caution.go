package cooking

import (
	"fmt"
	"slices"
	"strings"
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
	// What may happen and the number that goes with it, for the handbook.
	Hazard string `json:"-"`
	Limit  string `json:"-"`
}

// known are the cautions of data/cautions.csv with the acts that call for them.
type actCaution struct {
	Caution
	acts []string
}

var cautions = sync.OnceValue(func() []actCaution {
	hazards := map[string][2]string{}
	mustRead("data/hazards.csv", 3, func(r []string) error {
		hazards[r[0]] = [2]string{r[1], r[2]}
		return nil
	})
	var out []actCaution
	mustRead("data/cautions.csv", 4, func(r []string) error {
		if _, ok := source.Get(r[3]); !ok {
			return fmt.Errorf("the source %q is not in the registry", r[3])
		}
		out = append(out, actCaution{Caution{r[0], r[2], r[3], hazards[r[0]][0], hazards[r[0]][1]}, source.Entries(r[1])})
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

// Plant is what is known of a plant's harm, or of the law on it.
type Plant struct {
	Name, Botanical string
	Verdict         string // Never, WithCare, NoneFound, Protected
	Hazard, Do      string
	Source          source.Source
}

// What is said of a plant.
const (
	Never     = "never"
	WithCare  = "care"
	NoneFound = "none found"
	Protected = "protected"
)

var plants = sync.OnceValue(func() []Plant {
	var out []Plant
	mustRead("data/plants.csv", 6, func(r []string) error {
		of, ok := source.Get(r[5])
		if !ok {
			return fmt.Errorf("the source %q is not in the registry", r[5])
		}
		if !slices.Contains([]string{Never, WithCare, NoneFound, Protected}, r[2]) {
			return fmt.Errorf("no verdict %q", r[2])
		}
		out = append(out, Plant{r[0], r[1], r[2], r[3], r[4], of})
		return nil
	})
	return out
})

// Plants returns the checked list of plants, those never to be cooked first.
// What is not on it is not thereby safe.
func Plants() []Plant { return slices.Clone(plants()) }

// PlantsNamed returns what the list says of a plant by a word of its name.
func PlantsNamed(name string) []Plant {
	var out []Plant
	for _, word := range strings.Fields(source.Plain(name)) {
		for _, p := range plants() {
			if slices.Contains(strings.Fields(source.Plain(p.Name)), word) && !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}
