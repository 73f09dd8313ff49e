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

	"vatside/internal/fault"
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

// Settle takes a brief off the promised ones, or puts it back.
func (p *Page) Settle(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	b.Settled = form.Get("settled") == "yes"
	if _, err := p.studio.SaveBrief(r.Context(), b); err != nil {
		return err
	}
	if b.Settled {
		page.PutFlash(w, "Settled: it is no longer among the promised. It can be put back here.")
	} else {
		page.PutFlash(w, "Promised again.")
	}
	return page.See(w, r, "/briefs/"+b.ID)
}

func (p *Page) save(w http.ResponseWriter, r *http.Request, b studio.Brief, title string) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, title, page.Bench)
	if err != nil {
		return err
	}
	base.Back = "/briefs/new"
	if b.ID != "" {
		base.Back = "/briefs/" + b.ID + "/edit"
	}
	read(form, base.Speech, &b)
	if len(form.Faults) == 0 {
		err := p.keep(r.Context(), form, &b)
		if err == nil {
			return page.See(w, r, "/briefs/"+b.ID)
		}
		switch fault.KindOf(err) {
		case fault.KindInvalid, fault.KindOutOfRange:
			form.Refuse(err)
		case fault.KindConflict:
			form.Refuse(err)
			return p.show(w, r, base, form, b, http.StatusConflict)
		default:
			return err
		}
	}
	return p.show(w, r, base, form, b, http.StatusUnprocessableEntity)
}

// keep saves who it is for, where that is new, and the brief.
func (p *Page) keep(ctx context.Context, f *page.Form, b *studio.Brief) error {
	b.PersonID = ""
	if name := f.Get("person"); name != "" {
		people, err := p.studio.People(ctx)
		if err != nil {
			return err
		}
		b.PersonID = known(people, name)
		if b.PersonID == "" {
			person, err := p.studio.SavePerson(ctx, studio.Person{Name: name})
			if err != nil {
				return err
			}
			b.PersonID = person.ID
		}
	}
	saved, err := p.studio.SaveBrief(ctx, *b)
	if err == nil {
		*b = saved
	}
	return err
}
