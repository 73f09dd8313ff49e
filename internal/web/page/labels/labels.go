// Package labels prints what goes with the sheets of a making: tags and swatch
// labels to cut, also of several makings on the same sheets, a page that
// swatches are glued to, a card that says what the paper is, and a page that
// says what was measured of it, how, and what was not.
package labels

import (
	"context"
	"embed"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	template        = page.Must(files, "labels.html")
	severalTemplate = page.Must(files, "several.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Making(ctx context.Context, id string) (studio.Making, error)
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
}

// Page answers for labels.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the printer of labels over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Fields         []part.Field
	Wrong          []part.Wrong
	PDF            string // address of what was asked for; "" where it cannot be
	Takes          string // sheets of paper
}

// Show asks what is to be printed.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Labels, "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	a := p.read(f, base.Speech)
	d, code := Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName}, http.StatusOK
	if len(f.Faults) > 0 {
		code = http.StatusUnprocessableEntity
	} else {
		d.PDF = "/makings/" + m.ID + "/labels.pdf?" + url.Values{"kind": {a.kind}, "count": {strconv.Itoa(a.count)}, "paper": {f.Get("paper")}}.Encode()
		d.Takes = a.takes(a.count, 1)
	}
	d.set(f)
	return template.Write(w, code, d)
}

func (d *Data) set(f *page.Form) {
	for _, fd := range []part.Field{
		{Name: "kind", Label: "What is to be printed?", Kind: part.Choices, Options: kinds},
		{Name: "count", Label: "How many labels", Hint: "Of tags and swatch labels.", Kind: part.Number, Mode: "numeric", Small: true},
		onPaper,
	} {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
}
