package handbook

import (
	"fmt"
	"net/http"
	"strings"

	"vatside/internal/cooking"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PapersData is what the template of the named sizes sets.
type PapersData struct {
	page.Base
	Groups []SizesOf
}

// SizesOf are the sizes that one source names.
type SizesOf struct {
	Source part.Cited
	Sizes  []Size
}

// Size is a size that has a name, and what else it is called.
type Size struct {
	Name, Sides, Also string
}

// Papers lists the sizes that have a name.
func (p *Page) Papers(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Sizes", page.Handbook)
	if err != nil {
		return err
	}
	d := PapersData{Base: base}
	for _, z := range sheet.NamedSizes() {
		cited := part.Cite(z.Source, source.Must(z.Source).Grade)
		if n := len(d.Groups); n == 0 || d.Groups[n-1].Source != cited {
			d.Groups = append(d.Groups, SizesOf{Source: cited})
		}
		line := base.Speech.SizeLine(float64(z.Long), float64(z.Short))
		also, sides, two := strings.Cut(line, ", ")
		switch {
		case !two:
			also, sides = "", line
		case also == z.Name:
			also = ""
		}
		last := &d.Groups[len(d.Groups)-1]
		last.Sizes = append(last.Sizes, Size{z.Name, sides, also})
	}
	return papersTemplate.Write(w, http.StatusOK, d)
}

func findSizes(asked []string) (out []Found) {
	for _, z := range sheet.NamedSizes() {
		out = append(out, find(asked, Found{Name: z.Name, Text: "A size of sheet.", Href: "/handbook/papers"}))
	}
	return out
}

// unitTables are the units by what they measure.
func unitTables() (list []*part.Table) {
	for _, u := range measure.Units() {
		name := part.Upper(string(u.Kind))
		if n := len(list); n == 0 || list[n-1].Caption != name {
			list = append(list, &part.Table{Caption: name, Columns: []part.Column{{Label: "Unit"}, {Label: "Is", Unit: u.In, Number: true}, {Label: "Also read"}}})
		}
		last := list[len(list)-1]
		is := said(u.Factor, "")
		if u.Offset != 0 {
			is = "(n − " + said(u.Offset, "") + ") × " + said(round(u.Factor), "")
		}
		row := part.Row{Cells: []string{u.Name, is, strings.Join(u.Words, ", ")}}
		if len(u.USOnly) > 0 {
			row.Note = "In US units also " + strings.Join(u.USOnly, ", ") + "."
		}
		last.Rows = append(last.Rows, row)
	}
	return list
}

// baseTable is what one pound of each basis comes to.
func baseTable() *part.Table {
	t := &part.Table{Caption: "Pounds of American papers", Columns: []part.Column{
		{Label: "Basis"}, {Label: "Sheet", Unit: "in"}, {Label: "Ream", Number: true}, {Label: "1 lb is", Unit: "g/m²", Number: true}}}
	for _, b := range measure.Bases() {
		row := part.Row{Cells: []string{part.Upper(b.Name), said(b.Long, "") + " × " + said(b.Short, ""), said(float64(b.Sheets), ""), said(round(b.PerPound()), "")}}
		if len(b.Also) > 0 {
			row.Note = "Also " + strings.Join(b.Also, ", ") + "."
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// tablespoon is one outside the US, mL; an American one holds a seventieth less,
// a teaspoon a third.
const tablespoon = 15.0

// spoonTable is what a level spoonful of a product weighs, and the other way
// about, each with the band of what it weighs by volume.
func spoonTable() *part.Table {
	t := &part.Table{Caption: "Level tablespoons of 15 mL", Columns: []part.Column{
		{Label: "Product"}, {Label: "A spoon is", Unit: "g", Number: true}, {Label: "10 g are", Unit: "spoons", Number: true}}}
	add := func(name string, bulk source.Value) {
		spoon := banded(func(b float64) float64 {
			m, _ := furnish.SpoonMass(tablespoon, measure.Density(b)) // the table's bulks are within the range, by test
			return float64(m)
		}, bulk.Low, bulk.Mid, bulk.High)
		back := banded(func(b float64) float64 { return 10 / (b * tablespoon) }, bulk.High, bulk.Mid, bulk.Low)
		row := part.Row{Cells: []string{part.Upper(name), spoon, back}}
		if bulk.Note != "" {
			row.Note = part.Upper(bulk.Note) + "."
		}
		t.Rows = append(t.Rows, row)
	}
	for _, name := range cooking.Spooned() {
		add(name, cooking.Bulk(name))
	}
	for _, a := range furnish.InOrder(furnish.Additives()) {
		if a.Bulk.Known() {
			add(a.Name, a.Bulk)
		}
	}
	return t
}

// banded says the middle and the ends of what hangs on a value; the ends stay on
// one line.
func banded(f func(float64) float64, low, mid, high float64) string {
	say := func(v float64) string { return said(measure.Significant(v, 2), "") } // what is remembered has no more
	return fmt.Sprintf("%s (%s–\u2060%s)", say(f(mid)), say(f(low)), say(f(high)))
}
