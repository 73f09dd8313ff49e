package history

import (
	"context"
	"net/http"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// CompareData is what the template of two makings sets.
type CompareData struct {
	page.Base
	Pick  []part.Field
	Wrong []part.Wrong
	Made  part.Table
	Plans part.Table
	Sides []Side
}

// Side is one of the two, with what is not a number.
type Side struct {
	Href, Tag, Paper string
	Remarks          []string
	Photos           []page.Photo
}

// fewPhotos are shown of each.
const fewPhotos = 3

// told is a making with its records.
type told struct {
	m studio.Making
	s studio.State
}

// Compare sets two makings side by side; each is named by its tag.
func (p *Page) Compare(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Two makings", page.Makings)
	if err != nil {
		return err
	}
	f, code := page.ReadQuery(r), http.StatusOK
	recent, err := p.studio.Makings(r.Context(), studio.MakingFilter{Light: true, Limit: mostCharted})
	if err != nil {
		return err
	}
	if len(recent) == 0 {
		return fault.NotFound("nothing has been made yet")
	}
	f.Fill("a", recent[0].Tag)
	a, err := p.told(r.Context(), f, "a")
	if err != nil {
		return err
	}
	f.Fill("b", before(a.m, recent))
	b, err := p.told(r.Context(), f, "b")
	if err != nil {
		return err
	}
	d := CompareData{Base: base}
	if len(f.Faults) == 0 {
		d.set(a, b, p.now())
	} else {
		code = http.StatusUnprocessableEntity
	}
	var offer []part.Option
	for _, m := range recent {
		offer = append(offer, part.Option{Value: m.Tag, Label: m.PaperName})
	}
	for _, fd := range []part.Field{{Name: "a", Label: "One", Kind: part.Suggest, Options: offer, Hint: "By its tag."}, {Name: "b", Label: "The other", Kind: part.Suggest, Options: offer, Hint: "By its tag."}} {
		d.Pick = append(d.Pick, f.Field(fd))
	}
	d.Wrong = f.Wrong()
	return compareTemplate.Write(w, code, d)
}

// told finds a making by the tag in a field; a tag that none carries is told at
// the field.
func (p *Page) told(ctx context.Context, f *page.Form, field string) (told, error) {
	tag, err := studio.ReadTag(f.Get(field))
	if err != nil {
		f.Refuse(fault.Invalid(field, "%s", fault.All(err)[0].Text))
		return told{}, nil
	}
	list, err := p.studio.Makings(ctx, studio.MakingFilter{Tag: tag})
	if err != nil {
		return told{}, err
	}
	if len(list) == 0 {
		f.Refuse(fault.Invalid(field, "no making carries the tag %s", tag))
		return told{}, nil
	}
	events, err := p.studio.Events(ctx, list[0].ID)
	return told{list[0], studio.Replay(list[0], events)}, err
}

// before is the making of the same paper before, else any other.
func before(m studio.Making, recent []studio.Making) string {
	other := m.Tag
	for _, o := range recent {
		switch {
		case o.ID == m.ID:
		case o.PaperID == m.PaperID && o.Created.Before(m.Created):
			return o.Tag
		case other == m.Tag:
			other = o.Tag
		}
	}
	return other
}

// set sets the two side by side.
func (d *CompareData) set(a, b told, now time.Time) {
	s := d.Speech
	heads := []part.Column{{Label: "What"}, {Label: a.m.Tag, Number: true}, {Label: b.m.Tag, Number: true}}
	d.Made = part.Table{Caption: "As they were made", Columns: heads}
	other := facts(s, b, now.Location())
	for i, one := range facts(s, a, now.Location()) {
		if one[1] != "–" || other[i][1] != "–" {
			d.Made.Rows = append(d.Made.Rows, part.Row{Cells: []string{one[0], one[1], other[i][1]}})
		}
	}
	if len(a.m.Plan.Figures) > 0 && len(b.m.Plan.Figures) > 0 {
		d.Plans = part.Moved(part.Moves(a.m.Plan, b.m.Plan, s), "As they were planned", a.m.Tag, b.m.Tag)
	}
	for _, t := range []told{a, b} {
		side := Side{Href: "/makings/" + t.m.ID, Tag: t.m.Tag, Paper: t.m.PaperName}
		for _, r := range t.s.Remarks {
			side.Remarks = append(side.Remarks, r.Text)
		}
		for _, h := range t.s.Hands {
			side.Remarks = append(side.Remarks, "The hand: "+strings.TrimSpace(h.All()))
		}
		side.Photos = page.Photos(t.m.ID, t.s.Photos, now, fewPhotos).Photos
		d.Sides = append(d.Sides, side)
	}
}
