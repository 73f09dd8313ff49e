package handbook

import (
	"net/http"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/handbook"
	"vatside/internal/measure"
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
	Groups     []NumberGroup
}

// NumberGroup are numbers that are thought of together, and what is said of them.
type NumberGroup struct {
	Name    string
	Said    string
	Caution string
	Numbers []Number
}

// ID is the group's anchor on the page.
func (g NumberGroup) ID() string { return handbook.Term{Word: "numbers " + g.Name}.ID() }

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
	for _, name := range fibre.Groups() {
		if name == fibre.Shrinking {
			continue
		}
		g := NumberGroup{Name: name}
		for _, q := range fibre.Quantities() {
			if n, ok := number(d.Speech, part.Upper(q.Name), q.Read(f.Of(q.Key)), q.Unit); ok && q.Group == name {
				g.Numbers = append(g.Numbers, n)
			}
		}
		if name == fibre.Buying {
			g.Said, g.Caution = d.cooked(f)
		}
		d.Groups = append(d.Groups, g)
	}
}

// cooked says how a fibre is cooked, and the care that takes where it does not
// stand at the head of the page.
func (d *FibreData) cooked(f fibre.Fibre) (said, caution string) {
	if f.Cook == nil {
		return "It is not cooked.", ""
	}
	if care := fibre.CookCaution(); !slices.Contains(f.Cautions, care) {
		caution = measure.Retell(care, d.Speech.System)
	}
	if f.MustCook() {
		return "It comes unpulped, and is cooked with " + f.Cook.With + ".", caution
	}
	return "It may be cooked with " + f.Cook.With + ".", caution
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

func percent(share float64) string { return said(round(100*share), "") }
