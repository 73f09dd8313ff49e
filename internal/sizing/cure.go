package sizing

import (
	"slices"
	"strings"

	"vatside/internal/source"
)

// Cure is how long a size in the stock needs after drying before the paper
// resists water, and where.
type Cure struct {
	Size        string       // as the table of additives names it
	Temperature source.Value // °C
	Hours       source.Value
}

// cures is the table, by size, the coolest first. That ketene dimer wants days
// in a room, and less when warm, is told in sizing-agents-2004; how many is
// remembered. Mills cure it in minutes at 90-120 °C (akd-sizing-2025), too hot
// for a studio.
var cures = []Cure{
	{"AKD", source.Said(15, 20, 25, "memory", "the room"), source.Said(7*24, 21*24, 28*24, "memory", "days are told; two to four weeks are remembered")},
	{"AKD", source.Said(50, 60, 65, "memory", "a warm cupboard with air"), source.Said(2, 4, 8, "memory", "a few hours")},
	{"rosin size", source.Said(15, 20, 25, "memory", "the room"), source.Said(0, 0, 24, "memory", "set by alum when the sheet is dry")},
	{"ASA", source.Said(15, 20, 25, "memory", "the room"), source.Said(0, 12, 48, "memory", "")},
}

// Cures returns the ways a size in the stock cures, the coolest first; none
// where nothing is known.
func Cures(size string) []Cure {
	var out []Cure
	for _, c := range cures {
		if source.Plain(c.Size) == source.Plain(size) {
			out = append(out, c)
		}
	}
	return out
}

// GlassCaution says why sized paper is dried elsewhere.
const GlassCaution = "Sized paper is never dried on glass or mirror: it sticks and is ruined. Dry it in the stack, between blotters, on felt or hung."

// smooth are the words by which glass is known in a way of drying.
var smooth = []string{"glass", "mirror", "window", "windowpane", "pane", "acrylic"}

// Sticks reports whether a sheet would stick to what it is dried on: sized in
// the stock, or sized on the surface and dried again, and laid on glass or
// mirror (practice). A board that is not said to be of glass holds no one.
func Sticks(sized bool, drying string) bool {
	return sized && slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(drying), func(r rune) bool { return r < 'a' || r > 'z' }),
		func(word string) bool { return slices.Contains(smooth, word) })
}
