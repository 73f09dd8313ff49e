// Package history is the makings of one paper together: what they weighed,
// shrank and took, one after another with the limits that chance keeps to; how
// their runs at the vat were; and two makings side by side.
//
// Missing: rules for runs; only single values and single steps are told.
package history

import (
	"context"
	"embed"
	"net/http"
	"slices"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	template        = page.Must(files, "history.html")
	compareTemplate = page.Must(files, "compare.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Paper(ctx context.Context, id string) (studio.Paper, error)
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
}

// Page answers for makings together.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the pages over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Name string
	Charts   []part.Chart
	Table    part.Table
	Runs     part.Table // at the vat
	Few      bool       // too few for limits
	Count    int
}

// fewest is how many makings limits are drawn from; ours: fewer say little.
const fewest = 5

// mostCharted is how many makings stand on a chart: the newest.
const mostCharted = 60

// charted are the figures of a gist that are drawn.
var charted = []struct {
	name, unit string
	of         func(studio.Gist) *float64
}{
	{"Grammage", "g/m²", func(g studio.Gist) *float64 { return g.GrammageG }},
	{"Shrinkage", "%", func(g studio.Gist) *float64 { return g.ShrinkPct }},
	{"Caliper", "mm", func(g studio.Gist) *float64 { return g.CaliperMM }},
	{"Good of those couched", "%", func(g studio.Gist) *float64 { return g.GoodPct }},
	{"By hand", "min", func(g studio.Gist) *float64 { return g.HandsMin }},
}

// Show shows all makings of a paper.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	pa, err := p.studio.Paper(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, pa.Name+", its makings", page.Papers)
	if err != nil {
		return err
	}
	filter := studio.MakingFilter{PaperID: pa.ID, Light: true, Limit: mostCharted}
	list, err := p.studio.Makings(r.Context(), filter)
	if err != nil {
		return err
	}
	filter.With = studio.KindDry
	weighed, err := p.studio.Makings(r.Context(), filter)
	if err != nil {
		return err
	}
	for i := range list {
		if !slices.ContainsFunc(weighed, func(m studio.Making) bool { return m.ID == list[i].ID }) {
			list[i].Progress.GrammageG = nil // as wanted, which is no fact
		}
	}
	slices.Reverse(list) // oldest first
	d := Data{Base: base, ID: pa.ID, Name: pa.Name, Count: len(list), Few: len(list) < fewest}
	for _, c := range charted {
		d.Charts = append(d.Charts, chart(base.Speech, c.name, c.unit, list, c.of)...)
	}
	d.Table = table(base.Speech, list)
	if d.Runs, err = p.runs(r.Context(), pa.ID); err != nil {
		return err
	}
	return template.Write(w, http.StatusOK, d)
}
