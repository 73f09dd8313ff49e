package fibre

import (
	"cmp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"vatside/internal/fault"
)

// Shelf is the fibres a studio can ask for: its own, before those of the
// handbook. The zero Shelf is the handbook. A Shelf is not changed once made
// and may be read from everywhere.
type Shelf struct {
	own    []Fibre
	byName map[string]int // names of own in plain form
}

// All returns every fibre of the handbook in the order of the table.
func All() []Fibre { return Shelf{}.All() }

// Get returns the fibre of the handbook of that name or alias; capitals,
// hyphens, commas and doubled spaces do not matter.
func Get(name string) (Fibre, bool) { return Shelf{}.Get(name) }

// Find is Get with a fault that belongs to field and offers near names.
func Find(field, name string) (Fibre, error) { return Shelf{}.Find(field, name) }

// Near returns up to n names of the handbook like the one given, the nearest
// first: names it is part of, or that differ by few letters. Names unlike all
// are answered with none.
func Near(name string, n int) []string { return Shelf{}.Near(name, n) }

// All returns every fibre of the shelf, own ones first.
func (s Shelf) All() []Fibre {
	t := load()
	out := make([]Fibre, 0, len(s.own)+len(t.fibres))
	for _, f := range s.own {
		out = append(out, f.clone())
	}
	for _, f := range t.fibres {
		out = append(out, f.clone())
	}
	return out
}

// Get returns the fibre of that name or alias.
func (s Shelf) Get(name string) (Fibre, bool) {
	asked := plain(name)
	if i, ok := s.byName[asked]; ok {
		return s.own[i].clone(), true
	}
	t := load()
	if i, ok := t.byName[asked]; ok {
		return t.fibres[i].clone(), true
	}
	return Fibre{}, false
}

// Find is Get with a fault that belongs to field and offers near names.
func (s Shelf) Find(field, name string) (Fibre, error) {
	if f, ok := s.Get(name); ok {
		return f, nil
	}
	if plain(name) == "" {
		return Fibre{}, fault.Invalid(field, "a fibre is needed, such as %s", strings.Join(s.names()[:3], ", "))
	}
	if near := s.Near(name, 3); len(near) > 0 {
		return Fibre{}, fault.Invalid(field, "%q is not in the fibre table; did you mean %s?", name, strings.Join(near, ", "))
	}
	return Fibre{}, fault.Invalid(field, "%q is not in the fibre table, which has %s", name, strings.Join(s.names(), ", "))
}

// Near returns up to n names of the shelf like the one given, the nearest
// first.
func (s Shelf) Near(name string, n int) []string {
	asked := plain(name)
	if asked == "" || n <= 0 {
		return nil
	}
	best := map[string]int{}
	note := func(known, canon string) {
		if off, near := unlike(asked, known); near {
			if old, ok := best[canon]; !ok || off < old {
				best[canon] = off
			}
		}
	}
	t := load()
	for known, i := range t.byName {
		note(known, t.fibres[i].Name)
	}
	for known, i := range s.byName {
		note(known, s.own[i].Name)
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
	if len(asked) >= 3 && (strings.Contains(known, asked) || strings.Contains(asked, known)) {
		off = min(off, 1)
	}
	letters := len([]rune(asked))
	return off, off <= max(2, letters/3) && (off <= 1 || letters >= 4)
}

// names lists the shelf's names in its order.
func (s Shelf) names() []string {
	var out []string
	for _, f := range s.own {
		out = append(out, f.Name)
	}
	for _, f := range load().fibres {
		out = append(out, f.Name)
	}
	return out
}
