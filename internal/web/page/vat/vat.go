// Package vat is the live page of a making: counting sheets, what comes next,
// weighing, on any device that is let in, with or without the network.
package vat

import (
	"context"
	"embed"
	"net/http"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Records is what the page asks of the records.
type Records interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
	Record(ctx context.Context, makingID string, events ...studio.Event) (studio.State, error)
}

//go:embed *.html
var files embed.FS

var template = page.Must(files, "vat.html", "dialogs.html")

// Page answers.
type Page struct {
	frame  *page.Frame
	studio Records
	now    func() time.Time
	crowd  *crowd
	known  *known
}

// New returns the page. Heard must be called with a making's id after entries of
// it were kept.
func New(frame *page.Frame, records Records, now func() time.Time) *Page {
	return &Page{frame: frame, studio: records, now: now, crowd: newCrowd(), known: newKnown()}
}

// Heard tells all devices that show the making.
func (p *Page) Heard(makingID string) { p.crowd.heard(makingID) }

// Close ends all streams.
func (p *Page) Close() { p.crowd.close() }

// Data is what the template sets: the bare page, which the script fills and a
// device may keep.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Live           string // the page's own script
	Unit           string // of volumes that are typed
	First          string // the view it begins with
}

// Show shows the page.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "At the vat, "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	base.Alone = true
	view, err := p.view(r, m.ID)
	if err != nil {
		return err
	}
	_, unit := volume(base.Speech)
	return template.Write(w, http.StatusOK, Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, Unit: unit,
		Live: p.frame.Asset("vat.js"), First: string(view)})
}

// View is the view alone, with the program's clock.
func (p *Page) View(w http.ResponseWriter, r *http.Request) error {
	view, err := p.view(r, r.PathValue("id"))
	if err != nil {
		return err
	}
	return answer(w, Answer{Now: p.now().UnixMilli(), View: view})
}
