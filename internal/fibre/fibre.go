// Package fibre is the fibre table of the handbook and how much each fibre
// shrinks.
//
// It models what a papermaker asks of a fibre before a making: in which form
// it is bought and how wet, how long it is beaten for which use, how it drains
// and couches, and by how much a sheet of it shrinks, dried free and dried
// held. Every number is a Value: a band with its source and grade; most are
// from memory and wide, and are there to be replaced by a studio's records.
//
// Assumed: hours are hours of a studio Hollander at 15–25 g/L with a moderate
// roll; shrinkage is linear and the same both ways. Sources: docs/models/fibre.md.
// Missing: cooking and its yield, strength, colour, how the grain of laid
// lines makes the two shrinkages differ, and what fillers take off them.
package fibre

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"vatside/internal/fault"
	"vatside/internal/source"
)

// Value is a handbook number: the middle and the band in which nine studios in
// ten would find it, its source in the registry and its grade. The unit is
// that of the field that holds it.
type Value struct {
	Low, Mid, High float64
	Source         string
	Grade          source.Grade
	Note           string
}

// Known reports whether the table has the value.
func (v Value) Known() bool { return v.Source != "" }

// Fibre is one row of the table.
type Fibre struct {
	Name        string
	Kind        string   // bast, leaf, seed hair, rag, wood, waste, grass
	Aliases     []string // other names it is asked for by
	Forms       []string // as bought or gathered
	Preparation string
	Drainage    string // fast, moderate, slow, very slow
	Forming     string // at the vat and in couching
	Cautions    []string
	LongFibre   bool // knots at usual consistency, wants formation aid
	HoldFlat    bool // for flat sheets it must be dried held

	ShrinkStart Value // linear shrinkage dried free, unbeaten, a fraction
	ShrinkMost  Value // the same after endless beating, a fraction
	ShrinkTau   Value // hours in which 63 % of the way is gone
	ShrinkBand  float64
	ShrinkNote  string

	Bought       Value // moisture as bought and kept in the room, a fraction of total mass (wet basis)
	RoomMoisture Value // of the sheet at 50 % RH, a fraction of bone-dry mass (dry basis)
	Density      Value // of the dry sheet, g/cm³, lightly to long beaten
	Length       Value // of the fibre as it comes to the vat, mm
	Price        Value // retail, US dollars per kilogram as bought

	uses []UseHours
}

// UseHours is how long a fibre is beaten for one use.
type UseHours struct {
	Use   string
	Hours Value
}

// Usual is the use that every fibre has: the beat to begin with.
const Usual = "usual"

// Uses are what the hours of beating are told apart by.
func Uses() []string {
	return []string{"book text", "cover", "calligraphy", "print", "box", "lamp", "mending", "sculpture"}
}

// Uses returns the hours of beating by use, the usual beat first.
func (f Fibre) Uses() []UseHours { return slices.Clone(f.uses) }

// HoursFor returns the hours of beating for a use; the empty use means the
// usual beat. It reports false where the fibre is not made into that.
func (f Fibre) HoursFor(use string) (Value, bool) {
	use = plain(use)
	if use == "" {
		use = Usual
	}
	for _, u := range f.uses {
		if u.Use == use {
			return u.Hours, true
		}
	}
	return Value{}, false
}

// All returns every fibre in the order of the table.
func All() []Fibre {
	t := load()
	out := make([]Fibre, len(t.fibres))
	for i, f := range t.fibres {
		out[i] = f.clone()
	}
	return out
}

// clone keeps the table safe from a caller who changes a slice.
func (f Fibre) clone() Fibre {
	f.Aliases, f.Forms, f.Cautions, f.uses = slices.Clone(f.Aliases), slices.Clone(f.Forms), slices.Clone(f.Cautions), slices.Clone(f.uses)
	return f
}

// Get returns the fibre of that name or alias; capitals, hyphens and doubled
// spaces do not matter.
func Get(name string) (Fibre, bool) {
	t := load()
	i, ok := t.byName[plain(name)]
	if !ok {
		return Fibre{}, false
	}
	return t.fibres[i].clone(), true
}

// Find is Get with a fault that belongs to field and offers near names.
func Find(field, name string) (Fibre, error) {
	if f, ok := Get(name); ok {
		return f, nil
	}
	if plain(name) == "" {
		return Fibre{}, fault.Invalid(field, "a fibre is needed, such as %s", strings.Join(names()[:3], ", "))
	}
	if near := Near(name, 3); len(near) > 0 {
		return Fibre{}, fault.Invalid(field, "%q is not in the fibre table; did you mean %s?", name, strings.Join(near, ", "))
	}
	return Fibre{}, fault.Invalid(field, "%q is not in the fibre table, which has %s", name, strings.Join(names(), ", "))
}

// Near returns up to n names of the table like the one given, the nearest
// first: names it is part of, or that differ by few letters. Names unlike all
// are answered with none.
func Near(name string, n int) []string {
	asked := plain(name)
	if asked == "" || n <= 0 {
		return nil
	}
	type hit struct {
		name string
		off  int
	}
	best := map[string]int{}
	for known, i := range load().byName {
		off := levenshtein.ComputeDistance(asked, known)
		if len(asked) >= 3 && (strings.Contains(known, asked) || strings.Contains(asked, known)) {
			off = min(off, 1)
		}
		// Two letters may be wrong, of long names a third, of very short ones
		// only one: more is another word.
		if letters := len([]rune(asked)); off > 2 && off > letters/3 || off > 1 && letters < 4 {
			continue
		}
		canon := load().fibres[i].Name
		if old, ok := best[canon]; !ok || off < old {
			best[canon] = off
		}
	}
	hits := make([]hit, 0, len(best))
	for name, off := range best {
		hits = append(hits, hit{name, off})
	}
	slices.SortFunc(hits, func(a, b hit) int {
		return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(a.name, b.name))
	})
	out := make([]string, 0, n)
	for _, h := range hits[:min(n, len(hits))] {
		out = append(out, h.name)
	}
	return out
}

// names lists the table's names in its order.
func names() []string {
	var out []string
	for _, f := range load().fibres {
		out = append(out, f.Name)
	}
	return out
}

// plain brings a name to the form it is looked up by.
func plain(name string) string {
	name = strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(name))
	return strings.Join(strings.Fields(name), " ")
}

// finite reports whether x is a number within the closed range.
func finite(x, low, high float64) bool { return !math.IsNaN(x) && x >= low && x <= high }
