package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// UnitsData is what the template of the units sets.
type UnitsData struct {
	page.Base
	Fields  []part.Field
	Wrong   []part.Wrong
	Answer  string
	Between string // the ends, where what was said is a range
	Wet     string
	Working []Line
	Notes   []string
	Units   []*part.Table
	Bases   *part.Table
}

// Line is one line of a conversion.
type Line struct {
	What, Working, Result string
	Source                string
}

// Units lists the units and converts what was typed.
func (p *Page) Units(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Units", page.Handbook)
	if err != nil {
		return err
	}
	d := UnitsData{Base: base, Units: unitTables(), Bases: baseTable()}
	form, code := page.ReadQuery(r), http.StatusOK
	if form.Values.Has("text") {
		c, err := measure.ConvertText(form.Get("text"), form.Get("to"), nil)
		if err != nil {
			form.Refuse(err)
			code = http.StatusUnprocessableEntity
		} else {
			d.answer(c)
		}
	}
	for _, f := range []part.Field{
		{Name: "text", Label: "What you have", Kind: part.Text, Required: true, Hint: "With its unit: 65 lb cover, 1 lb 4 oz, 22 x 30 in, 2 lb wet at 10 %."},
		{Name: "to", Label: "In", Kind: part.Text, Required: true, Hint: "A unit: g/m2, kg, mm, US gal, m2."},
	} {
		d.Fields = append(d.Fields, form.Field(f))
	}
	d.Wrong = form.Wrong()
	return unitsTemplate.Write(w, code, d)
}

// answer says what a conversion came to and how.
func (d *UnitsData) answer(c measure.Converted) {
	d.Answer = said(round(c.Value), c.Unit)
	if c.Side != 0 {
		d.Answer = said(round(c.Value), "") + " × " + said(round(c.Side), c.Unit)
	}
	if c.Low < c.High {
		d.Between = said(round(c.Low), "") + "–" + said(round(c.High), c.Unit)
	}
	if c.Wet != nil {
		d.Wet = said(round(*c.Wet), c.Unit)
	}
	for _, step := range c.Steps {
		l := Line{step.What, step.Working, step.Result, ""}
		switch s, ok := source.Get(step.Source); {
		case step.Source == measure.AsSaid:
			l.Source = "as you said"
		case ok:
			l.Source = s.Title
		}
		d.Working = append(d.Working, l)
	}
	d.Notes = c.Notes
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

func findUnits(asked []string) (out []Found) {
	for _, u := range measure.Units() {
		out = append(out, find(asked, Found{Name: u.Name, Text: part.Upper(string(u.Kind)), Href: "/handbook/units"}, strings.Join(u.Words, " ")))
	}
	for _, b := range measure.Bases() {
		out = append(out, find(asked, Found{Name: part.Upper(b.Name) + " basis", Text: "The pounds of an American paper.", Href: "/handbook/units#bases"}, strings.Join(b.Also, " ")))
	}
	return out
}
