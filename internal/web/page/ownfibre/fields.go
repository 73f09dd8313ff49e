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
	bought, beaten, shrinks, sheet := group{name: "Buying and cooking"}, group{name: "Hours of beating"}, group{name: "Shrinkage"}, group{name: "Fibre and sheet"}
	for _, q := range fibre.Quantities() {
		v := value{field: q.Key, key: q.Key, label: part.Upper(q.Name), unit: q.Unit, kind: kindOf(q.Unit)}
		of := &sheet
		switch {
		case strings.HasPrefix(q.Key, "shrink_"):
			of = &shrinks
		case strings.HasPrefix(q.Key, "cook_"), slices.Contains([]string{"bought_moisture", "price", "yield"}, q.Key):
			of = &bought
		}
		of.values = append(of.values, v)
	}
	for _, use := range slices.Insert(fibre.Uses(), 0, fibre.Usual) {
		beaten.values = append(beaten.values, value{field: "hours-" + strings.ReplaceAll(use, " ", "-"), key: use, hours: true,
			label: part.Upper(use), unit: "h", kind: measure.OfHours})
	}
	return []group{bought, beaten, shrinks, sheet}
}

func (v value) asked(s part.Speech, like fibre.Fibre) part.Field {
	fd := part.Field{Name: v.field, Label: v.label, Hint: v.beside(s, like), Kind: part.Text, Unit: v.shown(s)}
	if v.kind == measure.OfLength {
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
