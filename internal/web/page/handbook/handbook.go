// Package handbook is the pages of the program's own handbook: an index with
// one search over everything, the formulas of the trade with a try for each,
// the sources by grade, and the glossary.
//
// A chapter is one entry in the list below: what it is called, where it stands
// and how it is searched. Missing: links from the words of one page to another.
package handbook

import (
	"context"
	"embed"
	"net/http"
	"strings"

	"vatside/internal/cookery"
	"vatside/internal/fibre"
	"vatside/internal/handbook"
	"vatside/internal/source"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

//go:embed *.html
var files embed.FS

var (
	indexTemplate     = page.Must(files, "index.html")
	formulasTemplate  = page.Must(files, "formulas.html")
	formulaTemplate   = page.Must(files, "formula.html")
	sourcesTemplate   = page.Must(files, "sources.html")
	glossaryTemplate  = page.Must(files, "glossary.html")
	faultsTemplate    = page.Must(files, "faults.html")
	additivesTemplate = page.Must(files, "additives.html", "numbers.html")
	unitsTemplate     = page.Must(files, "units.html")
	papersTemplate    = page.Must(files, "papers.html")
	fibresTemplate    = page.Must(files, "fibres.html")
	fibreTemplate     = page.Must(files, "fibre.html", "numbers.html")
	cautionsTemplate  = page.Must(files, "cautions.html")
	plantsTemplate    = page.Must(files, "plants.html")
	keepingTemplate   = page.Must(files, "keeping.html")
)

// Chapter is one part of the handbook.
type Chapter struct {
	Name, Href, What string
	find             func(asked []string) []Found
}

// chapters in the order of the index.
var chapters = []Chapter{
	{"Formulas", "/handbook/formulas", "what is reckoned, how, how far off it may be; each to be tried with your own numbers", findFormulas},
	{"Fibres", "/handbook/fibres", "how each is prepared, beaten, formed and dried, and by how much it shrinks", findFibres},
	{"Plants", "/handbook/plants", "which part is cut when, retting, what is left of it, and which plants harm or are not yours to cut", findPlants},
	{"Cautions", "/handbook/cautions", "what may hurt: control, limit, source, and the words of first aid", findCautions},
	{"Water and keeping", "/handbook/keeping", "how long pulp keeps, and what the water does to paper", findKeeping},
	{"Rags", "/handbook/rags", "sorting cloth, what a burnt thread tells, what to leave out, and how many sheets it makes", findNotes(fibre.Rags)},
	{"Waste paper", "/handbook/waste-paper", "soaking, blender loads, what is lost, what to leave out, ink and glue, and how many sheets it makes", findNotes(fibre.WastePaper)},
	{"Additives", "/handbook/additives", "dose, what stays in the sheet, how each is made up and keeps, and what does not go together", findAdditives},
	{"Faults", "/handbook/faults", "what may be wrong with a sheet: cause, test and change", findFaults},
	{"Units", "/handbook/units", "every unit that is read, the pounds of American papers, and a converter that shows its working", findUnits},
	{"Sizes", "/handbook/papers", "the sizes of sheets that have a name", findSizes},
	{"Glossary", "/handbook/glossary", "the words of the trade, and those that are ours", findTerms},
	{"Sources", "/handbook/sources", "what was read, and how far it is trusted", findSources},
}

// Page answers for the handbook.
type Page struct {
	frame  *page.Frame
	studio Studio
	cooks  Cooks
}

// Studio is what the handbook sets beside its own: the studio's water.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
}

// Cooks knows whom to call.
type Cooks interface {
	Safety(ctx context.Context) (cookery.Safety, error)
}

// New returns the pages of the handbook.
func New(f *page.Frame, s Studio, c Cooks) *Page { return &Page{f, s, c} }

// IndexData is what the template of the index sets.
type IndexData struct {
	page.Base
	Asked    string
	Chapters []Chapter
	Groups   []Group
}

// Group is what was found in one chapter.
type Group struct {
	Chapter
	Found []Found
	More  int // found besides
}

// mostFound is how many finds of one chapter are shown; more of them say that
// the question was too wide.
const mostFound = 12

// Index shows the chapters, and what was found.
func (p *Page) Index(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Handbook", page.Handbook)
	if err != nil {
		return err
	}
	d := IndexData{Base: base, Asked: page.ReadQuery(r).Get("find"), Chapters: chapters}
	asked := strings.Fields(strings.ToLower(d.Asked))
	for _, c := range chapters {
		if len(asked) == 0 {
			break
		}
		g := Group{Chapter: c, Found: ranked(c.find(asked))}
		if len(g.Found) > mostFound {
			g.Found, g.More = g.Found[:mostFound], len(g.Found)-mostFound
		}
		if len(g.Found) > 0 {
			d.Groups = append(d.Groups, g)
		}
	}
	return indexTemplate.Write(w, http.StatusOK, d)
}

func findFormulas(asked []string) (out []Found) {
	for _, s := range handbook.Steps() {
		for _, f := range s.Formulas {
			out = append(out, find(asked, Found{Name: f.Title(), Text: f.Means(), Href: "/handbook/formulas/" + f.Name}, s.Name, f.Contract.Quantity, f.Contract.Inputs))
		}
	}
	return out
}

func findTerms(asked []string) (out []Found) {
	for _, t := range handbook.Glossary() {
		out = append(out, find(asked, Found{Name: t.Word, Text: t.Meaning, Href: "/handbook/glossary#" + t.ID()}))
	}
	return out
}

func findSources(asked []string) (out []Found) {
	for _, s := range source.All() {
		out = append(out, find(asked, Found{Name: s.Title, Text: s.Where, Href: "/handbook/sources#" + s.Key}, s.Note, s.Key, s.Year))
	}
	return out
}
