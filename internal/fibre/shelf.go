package fibre

import (
	"strings"

	"vatside/internal/fault"
	"vatside/internal/source"
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
	asked := source.Plain(name)
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
	if source.Plain(name) == "" {
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
	return source.Near(name, n, func(yield func(plain, name string) bool) {
		t := load()
		for known, i := range t.byName {
			if !yield(known, t.fibres[i].Name) {
				return
			}
		}
		for known, i := range s.byName {
			if !yield(known, s.own[i].Name) {
				return
			}
		}
	})
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
