package knows

import (
	"cmp"
	"fmt"

	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Item is one number with what was seen of it.
type Item struct {
	part.Reckoned
	Index    int
	StepName string
	Saw      []Saw
	Earlier  int // further ones, seen earlier
	Value    part.Field
	Basis    part.Field
	Words    part.Field
	Open     bool
}

// Saw is what one making says of a number.
type Saw struct {
	Tag, Href, Says string
	ID              string
	Excluded        string
	Reason          part.Field
	Open            bool
}

// item sets a number with its forms.
func (g *gathered) item(index int, n part.Reckoned, f *page.Form, s part.Speech) Item {
	item := Item{Reckoned: n, Index: index}
	said := map[string]string{}
	mine := f.Get("key") == n.Key
	field := func(fd part.Field) part.Field { // ids differ from number to number, names do not
		if mine {
			return f.Field(fd)
		}
		return fd
	}
	unit := n.Unit
	if unit == "mm" && s.US() {
		unit = "in"
	}
	if n.Step != "" {
		var minutes float64
		item.StepName, minutes = g.step(n.Step)
		item.Was, item.Now, _ = n.Times(minutes, 0)
		if unit = "× usual"; minutes > 0 {
			unit = "× " + part.Minutes(minutes)
		}
		for _, o := range n.Seen {
			_, _, saw := n.Times(minutes, o.Value)
			said[o.ID] = saw
		}
	}
	item.Value = field(part.Field{Name: "value", Label: "Fix it at", Unit: unit, Kind: part.Number, Mode: "decimal", Required: true})
	item.Basis = field(part.Field{Name: "basis", Label: "How do you know?", Kind: part.Select, Options: bases})
	item.Words = field(part.Field{Name: "why", Label: "Why", Kind: part.Text})
	item.Open = mine && len(f.Faults) > 0
	for i, o := range n.Seen { // oldest first
		if len(n.Seen)-i > mostSeen && o.Excluded == "" && f.Get("id") != o.ID {
			item.Earlier++
			continue
		}
		saw := Saw{Tag: g.tags[o.Making], Href: "/makings/" + o.Making, Says: cmp.Or(said[o.ID], n.Here(o)), ID: o.ID, Excluded: o.Excluded}
		saw.Reason = part.Field{Name: "reason", Label: "Why is it left out?", Kind: part.Text, Required: true}
		if f.Get("id") == o.ID && len(f.Faults) > 0 {
			saw.Reason, saw.Open = f.Field(saw.Reason), true
			item.Open = true
		}
		item.Saw = append(item.Saw, saw)
	}
	return item
}

// FieldID makes an id that is the page's only one.
func (i Item) FieldID(name string) string { return fmt.Sprintf("f-%d-%s", i.Index, name) }
