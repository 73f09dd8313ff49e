package plan

import (
	"slices"
	"strings"

	"vatside/internal/plan"
)

// Thing is a piece of equipment that can be asked about.
type Thing struct {
	Name, Kind string
	Used, Out  bool // in the plan as it stands; taken to be out of order
}

// things are the studio's equipment by name, what this plan uses first; what is
// out of order already is left out.
func things(kit plan.Studio, was plan.Plan, asked []string) []Thing {
	var list []Thing
	add := func(kind, name string) {
		if name == "" || has(kit.Without, name) || slices.ContainsFunc(list, func(t Thing) bool { return strings.EqualFold(t.Name, name) }) {
			return
		}
		list = append(list, Thing{name, kind, has(was.Uses, name), has(asked, name)})
	}
	for _, k := range kinds(kit) {
		for _, name := range k.names {
			add(k.name, name)
		}
	}
	slices.SortStableFunc(list, func(a, b Thing) int {
		switch {
		case a.Used && !b.Used:
			return -1
		case b.Used && !a.Used:
			return 1
		}
		return 0
	})
	return list
}

// kind is the names of one kind of equipment; what has none cannot be asked about.
type kind struct {
	name  string
	names []string
}

func kinds(k plan.Studio) []kind {
	vats := named(k.Vats, func(v plan.Vat) string { return v.Name })
	if k.VatL != nil {
		vats = append(vats, "")
	}
	return []kind{
		{"vat", vats},
		{"mould", named(k.Moulds, func(m plan.Mould) string { return m.Name })},
		{"beater", named(one(k.Beater, k.Beaters), func(b plan.Beater) string { return b.Name })},
		{"press", named(one(k.Press, k.Presses), func(p plan.Press) string { return p.Name })},
		{"dryer", named(one(k.Dryer, k.Dryers), func(d plan.Dryer) string { return d.Name })},
	}
}

func named[T any](list []T, name func(T) string) []string {
	var out []string
	for _, v := range list {
		out = append(out, name(v))
	}
	return out
}

func one[T any](first *T, list []T) []T {
	if first == nil {
		return list
	}
	return slices.Insert(slices.Clone(list), 0, *first)
}

func has(names []string, name string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, name) })
}
