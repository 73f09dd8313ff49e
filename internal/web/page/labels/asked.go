package labels

import (
	"slices"
	"strconv"

	"vatside/internal/paperwork"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// The kinds of what is printed.
const (
	tags        = "tags"
	swatches    = "swatches"
	swatchPage  = "swatch page"
	provenance  = "provenance"
	certificate = "certificate"
)

// mostLabels bounds a count; ours: more than any swap asks for.
const mostLabels = 2000

// kinds on offer.
var kinds = []part.Option{
	{Value: tags, Label: "Tags", Note: "to cut, with the code that finds the making"},
	{Value: swatches, Label: "Swatch labels", Note: "2 × 3 in, without the code"},
	{Value: swatchPage, Label: "Swatch page", Note: "to glue swatches to, with the code"},
	{Value: provenance, Label: "What the paper is", Note: "a card for whoever gets it"},
	{Value: certificate, Label: "What was measured", Note: "and how, and what was not"},
}

var onPaper = part.Field{Name: "paper", Label: "On", Kind: part.Select, Options: []part.Option{{Value: "a4", Label: "A4"}, {Value: "letter", Label: "Letter"}}, Small: true}

// toCut are those that several makings share.
var toCut = kinds[:3]

// asked is what is to be printed.
type asked struct {
	kind  string
	count int
	paper paperwork.Size
}

func (p *Page) read(f *page.Form, s part.Speech) asked {
	a := readKind(f, s, kinds)
	across, down := cut(a.kind).Grid(a.paper)
	f.Fill("count", strconv.Itoa(across*down))
	n, err := part.Count("count", f.Get("count"), 1, mostLabels, "labels")
	f.Refuse(err)
	a.count = n
	return a
}

// readKind reads what is to be printed, and on what.
func readKind(f *page.Form, s part.Speech, offered []part.Option) asked {
	f.Fill("kind", tags)
	if s.US() {
		f.Fill("paper", "letter")
	}
	f.Fill("paper", "a4")
	a := asked{kind: f.Get("kind"), paper: paperwork.A4}
	if f.Get("paper") == "letter" {
		a.paper = paperwork.Letter
	}
	if !slices.ContainsFunc(offered, func(o part.Option) bool { return o.Value == a.kind }) {
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

// takes says how much paper so many labels of so many makings take; "" of what
// is as long as it is.
func (a asked) takes(labels, makings int) string {
	switch a.kind {
	case tags, swatches:
		return sheets(cut(a.kind).Sheets(labels, a.paper), a.paper)
	case swatchPage:
		return sheets(paperwork.SwatchSheets(makings, a.paper), a.paper)
	}
	return ""
}

func sheets(n int, paper paperwork.Size) string {
	return part.Many(n, "sheet") + " of " + paper.Name
}
