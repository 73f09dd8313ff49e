// Package sum is the page of one figure's sum: the lines of arithmetic behind
// it, with their sources. A script fetches the same page into place.
package sum

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

var template = page.Must(files, "sum.html")

// Studio is what the page asks of the records.
type Studio interface {
	Brief(ctx context.Context, id string) (studio.Brief, error)
	PlanBrief(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error)
}

// Page answers for sums.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the page of sums over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	Back   part.Link
	Figure part.Figure
	Sum    part.Sum
}

// Show shows how one figure of a brief's plan was worked out.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	b, err := p.studio.Brief(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	_, answer, err := p.studio.PlanBrief(r.Context(), b)
	if err != nil {
		return err
	}
	key := r.PathValue("figure")
	f, ok := answer.Figures[key]
	if !ok {
		return fault.NotFound("this plan has no such figure")
	}
	base, err := p.frame.Base(w, r, part.FigureName(key, f.Name), page.Bench)
	if err != nil {
		return err
	}
	d := Data{Base: base, Back: part.Link{Href: "/briefs/" + b.ID + "#figure-" + key, Text: "Back to the plan"},
		Figure: part.NewFigure(key, f, base.Speech, ""), Sum: part.SumOf(f)}
	d.Figure.Large = true
	return template.Write(w, http.StatusOK, d)
}
