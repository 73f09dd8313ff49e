// Package design is where a paper is thought out: what a change of its design
// does to everything a plan says, against the paper as it is, before anything
// is saved; and two papers or two revisions side by side.
//
// Every answer is a plan made anew for the studio as it is now. Missing: many
// changes at once in one picture, and asking backwards, such as which grammage
// gives a caliper.
package design

import (
	"context"
	"embed"
	"net/http"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	template        = page.Must(files, "design.html", "answer.html")
	compareTemplate = page.Must(files, "compare.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	PaperRevisions(ctx context.Context, id string) ([]studio.Paper, error)
	PlanDesign(ctx context.Context, design plan.Paper, sheet plan.Sheet, good int) (plan.Request, plan.Plan, error)
	SavePaper(ctx context.Context, p studio.Paper) (studio.Paper, error)
}

// Page answers for designs.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the pages over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Name string
	System   string // of units, that the form is typed in
	Use      string // of the starting paper; "" for a paper that is kept
	Why      string // the values one starts from have their reasons
	Uses     []part.Link
	Status   int // 0: nothing is wrong
	Wrong    []part.Wrong
	Refused  string // why it was not kept
	Conflict string // it was changed meanwhile
	Revision string
	Action   string
	Furnish  []Row
	Added    []Row
	Asked    []Question
	Keep     []part.Field
	Answer   Answer
}

// Question is a field; with a slide where a finger may move it: the least, the
// most and the step.
type Question struct {
	part.Field
	Slide string
}

// Row is one of several like things: what it is and how much of it.
type Row struct {
	What, Much Question
}

// Show shows what a change does to a paper that is kept.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return p.show(w, r, revisions[0], studio.Starting{})
}

// Start shows the same of a paper to begin from.
func (p *Page) Start(w http.ResponseWriter, r *http.Request) error {
	s := starting(r.URL.Query().Get("from"))
	return p.show(w, r, began(s), s)
}

// starting is the paper to begin from for a use; the first where there is none.
func starting(use string) studio.Starting {
	list := studio.StartingPapers()
	for _, s := range list {
		if s.Use == use {
			return s
		}
	}
	return list[0]
}

// began is a starting paper before it is kept.
func began(s studio.Starting) studio.Paper {
	return studio.Paper{Name: s.Title, Design: s.Design, Sheet: s.Sheet, Note: s.Why}
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, old studio.Paper, from studio.Starting) error {
	form := page.ReadQuery(r)
	base, err := p.frame.Base(w, r, old.Name, page.Papers)
	if err != nil {
		return err
	}
	d, _, err := p.answer(r.Context(), base, form, old)
	if err != nil {
		return err
	}
	status := max(d.Status, http.StatusOK)
	if form.Get("only") == "answer" {
		return template.WritePiece(w, status, "answer", d.Answer)
	}
	d.begin(from)
	return template.Write(w, status, d)
}

// begin names where the values come from, and the other uses on offer.
func (d *Data) begin(from studio.Starting) {
	d.Use, d.Why, d.Action = from.Use, from.Why, "/papers/design"
	if d.ID != "" {
		d.Action = "/papers/" + d.ID + "/design"
	}
	for _, s := range studio.StartingPapers() {
		if d.ID == "" && s.Use != from.Use {
			d.Uses = append(d.Uses, part.Link{Href: "/papers/design?from=" + s.Use, Text: s.Title})
		}
	}
}
