package handbook

import (
	"net/http"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// FibreData is what the template of one fibre sets.
type FibreData struct {
	page.Base
	Fibre      fibre.Fibre
	Also       string
	Words      []Words
	Cautions   []string
	Hours      []Number
	Shrinkage  *part.Table
	ShrinkNote string
	ShrinkFrom part.Cited
	Sheet      []Number // of the sheet and the fibre
	Cook       []Number
	Cooked     string // how it is cooked, in a sentence
}

// Words is what is said of a fibre in words.
type Words struct{ Name, Text string }

// Fibre shows one fibre.
func (p *Page) Fibre(w http.ResponseWriter, r *http.Request) error {
	f, ok := fibre.Get(r.PathValue("name"))
	if !ok {
		return fault.NotFound("The handbook has no fibre of this name.")
	}
	base, err := p.frame.Base(w, r, part.Upper(f.Name), page.Handbook)
	if err != nil {
		return err
	}
	s := base.Speech
	d := FibreData{Base: base, Fibre: f, Also: strings.Join(f.Aliases, ", "), ShrinkNote: part.Upper(f.ShrinkNote),
		ShrinkFrom: part.Cite(f.ShrinkMost.Source, f.ShrinkMost.Grade)}
	for _, text := range f.Cautions {
		d.Cautions = append(d.Cautions, measure.Retell(text, s.System))
	}
	for _, words := range []Words{
		{"Comes as", strings.Join(f.Forms, "; ")}, {"Preparation", f.Preparation}, {"Drains", f.Drainage}, {"At the vat", f.Forming},
		{"Against light", f.Translucency}, {"The sheet", f.Strength}, {"Dried", dried(f)},
	} {
		if words.Text != "" {
			words.Text = part.Upper(measure.Retell(words.Text, s.System))
			d.Words = append(d.Words, words)
		}
	}
	for _, use := range f.Uses() {
		if n, ok := number(s, part.Upper(use.Use), use.Hours, "h"); ok {
			d.Hours = append(d.Hours, n)
		}
	}
	if d.Shrinkage, err = shrinkage(f); err != nil {
		return err
	}
	d.numbers(f)
	return fibreTemplate.Write(w, http.StatusOK, d)
}

// numbers sets what the table keeps, the shrinkage apart, which is a table of
// its own.
func (d *FibreData) numbers(f fibre.Fibre) {
	for _, q := range fibre.Quantities() {
		n, ok := number(d.Speech, part.Upper(q.Name), f.Of(q.Key), q.Unit)
		switch {
		case !ok || strings.HasPrefix(q.Key, "shrink_"):
		case strings.HasPrefix(q.Key, "cook_"), q.Key == "yield":
			d.Cook = append(d.Cook, n)
		default:
			d.Sheet = append(d.Sheet, n)
		}
	}
	switch {
	case f.Cook == nil:
		d.Cooked = "It is not cooked."
	case f.MustCook():
		d.Cooked = "It comes unpulped, and is cooked with " + f.Cook.With + "."
	default:
		d.Cooked = "It may be cooked with " + f.Cook.With + "."
	}
}

// dried says which ways of drying suit.
func dried(f fibre.Fibre) string {
	text := strings.Join(f.Dryings, ", ")
	if f.HoldFlat {
		text = strings.TrimPrefix(text+"; flat work must be held while it dries", "; ")
	}
	return text
}

// beaten are the hours that the table of shrinkages shows.
var beaten = []measure.Hours{0.5, 1, 2, 4, 8}

// shrinkage is how much a sheet shrinks dried free, by hours of beating; nil
// where the handbook does not know.
func shrinkage(f fibre.Fibre) (*part.Table, error) {
	if !f.ShrinkMost.Known() {
		return nil, nil
	}
	t := &part.Table{Caption: "Shrinkage of a side, dried free", Columns: []part.Column{
		{Label: "Beaten", Unit: "h"}, {Label: "Shrinks by", Unit: "%", Number: true}, {Label: "Nine times in ten", Unit: "%", Number: true}}}
	for _, h := range beaten {
		v, err := fibre.FreeShrinkageBand(f, h)
		if err != nil {
			return nil, err
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{said(float64(h), ""), percent(v.Mid), percent(v.Low) + "–" + percent(v.High)}})
	}
	return t, nil
}

func percent(share float64) string {
	_, mid, _, _ := inUnits(part.Speech{}, source.Value{Mid: share}, "%")
	return said(mid, "")
}
