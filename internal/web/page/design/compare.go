package design

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// CompareData is what the template of two papers sets.
type CompareData struct {
	page.Base
	Empty   bool // there is none yet
	Pick    []part.Field
	No      []string
	Designs part.Table // where the two designs differ
	Plans   part.Table // and what that does
	Mind    []string
	Gone    []string
	Sides   []Side
}

// Side is one of the two, with what the hand said of it.
type Side struct {
	Name  string
	Hands []studio.HandSaid
}

// Compare sets two papers, or two revisions of one, side by side, each in the
// size it is usually made in. A paper is named by its id; an earlier revision by
// the id, a point and its number.
func (p *Page) Compare(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Compare papers", page.Papers)
	if err != nil {
		return err
	}
	d := CompareData{Base: base}
	list, err := p.studio.Papers(r.Context(), studio.PaperFilter{})
	if err != nil {
		return err
	}
	if d.Empty = len(list) == 0; d.Empty {
		return compareTemplate.Write(w, http.StatusOK, d)
	}
	f := page.ReadQuery(r)
	f.Fill("a", list[0].ID)
	one, options, err := p.named(r.Context(), f, "a", list)
	if err != nil {
		return err
	}
	f.Fill("b", other(one, list))
	two, options, err := p.named(r.Context(), f, "b", options)
	if err != nil {
		return err
	}
	f.Fill("good", strconv.Itoa(part.UsualGood))
	good, err := part.GoodSheets("good", f.Get("good"))
	status := http.StatusOK
	if err != nil {
		f.Refuse(err)
		status = http.StatusUnprocessableEntity
	} else if err := p.beside(r.Context(), &d, one, two, good); err != nil {
		return err
	}
	offer := choices(options)
	for _, fd := range []part.Field{
		{Name: "a", Label: "One", Kind: part.Select, Options: offer}, {Name: "b", Label: "The other", Kind: part.Select, Options: offer},
		{Name: "good", Label: "Good sheets of a making", Kind: part.Number, Mode: "numeric", Small: true},
	} {
		d.Pick = append(d.Pick, f.Field(fd))
	}
	return compareTemplate.Write(w, status, d)
}

// named finds the paper a field names, or one of its revisions, and adds all its
// revisions to what is on offer.
func (p *Page) named(ctx context.Context, f *page.Form, field string, offer []studio.Paper) (studio.Paper, []studio.Paper, error) {
	id, number, _ := strings.Cut(f.Get(field), ".")
	revisions, err := p.studio.PaperRevisions(ctx, id)
	if err != nil {
		return studio.Paper{}, nil, err
	}
	i := 0
	if number != "" {
		i = slices.IndexFunc(revisions, func(rev studio.Paper) bool { return strconv.Itoa(rev.Revision) == number })
	}
	switch {
	case i < 0:
		return studio.Paper{}, nil, fault.NotFound("there is no such revision of this paper")
	case i == 0: // the present one goes by the id alone
		f.Values.Set(field, id)
	}
	offer = slices.DeleteFunc(slices.Clone(offer), func(o studio.Paper) bool { return o.ID == id })
	return revisions[i], append(offer, revisions...), nil
}

// other is what a paper is compared with where nothing is said: the revision
// before it, else another paper.
func other(pa studio.Paper, list []studio.Paper) string {
	if pa.Revision > 1 {
		return pa.ID + "." + strconv.Itoa(pa.Revision-1)
	}
	for _, o := range list {
		if o.ID != pa.ID {
			return o.ID
		}
	}
	return pa.ID
}

// choices are papers by name and revision; the present revision of each goes by
// the id alone.
func choices(list []studio.Paper) []part.Option {
	seen := map[string]bool{}
	var out []part.Option
	for _, pa := range list {
		o := part.Option{Value: pa.ID, Label: pa.Name + ", revision " + strconv.Itoa(pa.Revision)}
		if seen[pa.ID] {
			o.Value += "." + strconv.Itoa(pa.Revision)
		}
		seen[pa.ID] = true
		out = append(out, o)
	}
	return out
}
