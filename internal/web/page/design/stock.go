package design

import (
	"fmt"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// row is one of several like things as it was typed.
type row struct {
	i          int
	name, much string
}

// rows are those that are filled in; touched reports whether any was changed.
func (r reader) rows(what, much string) (list []row, touched bool) {
	for i := 1; i <= mostRows; i++ {
		t := row{i, r.Get(named(what, i)), r.Get(named(much, i))}
		touched = touched || !r.Kept(named(what, i)) || !r.Kept(named(much, i))
		switch {
		case t.name == "" && t.much == "":
		case t.name == "":
			r.Refuse(fault.Invalid(named(what, i), "say what this is so much of, or empty the blank beside it"))
		case t.much == "":
			r.Refuse(fault.Invalid(named(much, i), "say how much of it; 0 leaves it out"))
		default:
			list = append(list, t)
		}
	}
	return list, touched
}

// before finds what a row stood for: what had its place under that name, else
// one of that name which no other row is.
func before[T any](rows []row, t row, old []T, name func(T) string) (T, bool) {
	mine := func(i int) bool { return i < len(old) && strings.EqualFold(name(old[i]), t.name) }
	if mine(t.i - 1) {
		return old[t.i-1], true
	}
	for i, o := range old {
		if mine(i) && !slices.ContainsFunc(rows, func(u row) bool { return u.i == i+1 && strings.EqualFold(u.name, t.name) }) {
			return o, true
		}
	}
	var none T
	return none, false
}

// furnish reads shares as parts of the whole, whatever they add up to.
func (r reader) furnish(old []plan.Part) []plan.Part {
	rows, touched := r.rows("fibre", "share")
	if !touched {
		return old
	}
	for i, t := range rows {
		if known, ok := r.shelf.Get(t.name); ok {
			rows[i].name = known.Name
		}
	}
	var list []plan.Part
	total := 0.0
	for _, t := range rows {
		p, had := before(rows, t, old, func(p plan.Part) string { return p.Fibre })
		p.Fibre = t.name
		if !had || !r.Kept(named("share", t.i)) {
			v, err := r.Read(named("share", t.i), t.much, measure.OfPercent)
			r.Refuse(err)
			p.SharePct = v
		}
		if p.SharePct > 0 {
			r.at(fmt.Sprintf("paper.furnish[%d]", len(list)), named("fibre", t.i), named("share", t.i), "share_pct")
			list, total = append(list, p), total+p.SharePct
		}
	}
	if len(list) == 0 && len(r.Faults) == 0 {
		r.Refuse(fault.Invalid("fibre-1", "name at least one fibre and its share"))
	}
	for i := range list {
		list[i].SharePct *= 100 / total
	}
	return list
}

// at says on which row of the form a fault of the plan belongs.
func (r reader) at(path, what, much string, keys ...string) {
	r.At[path] = what
	for _, k := range keys {
		r.At[path+"."+k] = much
	}
}
