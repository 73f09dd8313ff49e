// Package knows is the page of what this studio knows: every uncertain number
// that plans rest on, what the handbook has for it, what was measured here, what
// other papers lend and what is reckoned with now, and what that changes in the
// next plan.
//
// A number can be fixed and let go again, and one making can be left out with
// a reason. Missing: numbers brought along from another studio.
package knows

import (
	"context"
	"embed"
	"fmt"
	"net/http"
	"slices"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "knows.html", "number.html")

// Studio is what the page asks of the records.
type Studio interface {
	Planned
	Learned
}

// Planned are the papers, and the plans made of them.
type Planned interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	Briefs(ctx context.Context, f studio.BriefFilter) ([]studio.Brief, error)
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	PlanBrief(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error)
}

// Learned is what was learned and fixed.
type Learned interface {
	Known(ctx context.Context) (belief.Known, error)
	ExcludeObservation(ctx context.Context, id, reason string) error
	SetPin(ctx context.Context, key string, p belief.Pin) error
	ForgetPin(ctx context.Context, key string) error
}

// Page answers for what the studio knows.
type Page struct {
	frame    *page.Frame
	studio   Studio
	compared comparisons
}

// New returns the page over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{frame: f, studio: s} }

// Data is what the template sets.
type Data struct {
	page.Base
	Wrong     []part.Wrong
	Papers    []Paper
	Unplanned []Paper
	Earlier   []Paper
	Measured  []Item // measured here, or fixed
	Times     []Item // steps timed here
	TimesFor  string // what the minutes of the steps are for
	TimesOpen bool
	Lent      []Item // not measured of these papers, but moved by others
	Handbook  []Item // not yet
}

// Any reports whether there is a paper.
func (d Data) Any() bool { return len(d.Papers)+len(d.Unplanned) > 0 }

// Known is how many numbers were measured here.
func (d Data) Known() int { return len(d.Measured) + len(d.Times) }

// Paper is one paper and what its next plan asks for.
type Paper struct {
	Name, Href string
	Good       int
	Changes    []part.Change
	Cannot     bool
}

// Show shows all numbers.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	return p.show(w, r, &page.Form{}, http.StatusOK)
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, f *page.Form, code int) error {
	base, err := p.frame.Base(w, r, "What this studio knows", page.Knows)
	if err != nil {
		return err
	}
	base.Back = "/knows"
	g, err := p.gather(r.Context(), base.Speech)
	if err != nil {
		return err
	}
	d := Data{Base: base, Papers: g.papers, Unplanned: g.unplanned, Earlier: g.earlier}
	if len(g.steps) > 0 {
		d.TimesFor = fmt.Sprintf("%d good sheets of %s", g.steps[0].good, g.steps[0].paper.Name)
	}
	for i, n := range g.numbers {
		item := g.item(i, n, f, base.Speech)
		switch {
		case !n.Fixed && len(n.Seen) == 0 && n.Lent != "" && n.Step == "":
			d.Lent = append(d.Lent, item)
		case !n.Fixed && len(n.Seen) == 0:
			d.Handbook = append(d.Handbook, item)
		case n.Step != "":
			d.Times = append(d.Times, item)
			d.TimesOpen = d.TimesOpen || item.Open
		default:
			d.Measured = append(d.Measured, item)
		}
	}
	byRank := func(a, b Item) int { return part.ByRank(a.Reckoned, b.Reckoned) }
	slices.SortStableFunc(d.Measured, byRank)
	slices.SortStableFunc(d.Lent, byRank)
	slices.SortStableFunc(d.Handbook, byRank)
	d.Wrong = f.Wrong()
	return template.Write(w, code, d)
}
