package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/ask"
	"vatside/internal/fault"
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
	Spoons  *part.Table
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
	d := UnitsData{Base: base, Units: unitTables(), Bases: baseTable(), Spoons: spoonTable()}
	form, code := page.ReadQuery(r), http.StatusOK
	if form.Values.Has("text") {
		form.At = map[string]string{"density_g_ml": "text", "product": "text"}
		c, err := ask.ConvertRequest{Text: form.Get("text"), To: form.Get("to")}.Answer()
		if err != nil {
			form.Refuse(ofWhat(err))
			code = http.StatusUnprocessableEntity
		} else {
			d.answer(c)
		}
	}
	for _, f := range []part.Field{
		{Name: "text", Label: "What you have", Kind: part.Text, Required: true, Hint: "With its unit: 65 lb cover, 1 lb 4 oz, 22 x 30 in, 2 lb wet at 10 %, 1.5 US tbsp soda ash."},
		{Name: "to", Label: "In", Kind: part.Text, Required: true, Hint: "A unit: g/m2, kg, mm, US gal, US tbsp."},
	} {
		d.Fields = append(d.Fields, form.Field(f))
	}
	d.Wrong = form.Wrong()
	return unitsTemplate.Write(w, code, d)
}

// ofWhat asks, where a volume is wanted as a mass or the other way about, of
// what it is.
func ofWhat(err error) error {
	if list := fault.All(err); len(list) > 0 && list[0].Field == "density_g_ml" {
		return fault.Invalid("text", "a volume is no mass: say of what it is, such as 1.5 US tbsp soda ash, one of those under By the spoon; what is not there, and what burns, is weighed")
	}
	return err
}

// answer says what a conversion came to and how.
func (d *UnitsData) answer(c ask.ConvertAnswer) {
	d.Answer = said(round(c.Value), c.Unit)
	if c.SecondSide != nil {
		d.Answer = said(round(c.Value), "") + " × " + said(round(*c.SecondSide), c.Unit)
	}
	if c.Low < c.High {
		d.Between = said(round(c.Low), "") + "–" + said(round(c.High), c.Unit)
	}
	if c.Wet != nil {
		d.Wet = said(round(*c.Wet), c.Unit)
	}
	for _, step := range c.Sum {
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

func findUnits(asked []string) (out []Found) {
	for _, u := range measure.Units() {
		out = append(out, find(asked, Found{Name: u.Name, Text: part.Upper(string(u.Kind)), Href: "/handbook/units"}, strings.Join(u.Words, " ")))
	}
	for _, b := range measure.Bases() {
		out = append(out, find(asked, Found{Name: part.Upper(b.Name) + " basis", Text: "The pounds of an American paper.", Href: "/handbook/units#bases"}, strings.Join(b.Also, " ")))
	}
	return out
}
