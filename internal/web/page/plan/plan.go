// Package plan is the page that answers a brief. It is set like the making
// card: the promise first, then what to do in order, each decision large in
// the step where it is used.
//
// Missing: days on the bench; a plan knows its waits but no calendar.
package plan

import (
	"context"
	"embed"
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "plan.html", "steps.html", "whatif.html")

// Studio is what the page asks of the records.
type Studio interface {
	Brief(ctx context.Context, id string) (studio.Brief, error)
	Paper(ctx context.Context, id string) (studio.Paper, error)
	PlanBriefWithout(ctx context.Context, b studio.Brief, names ...string) (plan.Request, plan.Plan, error)
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	StartAfter(ctx context.Context, briefID string, begun int, req plan.Request, p plan.Plan) (studio.Making, error)
	Equipment
}

// Page answers for plans.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the plan page over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID       string
	Revision int
	Paper    string
	Promise  string
	Wish     []string // what is wanted, in short pieces
	Remarks  string
	Settled  bool
	No       string   // why it cannot be done
	Warnings []string // against the plan as a whole
	Founded  []string // on what it is founded
	Steps    []Step
	Outcomes []part.Figure
	Help     []Help
	Rests    part.Table
	Begun    []Begun
	WhatIf   WhatIf
}

// Begun is a making that was begun from this brief.
type Begun struct {
	Tag, Href, Card string
}

// Show shows the plan of a brief; a plan that cannot be made says why, beside
// the way to change the brief.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	paper, err := p.studio.Paper(r.Context(), b.PaperID)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, paper.Name, page.Bench)
	if err != nil {
		return err
	}
	d := Data{
		Base: base, ID: b.ID, Revision: b.Revision, Paper: paper.Name, Remarks: b.Remarks, Settled: b.Settled,
		Wish: wish(base.Speech, b, paper),
	}
	makings, err := p.studio.Makings(r.Context(), studio.MakingFilter{BriefID: b.ID, Light: true})
	if err != nil {
		return err
	}
	for _, m := range makings {
		d.Begun = append(d.Begun, Begun{Tag: m.Tag, Href: "/makings/" + m.ID, Card: "/makings/" + m.ID + "/card.pdf"})
	}
	_, answer, err := p.studio.PlanBriefWithout(r.Context(), b)
	if fault.Refused(err) {
		d.No = page.Sentence(err)
		return template.Write(w, http.StatusUnprocessableEntity, d)
	}
	if err != nil {
		return err
	}
	fill(&d, b, answer)
	if d.WhatIf, err = p.whatIf(r.Context(), base.Speech, b, answer, r.URL.Query()["without"]); err != nil {
		return err
	}
	return template.Write(w, http.StatusOK, d)
}

// Start begins a making with the plan as it is now and goes to its card.
func (p *Page) Start(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	req, answer, err := p.studio.PlanBriefWithout(r.Context(), b)
	if err != nil {
		return err
	}
	begun, err := strconv.Atoi(r.PostFormValue("begun"))
	if err != nil {
		begun = -1
	}
	m, err := p.studio.StartAfter(r.Context(), b.ID, begun, req, answer)
	if err != nil {
		return err
	}
	return page.See(w, r, "/makings/"+m.ID+"/card.pdf")
}
