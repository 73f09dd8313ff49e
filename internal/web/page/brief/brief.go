// Package brief is the form of a wish: which paper, what size, how many good
// sheets, when; and the reverse question, what a pail of pulp can make.
//
// The plan that answers a brief is the page plan. Missing: lines of an order
// and prices.
package brief

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
	formTemplate = page.Must(files, "brief.html")
	pailTemplate = page.Must(files, "pail.html")
)

// Studio is what the form asks of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	Brief(ctx context.Context, id string) (studio.Brief, error)
	SaveBrief(ctx context.Context, b studio.Brief) (studio.Brief, error)
	Customers
	Pulp
}

// Pulp answers the reverse question.
type Pulp interface {
	PlanPulp(ctx context.Context, paperID string, sheet plan.Sheet, have plan.Have) (plan.Plan, error)
}

// Customers are who a brief may be for.
type Customers interface {
	People(ctx context.Context) ([]studio.Person, error)
	SavePerson(ctx context.Context, p studio.Person) (studio.Person, error)
}

// Page answers for briefs as forms.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the form over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID       string
	Revision int
	Action   string
	Wrong    []part.Wrong
	Changed  string // said when the brief was changed elsewhere in between
	Fields   []part.Field
	More     []part.Field
	MoreOpen bool
}

// New shows an empty brief, begun from what the studio usually wants.
func (p *Page) New(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "New brief", page.Bench)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	form := page.ReadQuery(r)
	usual(form, base.Speech, profile)
	return p.show(w, r, base, form, studio.Brief{}, http.StatusOK)
}

// Create saves a new brief and goes to its plan.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	return p.save(w, r, studio.Brief{}, "New brief")
}

// Edit shows a brief as it is.
func (p *Page) Edit(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Change the brief", page.Bench)
	if err != nil {
		return err
	}
	form := &page.Form{}
	people, err := p.studio.People(r.Context())
	if err != nil {
		return err
	}
	written(form, base.Speech, b, people)
	return p.show(w, r, base, form, b, http.StatusOK)
}

// Save saves a changed brief and goes to its plan.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return p.save(w, r, b, "Change the brief")
}
