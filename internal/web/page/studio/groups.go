package studio

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// group is one kind of equipment as the page folds it.
type group struct {
	name, note string
	of         func() []blank[draft] // what there is one of
	list       equipment
	add        string                    // what its button adds
	unsaid     func(part.Speech) string  // what a plan takes where the list is empty
	says       func(c *reading) []string // its line, in pieces
	told       func(c *reading) string   // what follows from it
}

// Row is one thing.
type Row struct {
	Key, Number, Title string
	Cells              []Cell
	State              part.Field
	Note               string
	Works              bool // its force can be worked out
	Gone               bool
}

// Cell is a field of a row; By is the one kind of thing that it is asked of.
type Cell struct {
	part.Field
	By string
}

func (g group) ask() []blank[draft] {
	if g.of == nil {
		return nil
	}
	return g.of()
}

// groups stand in the order of the work.
var groups = []group{
	{name: "Studio", of: general},
	{name: "Vats and stock", of: stock, list: vats, add: "a vat", unsaid: takes("a vat of %s", 80, "L"), says: vatLine},
	{name: "Moulds", list: moulds, add: "a mould", note: "A plan picks the mould that dries nearest to the size wanted.", says: mouldLine,
		unsaid: func(part.Speech) string { return "A plan says which formed size to look for." }},
	{name: "Beaters", list: beaters, add: "a beater", note: "A mallet is no machine: leave it out, and write the hours of beating into the paper.", unsaid: takes("a beater of %s", 680, "g"), says: beaterLine},
	{name: "Presses and felts", of: felts, list: presses, add: "a press", note: "Pressure on the sheet is what counts, not tons: the larger the sheet, the softer it is pressed. No press: say boards and buckets as weights.", unsaid: takes("a press of %s", 60, "kN"), says: pressLine},
	{name: "Dryers", list: dryers, add: "a dryer", unsaid: takes("a stack of 20 places that moves %s of air", 0.03, "m³/s"), says: dryerLine},
	{name: "Scales", list: scales, add: "a scale", unsaid: func(part.Speech) string { return "A plan does not reckon with the step of a scale." }, says: scaleLine},
	{name: "Room", of: rooms, note: "The whole year, or the seasons where they differ; a plan takes the season it falls in.", says: roomLine},
	{name: "Water and height", of: water, says: waterLine, told: boils},
	{name: "Prices and hours", of: prices, says: priceLine},
}

func takes(format string, v float64, unit string) func(part.Speech) string {
	return func(s part.Speech) string {
		return "A plan takes " + fmt.Sprintf(format, s.One(v, unit)) + ", and says so."
	}
}

// Fibre is one of the studio's own fibres, which has a page of its own.
type Fibre struct {
	part.Link
	Like string
}

// set makes the page: the form as it was typed over what the records have.
func set(base page.Base, c *reading, open string) Data {
	d := Data{Base: base, Typed: string(base.Speech.System), Revision: c.Get("revision"), Kept: c.Values.Has("typed")}
	for _, g := range groups {
		out := Group{Name: g.name, Note: g.note, Add: g.add}
		before := c.Faulty()
		out.Fields = shown(c.Form, c.Speech, g.ask())
		if g.list != nil {
			out.ID, out.Rows = g.list.id(), g.list.rows(c)
			fresh := g.list.fresh(c)
			out.New = &fresh
			if len(out.Rows) == 0 {
				out.Unsaid = g.unsaid(c.Speech)
			}
		}
		if g.says != nil {
			out.Line = part.Upper(strings.Join(slices.DeleteFunc(g.says(c), func(s string) bool { return s == "" }), "; "))
		}
		if g.told != nil {
			out.Told = g.told(c)
		}
		out.Open = open != "" && open == out.ID || c.Faulty() > before
		d.Groups = append(d.Groups, out)
	}
	for _, f := range c.now.Kit.Fibres {
		d.Fibres = append(d.Fibres, Fibre{Link: part.Link{Href: "/studio/fibres/" + url.PathEscape(f.Name), Text: f.Name}, Like: f.Like})
	}
	d.Wrong = c.Wrong()
	return d
}

// Faulty counts the fields made so far that something is wrong with.
func (c *reading) Faulty() int {
	n := 0
	for _, w := range c.Wrong() {
		if w.Anchor != "" {
			n++
		}
	}
	return n
}
