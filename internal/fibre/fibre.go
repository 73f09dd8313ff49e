// Package fibre is the fibre table of the handbook, the shelf that a studio
// puts its own fibres on, and how much each fibre shrinks.
//
// It models what a papermaker asks of a fibre before a making: in which form
// it is bought and how wet, whether it is cooked and what is left of it, how
// long it is beaten for which use, how it drains and couches, how dense the
// sheet is, and by how much it shrinks, dried free and dried held. A treatment
// that makes another pulp is a row of its own. Every number is a Value: a band
// with its source and grade; most are from memory and wide, and are there to
// be replaced by a studio's records. What is not known is left unknown.
//
// Assumed: hours are hours of a studio Hollander at 15–25 g/L with a moderate
// roll; shrinkage is linear and the same both ways. Sources: docs/models/fibre.md.
// Missing: strength in numbers, colour, how the grain of laid lines makes the
// two shrinkages differ, and what fillers take off them.
package fibre

import (
	"math"
	"slices"

	"vatside/internal/source"
)

// Fibre is one row of the table.
type Fibre struct {
	Name        string
	Kind        string   // bast, leaf, seed hair, rag, wood, waste, grass, mixed
	Aliases     []string // other names it is asked for by
	Forms       []string // as bought or gathered
	Preparation string
	Drainage    string // fast, moderate, slow, very slow
	Forming     string // at the vat and in couching
	Cautions    []string
	LongFibre   bool // knots at usual consistency, wants formation aid
	HoldFlat    bool // for flat sheets it must be dried held
	Foams       bool // its sap foams in the pot

	ShrinkStart source.Value // linear shrinkage dried free, unbeaten, a fraction
	ShrinkMost  source.Value // the same after endless beating, a fraction
	ShrinkTau   source.Value // hours in which 63 % of the way is gone
	ShrinkBand  float64
	ShrinkNote  string

	Bought       source.Value // moisture as bought and kept in the room, a fraction of total mass (wet basis)
	RoomMoisture source.Value // of the sheet at 50 % RH, a fraction of bone-dry mass (dry basis)
	Density      source.Value // of the dry sheet, g/cm³: lightly, usually, long beaten (DensityBand)
	Length       source.Value // of the fibre as it comes to the vat, mm
	Price        source.Value // retail, US dollars per kilogram as bought

	Translucency string       // of the sheet, in words, lightly to long beaten
	Strength     string       // character of the sheet, in words
	Dryings      []string     // ways of drying that suit, the first to begin with
	Freeness     source.Value // Canadian standard freeness at the usual beat, mL
	Coarseness   source.Value // mass of fibre to its length, mg/m
	Yield        source.Value // dry pulp at the vat over dry fibre as bought or gathered, a fraction
	Cook         *Cook        // nil: it is not cooked
	Raw          bool         // bought or picked unpulped: it must be cooked or rotted first

	Like string // of an own fibre: the fibre of the handbook it starts from
	Note string // of an own fibre: what the maker says of it

	uses []UseHours
}

// Cook is how a fibre is cooked, or may be.
type Cook struct {
	With   string       // the alkali
	Alkali source.Value // of With, a fraction of dry fibre
	Hours  source.Value // at a simmer, h
}

// MustCook reports whether the fibre comes unpulped and is opened by a cook.
func (f Fibre) MustCook() bool { return f.Raw && f.Cook != nil }

// UseHours is how long a fibre is beaten for one use.
type UseHours struct {
	Use   string
	Hours source.Value
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
func (f Fibre) HoursFor(use string) (source.Value, bool) {
	use = source.Plain(use)
	if use == "" {
		use = Usual
	}
	for _, u := range f.uses {
		if u.Use == use {
			return u.Hours, true
		}
	}
	return source.Value{}, false
}

// clone keeps the table safe from a caller who changes a slice.
func (f Fibre) clone() Fibre {
	f.Aliases, f.Forms, f.Cautions = slices.Clone(f.Aliases), slices.Clone(f.Forms), slices.Clone(f.Cautions)
	f.Dryings, f.uses = slices.Clone(f.Dryings), slices.Clone(f.uses)
	if f.Cook != nil {
		cook := *f.Cook
		f.Cook = &cook
	}
	return f
}

// finite reports whether x is a number within the closed range.
func finite(x, low, high float64) bool { return !math.IsNaN(x) && x >= low && x <= high }
