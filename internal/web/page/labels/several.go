package labels

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/paperwork"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostOffered is how many makings are offered to tick; ours: the last ones.
const mostOffered = 100

// SeveralData is what the template of several makings sets.
type SeveralData struct {
	page.Base
	Of     string // the paper whose makings are offered; "": of all
	Fields []part.Field
	Each   string // how many of each, where no other number is typed
	Rows   []Row
	Wrong  []part.Wrong
	PDF    string // address of what was asked for; "" where nothing is
	Takes  string
}

// Row is one making that may be ticked.
type Row struct {
	ID, Tag, Paper, When string
	Ticked               bool
	Count                part.Field
}

// Several asks of which makings labels go on the same sheets.
func (p *Page) Several(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Labels of several makings", page.Makings)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	c, err := p.choose(r.Context(), f, base.Speech)
	if err != nil {
		return err
	}
	d, code := SeveralData{Base: base, Of: f.Get("of"), Each: f.Get("each")}, http.StatusOK
	if d.Rows, err = p.rows(r.Context(), f, c); err != nil {
		return err
	}
	for _, fd := range []part.Field{
		{Name: "kind", Label: "What is to be printed?", Kind: part.Choices, Options: toCut},
		{Name: "each", Label: "Of each", Kind: part.Number, Mode: "numeric", Small: true}, onPaper,
	} {
		d.Fields = append(d.Fields, f.Field(fd))
	}
	d.Wrong = f.Wrong()
	switch {
	case len(f.Faults) > 0:
		code = http.StatusUnprocessableEntity
	case len(c.makings) > 0:
		q := url.Values{"kind": {c.kind}, "paper": {f.Get("paper")}}
		for _, m := range c.makings {
			q.Add("making", m.ID)
			q.Set("n-"+m.ID, strconv.Itoa(c.counts[m.ID]))
		}
		d.PDF, d.Takes = "/labels.pdf?"+q.Encode(), c.takes(c.all, len(c.makings))
	}
	return severalTemplate.Write(w, code, d)
}

// SeveralPDF sends the labels of several makings.
func (p *Page) SeveralPDF(w http.ResponseWriter, r *http.Request) error {
	system, err := p.frame.System(r)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	c, err := p.choose(r.Context(), f, part.Speech{System: system})
	switch {
	case err != nil:
		return err
	case len(f.Faults) > 0:
		return f.Faults
	case len(c.makings) == 0:
		return fault.Invalid("making", "tick at least one making")
	}
	var list []paperwork.Label
	var t told
	for _, m := range c.makings {
		if t, err = p.told(r.Context(), m.ID, system); err != nil {
			return err
		}
		list = append(list, slices.Repeat([]paperwork.Label{t.label(c.kind, page.TagLink(r, m.Tag))}, c.counts[m.ID])...)
	}
	var buf bytes.Buffer
	if err := writeLabels(&buf, list, c.asked, t.studio, t.now); err != nil {
		return fmt.Errorf("%s of %d makings: %w", c.kind, len(c.makings), err)
	}
	return send(w, buf.Bytes(), c.kind+".pdf")
}
