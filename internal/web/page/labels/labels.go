// Package labels prints what goes with the sheets of a making: tags and swatch
// labels to cut, a card that says what the paper is, and a page that says what
// was measured of it, how, and what was not.
//
// Missing: labels of several makings on one sheet.
package labels

import (
	"context"
	"embed"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"vatside/internal/paperwork"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "labels.html")

// Studio is what the pages ask of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	Making(ctx context.Context, id string) (studio.Making, error)
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

// The kinds of what is printed.
const (
	tags        = "tags"
	swatches    = "swatches"
	provenance  = "provenance"
	certificate = "certificate"
)

// mostLabels bounds a count; ours: more than any swap asks for.
const mostLabels = 2000

// kinds on offer.
var kinds = []part.Option{
	{Value: tags, Label: "Tags", Note: "to cut, with the code that finds the making"},
	{Value: swatches, Label: "Swatch labels", Note: "2 × 3 in, without the code"},
	{Value: provenance, Label: "What the paper is", Note: "a card for whoever gets it"},
	{Value: certificate, Label: "What was measured", Note: "and how, and what was not"},
}

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Fields         []part.Field
	Wrong          []part.Wrong
	PDF            string // address of what was asked for; "" where it cannot be
	Takes          string // sheets of paper
}

// asked is what is to be printed.
type asked struct {
	kind  string
	count int
	paper paperwork.Size
}

func (p *Page) read(f *page.Form, s part.Speech) asked {
	f.Fill("kind", tags)
	if s.US() {
		f.Fill("paper", "letter")
	}
	f.Fill("paper", "a4")
	a := asked{kind: f.Get("kind"), paper: paperwork.A4}
	if f.Get("paper") == "letter" {
		a.paper = paperwork.Letter
	}
	across, down := cut(a.kind).Grid(a.paper)
	f.Fill("count", strconv.Itoa(across*down))
	n, err := part.Count("count", f.Get("count"), 1, mostLabels, "labels")
	f.Refuse(err)
	a.count = n
	if !slices.ContainsFunc(kinds, func(o part.Option) bool { return o.Value == a.kind }) {
		a.kind = tags
	}
	return a
}

func cut(kind string) paperwork.Cut {
	if kind == swatches {
		return paperwork.SwatchCut
	}
	return paperwork.TagCut
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
		if a.kind == tags || a.kind == swatches {
			d.Takes = sheets(cut(a.kind).Sheets(a.count, a.paper), a.paper)
		}
	}
	d.set(f)
	return template.Write(w, code, d)
}

func (d *Data) set(f *page.Form) {
	for _, fd := range []part.Field{
		{Name: "kind", Label: "What is to be printed?", Kind: part.Choices, Options: kinds},
		{Name: "count", Label: "How many labels", Hint: "Of tags and swatch labels.", Kind: part.Number, Mode: "numeric", Small: true},
		{Name: "paper", Label: "On", Kind: part.Select, Options: []part.Option{{Value: "a4", Label: "A4"}, {Value: "letter", Label: "Letter"}}, Small: true},
	} {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
}
