package cooking

import (
	"embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"vatside/internal/fibre"
	"vatside/internal/source"
)

//go:embed data/*.csv
var data embed.FS

// mustRead reads a table of the package; a malformed one is a defect of the
// program.
func mustRead(name string, columns int, each func([]string) error) {
	if err := source.Table(data, name, columns, each); err != nil {
		panic("cooking: " + err.Error())
	}
}

// Recipe is one cook as it stands in print: recipes disagree, so they are shown
// side by side and none is made the middle of the others.
type Recipe struct {
	Plant, Part           string
	Alkali                string  // as printed; of two, both
	ChargeLow, ChargeHigh float64 // % of dry fibre; 0: not stated, or not by mass
	LiquorLPerKg          float64 // 0: not stated
	HoursLow, HoursHigh   float64
	YieldLow, YieldHigh   float64 // % of the dry fibre; 0: not stated
	Note                  string
	Source                source.Source
}

var recipes = sync.OnceValue(func() []Recipe {
	var out []Recipe
	mustRead("data/recipes.csv", 12, func(r []string) error {
		of, ok := source.Get(r[11])
		if !ok {
			return fmt.Errorf("the source %q is not in the registry", r[11])
		}
		one := Recipe{Plant: r[0], Part: r[1], Alkali: r[2], Note: r[10], Source: of}
		for i, into := range []*float64{&one.ChargeLow, &one.ChargeHigh, &one.LiquorLPerKg, &one.HoursLow, &one.HoursHigh, &one.YieldLow, &one.YieldHigh} {
			if r[3+i] == "" {
				continue
			}
			v, err := strconv.ParseFloat(r[3+i], 64)
			if err != nil {
				return err
			}
			*into = v
		}
		if one.ChargeLow > one.ChargeHigh || one.HoursLow > one.HoursHigh || one.YieldLow > one.YieldHigh {
			return fmt.Errorf("low above high")
		}
		out = append(out, one)
		return nil
	})
	return out
})

// Recipes returns all of them, plant by plant.
func Recipes() []Recipe { return slices.Clone(recipes()) }

// RecipesFor returns those of a plant by its name, by another that the fibre
// table knows, or by a word of it.
func RecipesFor(plant string) []Recipe {
	name := source.Plain(plant)
	if f, ok := fibre.Get(name); ok {
		name = source.Plain(f.Name)
	}
	var out []Recipe
	for _, r := range recipes() {
		if p := source.Plain(r.Plant); name != "" && (strings.Contains(name, p) || strings.Contains(p, name)) {
			out = append(out, r)
		}
	}
	return out
}

// AnyPlant is what recipes that name no plant are for.
const AnyPlant = "any plant"

// HasRecipes reports whether recipes name that very plant.
func HasRecipes(plant string) bool {
	return slices.ContainsFunc(recipes(), func(r Recipe) bool { return source.Plain(r.Plant) == source.Plain(plant) })
}

// Order is how alkali and fibre go into the pot, step by step.
func Order(a Alkali) []string {
	if a.Caustic && a.Name != WoodAshLye && a.Name != SlakedLime {
		return []string{
			"Weigh the dry fibre and soak it overnight.",
			"Fill the pot with all of its water, cool or lukewarm, never over 38 °C.",
			"Goggles and face shield, long gloves, apron. Sprinkle the weighed beads into the full pot while you stir; never pour water on lye.",
			"When all is dissolved put the fibre in, then heat.",
		}
	}
	first := "Weigh the dry fibre and soak it overnight."
	switch a.Name {
	case SlakedLime:
		return []string{first, "Stir the lime into a bucket of cool water to a milk; goggles, for grains lodge under the lids.", "Pour the milk into the pot, put the fibre in, then heat.", "Stir often: most of the lime lies at the bottom as a reserve."}
	case WoodAshLye:
		return []string{first, "Sealed goggles, long gloves, apron: let hot water stand on sieved hardwood ash, settle, and strain.", "Measure the strength before anything else. " + ashTest(), "Put the measured liquor into the pot, make it up with water, put the fibre in, then heat."}
	}
	return []string{first, "Dissolve the weighed alkali in warm water in a jug, stirring.", "Bring the pot near the boil, take it off the flame, and pour the solution in in portions: dry soda thrown into boiling water spits.", "Put the drained fibre in and bring it to a simmer, lid ajar."}
}

// OrderWithLime is the order where soda ash and lime make lye in the pot: cool,
// as with lye.
func OrderWithLime() []string {
	return []string{
		"Weigh the dry fibre and soak it overnight.",
		"Goggles and face shield, long gloves, apron. Dissolve the soda ash in the full pot of cool or lukewarm water.",
		"Stir the lime into a bucket of cool water to a milk, and pour it into the pot while you stir: from here on it is lye.",
		"Put the fibre in, then heat. Chalk settles: stir, or it burns on.",
	}
}

// EndTests are how to tell that a cook is done: of bark, of rag, and of
// everything else.
func EndTests(f fibre.Fibre) []string {
	tests := []string{"From the first hour on, every 30 minutes, lift a strand or a piece out with tongs, rinse it, and pull."}
	switch f.Kind {
	case "rag":
		tests = append(tests, "Done when size, starch and dirt are out: a rinsed piece is soft, wets at once, and its rinse water stays clear.", "Its threads must still be strong: rag is cleaned by the cook, not opened, and a piece that tears easily was cooked too long.")
	case "bast", "":
		tests = append(tests, "Done when it parts easily both along and across the grain.", "Flax, hemp and kenaf tell less by the pull: rub a rinsed tuft between gloved fingers until it falls into single fibres.")
	default:
		tests = append(tests, "Done when a rinsed piece rubs to mush between gloved fingers and no longer squeaks.")
	}
	return append(tests, "Jar: a pinch shaken in clear water, held against the light, shows no clumps.", "Dark liquor hides a strip: dip, rinse the strip at once, then read.")
}

// SecondCook is what to do where a cook failed its test.
const SecondCook = "Where it fails after twice the usual time: drain, rinse, and cook again in fresh liquor of the same strength, reckoned on the dry fibre that is left, testing every 30 minutes. Never strengthen the old liquor; it is spent and dark. Go to a harsher alkali only when the second cook fails as well."

// AfterCook is what follows the cook.
const AfterCook = "Let the fibre cool in its liquor overnight, then drain it in a mesh bag over a bucket and rinse."
