package ownfibre

import (
	"fmt"
	"slices"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// group is values that are thought of together.
type group struct {
	name   string
	values []value
}

// Group is some values on the page, folded to one line.
type Group struct {
	Name, Line string
	Open       bool
	Fields     []part.Field
}

// groups are all values that are asked, in the order of the work.
func groups() []group {
	var list []group
	for _, name := range fibre.Groups() {
		g := group{name: part.Upper(name)}
		for _, q := range fibre.Quantities() {
			if q.Group == name {
				g.values = append(g.values, value{Quantity: q, field: q.Key})
			}
		}
		list = append(list, g)
	}
	beaten := group{name: "Hours of beating"}
	for _, use := range slices.Insert(fibre.Uses(), 0, fibre.Usual) {
		beaten.values = append(beaten.values, value{fibre.Quantity{Key: use, Name: use, Unit: "h"}, "hours-" + strings.ReplaceAll(use, " ", "-"), true})
	}
	return slices.Insert(list, 1, beaten) // after what is bought
}

func (v value) asked(s part.Speech, like fibre.Fibre) part.Field {
	fd := part.Field{Name: v.field, Label: part.Upper(v.Name), Hint: v.beside(s, like), Kind: part.Text, Unit: v.shown(s)}
	if v.kind() == measure.OfLength {
		fd.Bare = fd.Unit
	}
	return fd
}

// shown are the groups as the page folds them.
func shown(f *page.Form, s part.Speech, like fibre.Fibre) []Group {
	var out []Group
	for _, g := range groups() {
		own, on := 0, Group{Name: g.name}
		for _, v := range g.values {
			fd := f.Field(v.asked(s, like))
			if strings.TrimSpace(fd.Value) != "" {
				own++
			}
			on.Open = on.Open || fd.Error != "" || strings.TrimSpace(fd.Value) != ""
			on.Fields = append(on.Fields, fd)
		}
		switch as := "as " + like.Name; {
		case like.Name == "":
			on.Line = "the near fibre is not known yet"
		case own > 0:
			on.Line = fmt.Sprintf("%d of your own, the rest %s", own, as)
		default:
			on.Line = as
		}
		out = append(out, on)
	}
	return out
}

func likeField() part.Field {
	fd := part.Field{Name: "like", Label: "Near to", Hint: "A fibre of the handbook. What you leave empty below is as it has it.", Kind: part.Suggest, Required: true}
	fd.Options = part.FibreNames(fibre.Shelf{})
	return fd
}

// about are the questions besides the numbers.
func about() []part.Field {
	kind := part.Field{Name: "kind", Label: "Kind", Hint: "Empty: as the near one.", Kind: part.Suggest}
	for _, f := range fibre.All() {
		if !slices.ContainsFunc(kind.Options, func(o part.Option) bool { return o.Value == f.Kind }) {
			kind.Options = append(kind.Options, part.Option{Value: f.Kind})
		}
	}
	return []part.Field{
		{Name: "name", Label: "Its name", Hint: "As you will write it in a furnish.", Kind: part.Text, Required: true},
		likeField(), kind,
		{Name: "note", Label: "Note", Kind: part.Long},
	}
}
