package handbook

import (
	"fmt"
	"net/http"
	"strings"

	"vatside/internal/furnish"
	"vatside/internal/handbook"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// AdditivesData is what the template of the additives sets.
type AdditivesData struct {
	page.Base
	Groups []AdditiveGroup
}

// AdditiveGroup are the additives of one purpose, in the order in which they go
// in.
type AdditiveGroup struct {
	ID, Name, Where string
	Turn            int
	Additives       []AdditiveEntry
}

// AdditiveEntry is one additive with its numbers in the reader's units.
type AdditiveEntry struct {
	furnish.Additive

	ID, Also, Made, Works string
	Numbers               []Number
	Not                   []Together // what it does not go together with
}

// Together is what does not go together, and why.
type Together struct {
	With, Why string
	Source    part.Cited
}

// where is where an additive goes in, in words.
var where = map[string]string{
	furnish.IntoStock: "into the beaten stock, roll up, before the vat",
	furnish.IntoVat:   "into the vat",
	furnish.OnSheet:   "on the dry sheet",
}

// Additives lists the additives by what they are for, in the order of addition.
func (p *Page) Additives(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Additives", page.Handbook)
	if err != nil {
		return err
	}
	d := AdditivesData{Base: base}
	all := furnish.InOrder(furnish.Additives())
	for _, g := range furnish.Groups() {
		group := AdditiveGroup{ID: handbook.Term{Word: string(g)}.ID(), Name: part.Upper(string(g))}
		for _, a := range all {
			if a.Group == g {
				group.Turn, group.Where = a.Turn(), where[a.Where()]
				group.Additives = append(group.Additives, additive(base.Speech, a, all))
			}
		}
		if len(group.Additives) > 0 {
			d.Groups = append(d.Groups, group)
		}
	}
	return additivesTemplate.Write(w, http.StatusOK, d)
}

func additive(s part.Speech, a furnish.Additive, all []furnish.Additive) AdditiveEntry {
	told := func(text string) string { return part.Upper(measure.Retell(text, s.System)) }
	e := AdditiveEntry{Additive: a, ID: additiveID(a), Also: strings.Join(a.Aliases, ", "), Made: told(a.MakeUp), Works: told(a.Use), Not: together(a, all)}
	e.Cautions = nil
	for _, text := range a.Cautions {
		e.Cautions = append(e.Cautions, told(text))
	}
	dose := "Dose, active on dry fibre"
	if a.Group == furnish.SurfaceSize {
		dose = "Held by the dry sheet"
	}
	for _, q := range []struct {
		name, unit string
		value      source.Value
	}{
		{dose, "%", a.Dose}, {"Made up, to the volume of the vat", "%", a.StockInVat},
		{"Stays in the sheet", "%", a.Retained}, {"Stays, with a retention aid", "%", a.RetainedAided},
		{"Active, as bought", "%", a.Strength}, {"Made up, as bought in the solution", "g/L", a.Concentration},
		{"Keeps, made up", "h", a.Keeps}, {"pH of the stock", "", a.PH},
	} {
		if q.unit == "%" { // the table has fractions
			q.value.Low, q.value.Mid, q.value.High = 100*q.value.Low, 100*q.value.Mid, 100*q.value.High
		}
		if n, ok := number(s, q.name, q.value, q.unit); ok {
			e.Numbers = append(e.Numbers, n)
		}
	}
	return e
}

func additiveID(a furnish.Additive) string { return handbook.Term{Word: a.Name}.ID() }

// together is what an additive does not go together with, one entry to a reason.
func together(a furnish.Additive, all []furnish.Additive) (out []Together) {
	for _, other := range all {
		if other.Name == a.Name {
			continue
		}
		for _, c := range furnish.Clashes([]furnish.Added{{Kind: a.Name, Dose: 1}, {Kind: other.Name, Dose: 1}}) {
			out = joined(out, other.Name, c)
		}
	}
	return out
}

// joined adds a clash to the entry that has the same reason.
func joined(list []Together, name string, c furnish.Clash) []Together {
	for i := range list {
		if list[i].Why == c.Text {
			list[i].With += ", " + name
			return list
		}
	}
	return append(list, Together{With: name, Why: c.Text, Source: part.Cite(c.Source, source.Must(c.Source).Grade)})
}

func findAdditives(asked []string) (out []Found) {
	for _, a := range furnish.Additives() {
		f := Found{Name: part.Upper(a.Name), Text: fmt.Sprintf("%s, %s.", part.Upper(string(a.Group)), where[a.Where()]), Href: "/handbook/additives#" + additiveID(a)}
		out = append(out, find(asked, f, strings.Join(a.Aliases, " "), a.MakeUp, a.Use, strings.Join(a.Cautions, " ")))
	}
	return out
}
