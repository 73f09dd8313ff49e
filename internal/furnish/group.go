package furnish

import (
	"slices"

	"vatside/internal/measure"
)

// Group is what an additive is for.
type Group string

// The groups, in the order in which they go in.
const (
	Dye          Group = "dye"
	Filler       Group = "filler"
	Reserve      Group = "alkaline reserve"
	Pigment      Group = "pigment"
	Strengthener Group = "strength"
	RetentionAid Group = "retention aid"
	InternalSize Group = "internal size"
	Mordant      Group = "mordant" // sets a size or a dye
	FormationAid Group = "formation aid"
	SurfaceSize  Group = "surface size"
)

// Between is the least time between two additions, roll up (source:
// retention-aid-course-2008).
const Between = measure.Minutes(5)

// Where an additive goes in.
const (
	IntoStock = "stock" // beaten, roll up, before the vat
	IntoVat   = "vat"
	OnSheet   = "sheet" // dry
)

// order says when and where each group goes in: pigment, retention aid, size
// (retention-aid-course-2008); dye, size, alum (direct-dye-page); the rest is
// practice.
var order = map[Group]struct {
	turn  int
	where string
}{
	Dye: {1, IntoStock}, Filler: {2, IntoStock}, Reserve: {2, IntoStock}, Pigment: {2, IntoStock}, Strengthener: {3, IntoStock},
	RetentionAid: {4, IntoStock}, InternalSize: {5, IntoStock}, Mordant: {6, IntoStock},
	FormationAid: {7, IntoVat}, SurfaceSize: {8, OnSheet},
}

// Groups returns every group in the order in which they go in.
func Groups() []Group {
	return []Group{Dye, Filler, Reserve, Pigment, Strengthener, RetentionAid, InternalSize, Mordant, FormationAid, SurfaceSize}
}

// Turn is the additive's place in the order of addition, from 1; what the table
// does not have goes in with the pigments.
func (a Additive) Turn() int {
	if !a.Listed() {
		return order[Pigment].turn
	}
	return order[a.Group].turn
}

// Where says where it goes in: IntoStock, IntoVat or OnSheet.
func (a Additive) Where() string {
	if !a.Listed() {
		return IntoStock
	}
	return order[a.Group].where
}

// InOrder returns the additives in the order in which they go in; those of one
// turn stay as they stood.
func InOrder(list []Additive) []Additive {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b Additive) int { return a.Turn() - b.Turn() })
	return out
}

// Added is an additive of a paper, by name, and its dose.
type Added struct {
	Kind string
	Dose measure.Dose
}

// Clash is two additives that do not go together, and why.
type Clash struct {
	One, Other string // as given
	Text       string
	Source     string
}

// clash is a row of the table of clashes: one and other are names or groups,
// and the clash is felt when the other's dose is above over.
type clash struct {
	one, other   string
	over         measure.Dose
	text, source string
}

// Clashes returns what does not go together in one paper. Additives that the
// table does not have clash with nothing known.
func Clashes(list []Added) []Clash {
	known := make([]Additive, len(list))
	for i, a := range list {
		known[i] = Any(a.Kind)
	}
	var out []Clash
	for _, c := range load().clashes {
		for i, one := range list {
			for j, other := range list {
				if known[i].is(c.one) && known[j].is(c.other) && one.Dose > 0 && other.Dose > c.over {
					out = append(out, Clash{one.Kind, other.Kind, c.text, c.source})
				}
			}
		}
	}
	return out
}

// is reports whether the additive is the one, or of the group, that a row of
// clashes means.
func (a Additive) is(meant string) bool {
	return a.Listed() && (a.Name == meant || string(a.Group) == meant)
}
