// Package welcome is the first evening: at most eight questions, every one
// with a default, and at the end the first card.
//
// Whatever is skipped is left unsaid, so that the handbook's own band stands
// in for it. Missing: a second round of questions; the studio page has them.
package welcome

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

var template = page.Must(files, "welcome.html")

// Studio is what the first evening asks of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	SaveProfile(ctx context.Context, p studio.Profile) (studio.Profile, error)
	SavePaper(ctx context.Context, p studio.Paper) (studio.Paper, error)
	SaveBrief(ctx context.Context, b studio.Brief) (studio.Brief, error)
}

// Page answers for the first evening.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the first evening over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	Wrong     []part.Wrong
	Questions []part.Field
}

// Ask shows the questions with their defaults.
func (p *Page) Ask(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "First evening", page.Bench)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	form := &page.Form{}
	defaults(form, base.Speech)
	return template.Write(w, http.StatusOK, fill(base, form, part.Shelf(profile.Kit)))
}

// Answer keeps the answers, writes the first brief and goes to its plan.
func (p *Page) Answer(w http.ResponseWriter, r *http.Request) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "First evening", page.Bench)
	if err != nil {
		return err
	}
	base.Back = "/welcome"
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	shelf := part.Shelf(profile.Kit)
	a := read(form, base.Speech, shelf)
	if len(form.Faults) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, fill(base, form, shelf))
	}
	brief, err := p.keep(r.Context(), profile, a)
	if err != nil {
		return err
	}
	return page.See(w, r, "/briefs/"+brief.ID)
}

// keep saves the studio, the paper and the brief.
func (p *Page) keep(ctx context.Context, profile studio.Profile, a answers) (studio.Brief, error) {
	profile.System, profile.Answered = a.system, true
	if a.system == studio.US {
		profile.Currency = "USD"
	}
	profile.DefaultSheet = a.sheet
	profile.Kit.VatL, profile.Kit.JugML, profile.Kit.Press = a.vatL, a.jugML, a.press
	profile, err := p.studio.SaveProfile(ctx, profile)
	if err != nil {
		return studio.Brief{}, err
	}
	paper, err := p.studio.SavePaper(ctx, studio.Paper{Name: a.name, Design: a.design, Sheet: a.sheet, Note: a.why})
	if err != nil {
		return studio.Brief{}, err
	}
	return p.studio.SaveBrief(ctx, studio.Brief{
		PaperID: paper.ID, GoodSheets: a.good, Sheet: a.sheet, ConfidencePct: profile.ConfidencePct,
	})
}

// answers is the form, read.
type answers struct {
	system string
	name   string
	why    string
	design plan.Paper
	sheet  plan.Sheet
	good   int
	vatL   *float64
	jugML  *float64
	press  *plan.Press
}
