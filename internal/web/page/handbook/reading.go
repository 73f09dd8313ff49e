package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/handbook"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// trust is each grade in plain words.
var trust = map[source.Grade]string{
	source.Standard:  "an exact definition, a standard, or arithmetic",
	source.Measured:  "counted or weighed in this studio",
	source.Paper:     "a published study",
	source.Handbook:  "a handbook or textbook of the trade",
	source.Secondary: "somebody who reports somebody else",
	source.Practice:  "common practice, or one maker's figure",
	source.Memory:    "remembered and not verified: always with a wide band",
}

// SourcesData is what the template of the sources sets.
type SourcesData struct {
	page.Base
	Grades []Graded
}

// Graded are the sources of one grade.
type Graded struct {
	Grade, Trust string
	Sources      []Entry
}

// Entry is one source and the formulas that name it.
type Entry struct {
	source.Source

	Formulas []handbook.Formula
}

// Place is where it stands and when it was written, without what says nothing.
func (e Entry) Place() string { return strings.TrimPrefix(e.Cite(), e.Title+", ") }

// Sources lists the registry by grade, the best first.
func (p *Page) Sources(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Sources", page.Handbook)
	if err != nil {
		return err
	}
	d := SourcesData{Base: base}
	for g := source.Standard; g <= source.Memory; g++ {
		graded := Graded{Grade: part.Upper(g.String()), Trust: trust[g]}
		for _, s := range source.All() {
			if s.Grade == g {
				graded.Sources = append(graded.Sources, Entry{Source: s, Formulas: handbook.Citing(s.Key)})
			}
		}
		if len(graded.Sources) > 0 {
			d.Grades = append(d.Grades, graded)
		}
	}
	return sourcesTemplate.Write(w, http.StatusOK, d)
}

// GlossaryData is what the template of the glossary sets.
type GlossaryData struct {
	page.Base
	Terms []handbook.Term
}

// Glossary lists the words.
func (p *Page) Glossary(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Glossary", page.Handbook)
	if err != nil {
		return err
	}
	return glossaryTemplate.Write(w, http.StatusOK, GlossaryData{Base: base, Terms: handbook.Glossary()})
}
