// Package card prints the making card: one sheet of paper from which a whole
// making can be run. Missing: printing all open makings at once.
package card

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/paperwork"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Studio is what the card asks of the records.
type Studio interface {
	Making(ctx context.Context, id string) (studio.Making, error)
}

// Page answers for printed cards.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the printer of cards over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// PDF sends the card of a making as it was planned, in the reader's units, on
// the printing paper of their part of the world.
func (p *Page) PDF(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	system, err := p.frame.System(r)
	if err != nil {
		return err
	}
	paper := paperwork.A4
	if system == measure.US {
		paper = paperwork.Letter
	}
	switch r.URL.Query().Get("paper") { // asked for by name
	case "a4":
		paper = paperwork.A4
	case "letter":
		paper = paperwork.Letter
	}
	c := paperwork.FromPlan(paperwork.Making{
		Tag: m.Tag, Link: page.TagLink(r, m.Tag), Paper: m.PaperName, Date: m.Created,
	}, m.Request, m.Plan, system)
	var buf bytes.Buffer
	if err := c.WritePDF(&buf, paper); err != nil {
		return fmt.Errorf("card of %s: %w", m.ID, err)
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", "card "+m.Tag+".pdf"))
	h.Set("Content-Length", strconv.Itoa(buf.Len()))
	_, _ = buf.WriteTo(w) // a reader gone away is no fault of ours
	return nil
}
