// Package reserve is what a paper's chalk comes to as an alkaline reserve, what
// ISO 9706 asks, and what of it nobody measures here.
//
// The share of chalk that stays is what this studio knows of it where chalk is
// all that is added, else the handbook's. Missing: the reserve of other alkalis,
// and what acid in the fibre uses up of it.
package reserve

import (
	"context"
	"embed"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "reserve.html")

// Studio is what the page asks of the records.
type Studio interface {
	Paper(ctx context.Context, id string) (studio.Paper, error)
	PlanDesign(ctx context.Context, design plan.Paper, sheet plan.Sheet, good int, sure *float64) (plan.Request, plan.Plan, error)
}

// Page answers for reserves.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the page over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Name string
	Asked    string // what the paper is designed with
	Fields   []part.Field
	Wrong    []part.Wrong
	Figures  []part.Figure
	Verdict  string
	Kept     string // the share that stays, and whose number it is
	KeptFrom part.Cited
	Mind     []string
	Others   []Requirement
	From     part.Cited // of the standard
	Tests    []string
}

// Requirement is one thing that the standard asks besides.
type Requirement struct{ Name, Limit, Here string }

// The standard of the page, and the source of what it asks.
const (
	standard = "ISO 9706"
	key      = "permanence-comparison"
)

// Show shows the reserve of one paper.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	paper, err := p.studio.Paper(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, paper.Name, page.Papers)
	if err != nil {
		return err
	}
	d := Data{Base: base, ID: paper.ID, Name: paper.Name, From: part.Cite(key, source.Must(key).Grade), Mind: minded(paper.Design), Tests: tests()}
	kept, err := p.kept(r.Context(), paper)
	if err != nil {
		return err
	}
	form := page.ReadQuery(r)
	dose, kept := d.ask(form, chalk(paper.Design), kept)
	wanted := measure.Share(0)
	for _, q := range furnish.Requirements() {
		switch {
		case q.Standard != standard:
		case q.Quantity == "alkaline reserve":
			wanted = measure.Share(q.Low / 1000) // g/kg
		default:
			d.Others = append(d.Others, other(base.Speech, q, paper.Design.GrammageConditioned))
		}
	}
	if len(d.Wrong) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, d)
	}
	if err := d.reckon(dose, wanted, kept); err != nil {
		return err
	}
	return template.Write(w, http.StatusOK, d)
}

// kept is the share of chalk that stays: what the studio knows of all that is
// added together, where that is chalk alone.
func (p *Page) kept(ctx context.Context, paper studio.Paper) (source.Value, error) {
	aided, dosed := false, 0
	for _, a := range paper.Design.Additives {
		aided = aided || furnish.Any(a.Kind).Group == furnish.RetentionAid
		if a.DosePct > 0 {
			dosed++
		}
	}
	book := furnish.Any(calcium).Kept(aided)
	if chalk(paper.Design) == 0 || dosed != 1 {
		return book, nil
	}
	_, made, err := p.studio.PlanDesign(ctx, paper.Design, paper.Sheet, part.UsualGood, nil)
	if fault.Refused(err) {
		return book, nil // nothing but the plan knows what is learned
	}
	for _, on := range made.RestsOn {
		if on.Key == "additive_retained_pct" && on.State != "handbook" {
			return source.Value{Low: on.Low / 100, Mid: on.Value / 100, High: on.High / 100, Source: on.Source, Grade: on.Grade}, nil
		}
	}
	return book, err
}
