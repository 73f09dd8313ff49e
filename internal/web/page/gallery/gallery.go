// Package gallery shows every shared part with canned contents, for those who
// build pages. It is served in development only.
package gallery

import (
	"embed"
	"net/http"

	"vatside/internal/figure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "gallery.html")

// Page answers for the gallery.
type Page struct{ frame *page.Frame }

// New returns the gallery.
func New(f *page.Frame) *Page { return &Page{f} }

// Data is what the template sets.
type Data struct {
	page.Base
	Figures []part.Figure
	Fields  []part.Field
	Wrong   []part.Wrong
	Table   part.Table
	Caution part.Caution
	Empty   part.Empty
	Sum     part.Sum
	Back    part.Link
}

// Show shows all parts.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Gallery", page.Place{})
	if err != nil {
		return err
	}
	return template.Write(w, http.StatusOK, Canned(base))
}

// Canned fills the gallery. The numbers are made up to show the setting.
func Canned(base page.Base) Data {
	low, high := 370.0, 460.0
	lines := []figure.Line{
		{What: "sheets wanted, with those lost later", Working: "50 / 0.9", Result: "55.6 sheets", Source: "arithmetic"},
		{What: "with the test sheets", Working: "60 + 3", Result: "63 sheets", Source: "common practice", Grade: "practice", Note: "Test sheets are not delivered."},
	}
	decision := figure.Figure{Kind: figure.Decision, Value: 460, Low: 460, High: 460, Unit: "g", Basis: source.Handbook, ExpectedLow: &low, ExpectedHigh: &high, Sum: lines}
	outcome := figure.Figure{Kind: figure.Outcome, Value: 420, Low: 412, High: 428, Unit: "mm", Basis: source.Measured, Sum: lines}
	money := figure.Figure{Kind: figure.Outcome, Value: 312.4, Low: 270, High: 360, Unit: "money", Basis: source.Memory}
	d := Data{Base: base, Sum: part.SumOf(decision), Back: part.Link{Href: "/", Text: "Back to the bench"}}
	for i, f := range []figure.Figure{decision, outcome, money} {
		d.Figures = append(d.Figures, part.NewFigure([]string{"fibre_air_dry_g", "dry_long_mm", "cost_total"}[i], f, base.Speech, "/gallery"))
	}
	d.Figures[0].Large = true
	d.Fields = []part.Field{
		{Name: "a", Label: "How many good sheets?", Kind: part.Number, Mode: "numeric", Unit: "sheets", Value: "50", Required: true},
		{Name: "b", Label: "What size, finished?", Hint: "By name, or two sides.", Error: "Write a size by name, such as A4.", Kind: part.Suggest, Value: "A44", Options: base.Speech.SizeNames()},
		{Name: "c", Label: "Edges", Kind: part.Choices, Value: "deckle", Options: []part.Option{{Value: "deckle", Label: "Deckle", Note: "as they leave the mould"}, {Value: "trimmed", Label: "Trimmed"}}},
		{Name: "d", Label: "Which paper?", Kind: part.Select, Options: []part.Option{{Value: "1", Label: "Book text, 100 g/m²"}}},
		{Name: "e", Label: "What else was asked", Kind: part.Long, Value: "Laid, chain lines short way."},
		{Name: "g", Label: "Wanted by", Kind: part.Date, Value: "2030-05-01"},
	}
	d.Wrong = []part.Wrong{{Anchor: "f-b", Label: "What size, finished?", Text: "Write a size by name, such as A4."}}
	d.Table = part.Table{Caption: "Recharges", Columns: []part.Column{{Label: "Before sheet", Number: true}, {Label: "Jugs", Number: true}, {Label: "Stock", Number: true}},
		Rows: []part.Row{{Cells: []string{"4", "1¼", "1170 mL"}}, {Cells: []string{"7", "1¼", "1170 mL"}}, {Cells: []string{"10", "–", "–"}, Apart: true, Note: "From here the vat is run down."}}}
	d.Caution = part.Caution{Text: "Keep the roll covered.", More: "Switch off and wait until it stands before clearing a wrap."}
	d.Empty = part.Empty{Text: "No paper has been made yet.", Href: "/briefs/new", Action: "Write a brief"}
	return d
}
