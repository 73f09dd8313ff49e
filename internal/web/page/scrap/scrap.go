// Package scrap is the handbook's chapters on pulp from what was something else
// before: rags and waste paper. Each says what to sort, leave out, wash and cut,
// and reckons on the page what there is into sheets.
//
// What is said stands in the fibre table's notes; the sum is the one that a
// harvest is reckoned by, without a cook. Missing: how a mixture of cloths or of
// papers behaves.
package scrap

import (
	"embed"
	"net/http"
	"net/url"
	"slices"

	"vatside/internal/cooking"
	"vatside/internal/fibre"
	"vatside/internal/handbook"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "scrap.html")

// Page answers for these chapters.
type Page struct{ frame *page.Frame }

// New returns the pages.
func New(f *page.Frame) *Page { return &Page{f} }

// chapter is one on pulp from what was something else before.
type chapter struct {
	about, name, kind, lead string
	fibres                  []string
	cut                     string // what it is brought to pulp with
}

var (
	rags = chapter{fibre.Rags, "Rags", "From cloth to the beater", "Cotton, linen and hemp that were cloth before: strong paper, if what goes in is known.",
		[]string{"cotton cloth", "t-shirt rag", "denim rag", "linen rag", "cotton rag", "linen half-stuff", "hemp rope"}, "beater"}
	wastePaper = chapter{fibre.WastePaper, "Waste paper", "From the bin to the vat", "What was paper before becomes paper again, greyer, weaker and lighter than it went in.",
		[]string{"recycled office paper", "newsprint", "kraft bag paper", "corrugated board", "rag board offcuts"}, "blender"}
)

// Data is what the template of such a chapter sets.
type Data struct {
	page.Base
	Name, Kind, Lead, Action string
	System                   string
	Fields                   []part.Field
	Wrong                    []part.Wrong
	Answer                   []Summed
	Loads                    []string
	Mind                     []Said // before a blender is run
	Yields                   []Said
	Topics                   []Topic
}

// Summed is a figure of the sum on the page.
type Summed struct {
	part.Figure
	Sum part.Sum
}

// Said is one thing that is said, and what it rests on; Band where it is a
// number.
type Said struct {
	Name, Text string
	Band, Note string
	Href       string // where more is said of it
	Source     part.Cited
}

// Topic is a step of the work: what to mind, what to know.
type Topic struct {
	ID, Name string
	Cautions []Said
	Notes    []Said
}

// Rags is the chapter on cloth.
func (p *Page) Rags(w http.ResponseWriter, r *http.Request) error { return p.show(w, r, rags) }

// WastePaper is the chapter on paper.
func (p *Page) WastePaper(w http.ResponseWriter, r *http.Request) error {
	return p.show(w, r, wastePaper)
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, of chapter) error {
	base, err := p.frame.Base(w, r, of.name, page.Handbook)
	if err != nil {
		return err
	}
	d := Data{Base: base, Name: of.name, Kind: of.kind, Lead: of.lead, Action: "/handbook/" + of.about}
	for _, name := range of.fibres {
		f, _ := fibre.Get(name)
		d.Yields = append(d.Yields, yield(base.Speech, f))
	}
	for _, t := range fibre.Notes(of.about) {
		d.Topics = append(d.Topics, topic(base.Speech, t))
	}
	form, code := page.ReadQuery(r), http.StatusOK
	if form.Values.Has("amount") {
		if err := d.sum(form, of); err != nil {
			return err
		}
	}
	if len(form.Faults) > 0 {
		code = http.StatusUnprocessableEntity
	}
	d.ask(form, of)
	return template.Write(w, code, d)
}

// yield is what is left of a fibre.
func yield(s part.Speech, f fibre.Fibre) Said {
	v := f.Yield
	return Said{Name: part.Upper(f.Name), Text: s.One(100*v.Mid, "%"), Band: s.Range(100*v.Low, 100*v.High, "%"), Note: part.Upper(v.Note),
		Href: "/handbook/fibres/" + url.PathEscape(f.Name), Source: part.Cite(v.Source, v.Grade)}
}

// topic sets what is known of one step, in the reader's units. What is washed
// with soda has the cautions of soda.
func topic(s part.Speech, t fibre.Topic) Topic {
	out := Topic{ID: handbook.Term{Word: "for " + t.Name}.ID(), Name: t.Name}
	told := func(list []fibre.Note) (out []Said) {
		for _, n := range list {
			out = append(out, Said{Name: n.Name, Text: part.Upper(measure.Retell(n.Text, s.System)), Source: part.Cite(n.Source, n.Grade)})
		}
		return out
	}
	out.Cautions, out.Notes = told(t.Cautions), told(t.Notes)
	if t.Name == "Ink and glue" {
		for _, c := range cooking.CautionsAt("soda ash", "mild") {
			if slices.Contains([]string{"eye-soda", "soda-eyes"}, c.Code) {
				out.Cautions = append(out.Cautions, Said{Text: measure.Retell(c.Text, s.System), Source: part.Cite(c.Source, source.Must(c.Source).Grade)})
			}
		}
	}
	return out
}
