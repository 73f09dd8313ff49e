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
	Answer  []Said
	Working string
	With    string
	Sources []Cited
}

// Cited is a source as a formula's page names it.
type Cited struct {
	source.Source
	Trust string
}

// Said is one result: the first is set large, the others below it.
type Said struct {
	Name, Value string
	Figure      part.Figure
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
