package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/handbook"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// FormulasData is what the template of the list sets.
type FormulasData struct {
	page.Base
	Steps []handbook.Step
}

// Formulas lists the formulas by trade step.
func (p *Page) Formulas(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Formulas", page.Handbook)
	if err != nil {
		return err
	}
	return formulasTemplate.Write(w, http.StatusOK, FormulasData{Base: base, Steps: handbook.Steps()})
}

// FormulaData is what the template of one formula sets.
type FormulaData struct {
	page.Base
	Formula handbook.Formula
	Wrong   []part.Wrong
	Fields  []part.Field
	Can     bool // it can be tried
	Answer  []part.Figure
	Working string
	With    string
	Sources []Cited
}

// Cited is a source as a formula's page names it.
type Cited struct {
	source.Source
	Trust string
}

// Formula shows one formula, and what comes of the numbers in the address.
func (p *Page) Formula(w http.ResponseWriter, r *http.Request) error {
	f, ok := handbook.Get(r.PathValue("name"))
	if !ok {
		return fault.NotFound("The handbook has no formula of this name.")
	}
	base, err := p.frame.Base(w, r, f.Title(), page.Handbook)
	if err != nil {
		return err
	}
	d := FormulaData{Base: base, Formula: f}
	for _, s := range f.Sources() {
		d.Sources = append(d.Sources, Cited{s, trust[s.Grade]})
	}
	code := http.StatusOK
	inputs, can := f.Inputs()
	if can {
		form := page.ReadQuery(r)
		if err := d.try(form, inputs); err != nil {
			form.Refuse(err)
			code = http.StatusUnprocessableEntity
		}
		for _, in := range inputs {
			fd := form.Field(field(in, base.Speech))
			if strings.ContainsAny(fd.Value, "abcdefghijklmnopqrstuvwxyz°%") {
				fd.Unit = "" // it was typed with its own
			}
			d.Fields = append(d.Fields, fd)
		}
		d.Can, d.Wrong = true, form.Wrong()
	}
	return formulaTemplate.Write(w, code, d)
}

// try applies the formula once something was asked; what was typed for other
// units is spelled out first.
func (d *FormulaData) try(form *page.Form, inputs []handbook.Input) error {
	if !form.Values.Has("system") {
		return nil
	}
	typed := map[string]string{}
	was := page.ReadSystem(form.Get("system"))
	for _, in := range inputs {
		if was != d.Speech.System {
			form.Values.Set(in.Key, in.Spell(form.Get(in.Key), was))
		}
		typed[in.Key] = form.Get(in.Key)
	}
	a, err := d.Formula.Try(typed, d.Speech.System)
	if err != nil {
		return err
	}
	for i, res := range a.Results {
		fig := part.Figure{Key: "result-" + strings.ReplaceAll(strings.ToLower(res.Name), " ", "-"), Name: res.Name, Number: res.Text, RestsOn: part.RestsOn(d.Formula.Grade()), Large: i == 0}
		if res.Text == "" {
			fig.Number, fig.Unit = d.Speech.Show(res.Value, res.Unit)
		}
		d.Answer = append(d.Answer, fig)
	}
	d.Working, d.With = a.Working, strings.Join(a.With, ", ")
	return nil
}

// field asks for one input in the reader's units.
func field(in handbook.Input, s part.Speech) part.Field {
	fd := part.Field{Name: in.Key, Label: in.Label, Kind: part.Number, Required: true, Small: true}
	switch {
	case in.Options != nil:
		fd.Kind, fd.Small = part.Select, false
		for _, name := range in.Options {
			fd.Options = append(fd.Options, part.Option{Value: name, Label: name})
		}
		return fd
	case in.Text:
		fd.Kind = part.Text
		return fd
	}
	if fd.Unit = in.Unit(s.System); fd.Unit == "money" {
		fd.Unit = s.Currency
	}
	if in.Unit("metric") != in.Unit("us") {
		fd.Bare = fd.Unit
	}
	if low, high, unit, ok := in.Limits(); ok {
		fd.Hint = s.Range(low, high, unit)
	}
	return fd
}
