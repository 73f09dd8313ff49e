// Package run is a making's run at the vat looked back on: what each sheet
// weighs by all that is known now, what happened between the sheets, and how the
// weighings lay to what was expected before them.
//
// Missing: the level of the vat over the run.
package run

import (
	"context"
	"embed"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/watch"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "run.html")

// Records is what the page asks of the records.
type Records interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
}

// Page answers.
type Page struct {
	frame  *page.Frame
	studio Records
}

// New returns the page over the records.
func New(f *page.Frame, s Records) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper, PaperID string
	Open                    bool
	Head                    string
	Lead, Notes             []string
	Sheets                  []part.Chart // one, or none before the first sheet
	Weights                 part.Table
	Charts                  []part.Chart // of the weighings
	Weighings               part.Table
}

// Show shows the run of one making.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	events, err := p.studio.Events(r.Context(), m.ID)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "The run at the vat, "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	d := Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, PaperID: m.PaperID, Open: m.Progress.Stage != studio.Done}
	past, err := watch.Back(m, events)
	switch fault.KindOf(err) {
	case fault.KindInfeasible:
		d.Head, d.Lead = "This run was not followed", []string{fault.All(err)[0].Text}
	default:
		if err != nil {
			return err
		}
		d.set(past, held(base.Speech, events))
	}
	return template.Write(w, http.StatusOK, d)
}

// held are the entries at the vat that hold, in words, by their ids.
func held(s part.Speech, events []studio.Event) map[string]string {
	words := map[string]string{}
	for _, h := range studio.Holds(events) {
		words[h.Event.ID] = page.AtVat(s, h.Body)
	}
	return words
}

func (d *Data) set(p watch.Past, words map[string]string) {
	s := d.Speech
	d.Head = head(p)
	d.Lead, d.Notes = lead(s, p), notes(p, words)
	if len(p.Sheets) == 0 {
		return
	}
	d.Weights = weights(s, p, words)
	d.Sheets = []part.Chart{sheets(s, p, words)}
	if len(p.Weighings)+len(p.Strange) == 0 {
		return
	}
	d.Weighings = weighings(s, p, words)
	if len(p.Weighings) > 1 {
		d.Charts = []part.Chart{single(p), averages(p)}
	}
}
