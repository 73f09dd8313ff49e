// Package paper is the pages of designs: the list, one paper with all its
// revisions, and the form that makes a new revision.
//
// Two who change the same paper at once do not overwrite one another: the
// second is told, keeps what was typed, and sees both versions. Missing:
// swatches, and looking a paper up by grammage or colour.
package paper

import (
	"context"
	"embed"
	"net/http"
	"strconv"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	listTemplate = page.Must(files, "list.html")
	showTemplate = page.Must(files, "paper.html")
	formTemplate = page.Must(files, "form.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	Papers(ctx context.Context, f studio.PaperFilter) ([]studio.Paper, error)
	Paper(ctx context.Context, id string) (studio.Paper, error)
	PaperRevisions(ctx context.Context, id string) ([]studio.Paper, error)
	SavePaper(ctx context.Context, p studio.Paper) (studio.Paper, error)
	Makings
	Fibres
}

// Makings are what was made of a paper, and what the hand said of it.
type Makings interface {
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
	Hands(ctx context.Context, paperID string, revision, most int) ([]studio.HandSaid, error)
}

// fewHands is how many words of the hand are read beside a paper.
const fewHands = 3

// Page answers for papers.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the pages of papers over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// Data is what the template of one paper sets.
type Data struct {
	page.Base
	ID, Name  string
	Revision  int
	Lines     []page.Said
	Note      string
	Revisions []Revision
	Makings   []Line
	Hands     []studio.HandSaid
}

// Revision is one saving of the paper and what it changed.
type Revision struct {
	Number  int
	When    string
	Change  string
	Changed []string // the parts that differ from the revision before
}

// Show shows a paper as it is, with its revisions and makings.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	revisions, err := p.studio.PaperRevisions(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	present := revisions[0]
	base, err := p.frame.Base(w, r, present.Name, page.Papers)
	if err != nil {
		return err
	}
	makings, err := p.studio.Makings(r.Context(), studio.MakingFilter{PaperID: present.ID, Light: true})
	if err != nil {
		return err
	}
	d := Data{Base: base, ID: present.ID, Name: present.Name, Revision: present.Revision, Note: present.Note}
	for _, line := range said(base.Speech, present) {
		if !line.Usual {
			d.Lines = append(d.Lines, line)
		}
	}
	if d.Hands, err = p.studio.Hands(r.Context(), present.ID, 0, fewHands); err != nil {
		return err
	}
	for i, rev := range revisions {
		line := Revision{Number: rev.Revision, When: part.Moment(rev.Changed, p.now()), Change: rev.Change}
		if i+1 < len(revisions) {
			line.Changed = differing(said(base.Speech, rev), said(base.Speech, revisions[i+1]))
		}
		d.Revisions = append(d.Revisions, line)
	}
	for _, m := range makings {
		d.Makings = append(d.Makings, Line{Href: "/makings/" + m.ID, Name: m.Tag, What: string(m.Progress.Stage) + good(m), When: "begun " + part.Since(m.Created, p.now())})
	}
	return showTemplate.Write(w, http.StatusOK, d)
}

func good(m studio.Making) string {
	if m.Progress.Good == 0 {
		return ""
	}
	return ", " + strconv.Itoa(m.Progress.Good) + " good"
}

func said(s part.Speech, p studio.Paper) []page.Said { return page.SaidDesign(s, p.Design, p.Sheet) }

// differing names what a revision has otherwise than the one before it.
func differing(now, before []page.Said) []string {
	var list []string
	for i, s := range now {
		if was := before[i].Value; was != s.Value {
			list = append(list, s.Name+": "+s.Value+", was "+was)
		}
	}
	return list
}
