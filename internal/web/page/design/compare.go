package design

import (
	"context"
	"net/http"
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
	Pick    []part.Field
	No      string
	Designs part.Table // where the two designs differ
	Plans   part.Table // and what that does
	Mind    []string
	Gone    []string
}

// Compare sets two papers, or two revisions of one, side by side, each in the
// size it is usually made in. A paper is named by its id; an earlier revision by
// the id, a point and its number.
func (p *Page) Compare(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Compare papers", page.Papers)
	if err != nil {
		return err
	}
	f := page.ReadQuery(r)
	list, err := p.studio.Papers(r.Context(), studio.PaperFilter{})
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return fault.NotFound("there is no paper to compare yet")
	}
	f.Fill("a", list[0].ID)
	one, options, err := p.named(r.Context(), f.Get("a"), list)
	if err != nil {
		return err
	}
	f.Fill("b", beside(one, list))
	other, options, err := p.named(r.Context(), f.Get("b"), options)
	if err != nil {
		return err
	}
	f.Fill("good", strconv.Itoa(usualGood))
	good, err := part.Count("good", f.Get("good"), 1, mostGood, "good sheets")
	f.Refuse(err)
	d := CompareData{Base: base}
	if err == nil {
		if err := p.beside(r.Context(), &d, one, other, good); err != nil {
			return err
		}
	}
	offer := choices(options)
	for _, fd := range []part.Field{
		{Name: "a", Label: "One", Kind: part.Select, Options: offer}, {Name: "b", Label: "The other", Kind: part.Select, Options: offer},
		{Name: "good", Label: "Good sheets of a making", Kind: part.Number, Mode: "numeric", Small: true},
	} {
		d.Pick = append(d.Pick, f.Field(fd))
	}
	return compareTemplate.Write(w, http.StatusOK, d)
}

// named finds a paper, or one of its revisions, and adds all its revisions to
// what is on offer.
func (p *Page) named(ctx context.Context, ref string, offer []studio.Paper) (studio.Paper, []studio.Paper, error) {
	id, number, _ := strings.Cut(ref, ".")
	revisions, err := p.studio.PaperRevisions(ctx, id)
	if err != nil {
		return studio.Paper{}, nil, err
	}
	found := revisions[0]
	for _, rev := range revisions {
		if strconv.Itoa(rev.Revision) == number {
			found = rev
		}
	}
	if number != "" && strconv.Itoa(found.Revision) != number {
		return found, nil, fault.NotFound("there is no such revision of this paper")
	}
	var all []studio.Paper
	for _, o := range offer {
		if o.ID != id {
			all = append(all, o)
		}
	}
	return found, append(all, revisions...), nil
}

// beside is what a paper is compared with where nothing is said: the revision
// before it, else another paper.
func beside(pa studio.Paper, list []studio.Paper) string {
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

// beside plans both and sets them side by side.
func (p *Page) beside(ctx context.Context, d *CompareData, one, other studio.Paper, good int) error {
	heads := [2]string{titled(one), titled(other)}
	d.Designs = differing(d.Speech, one, other, heads)
	_, a, err := p.studio.PlanDesign(ctx, one.Design, one.Sheet, good)
	if refused(err) {
		d.No = heads[0] + ": " + page.Sentence(err)
	} else if err != nil {
		return err
	}
	_, b, err := p.studio.PlanDesign(ctx, other.Design, other.Sheet, good)
	if refused(err) {
		d.No = heads[1] + ": " + page.Sentence(err)
	} else if err != nil {
		return err
	}
	d.Plans = part.Moved(part.Moves(a, b, d.Speech), "What that does", heads[0], heads[1])
	d.Mind, d.Gone = part.Minded(a, b, d.Speech)
	return nil
}

func titled(p studio.Paper) string { return p.Name + ", " + strconv.Itoa(p.Revision) }
