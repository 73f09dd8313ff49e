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
	"strconv"

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
	PlanDesign(ctx context.Context, design plan.Paper, sheet plan.Sheet, good int, sure *float64) (plan.Request, plan.Plan, error)
	Papers
}

// Papers are the designs that are kept, and what the hand said of them.
type Papers interface {
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	PaperRevisions(ctx context.Context, id string) ([]studio.Paper, error)
	SavePaper(ctx context.Context, p studio.Paper) (studio.Paper, error)
	Hands(ctx context.Context, paperID string, revision, most int) ([]studio.HandSaid, error)
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
	Conflict string // it was changed meanwhile
	Revision string
	Action   string
	Furnish  []Row
	Added    []Row
	Asked    []Question
	Keep     []part.Field
	Answer   Answer
	Hands    []studio.HandSaid
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

// fewHands is how many words of the hand are read beside a design.
const fewHands = 3

// Show shows what a change does to a paper that is kept.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	return p.show(w, r, f, against(revisions, f), studio.Starting{})
}

// against is the revision that the form was filled in against; the present one
// where it does not say.
func against(revisions []studio.Paper, f *page.Form) studio.Paper {
	for _, rev := range revisions {
		if f.Get("revision") == strconv.Itoa(rev.Revision) {
			return rev
		}
	}
	return revisions[0]
}

// Start shows the same of a paper to begin from.
func (p *Page) Start(w http.ResponseWriter, r *http.Request) error {
	f := page.ReadQuery(r)
	s := starting(f.Get("from"))
	return p.show(w, r, f, began(s), s)
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, f *page.Form, old studio.Paper, from studio.Starting) error {
	base, err := p.frame.Base(w, r, old.Name, page.Papers)
	if err != nil {
		return err
	}
	d, _, err := p.answer(r.Context(), base, f, old)
	if err != nil {
		return err
	}
	if f.Get("only") == "answer" {
		return template.WritePiece(w, max(d.Status, http.StatusOK), "answer", d.Answer)
	}
	return p.page(w, r, d, from)
}

// page sets the whole page, with what the hand said of the paper.
func (p *Page) page(w http.ResponseWriter, r *http.Request, d Data, from studio.Starting) (err error) {
	d.begin(from)
	if d.ID != "" {
		if d.Hands, err = p.studio.Hands(r.Context(), d.ID, 0, fewHands); err != nil {
			return err
		}
	}
	return template.Write(w, max(d.Status, http.StatusOK), d)
}
