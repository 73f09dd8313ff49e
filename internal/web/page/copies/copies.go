// Package copies is the page of a studio's copies: when the last was made,
// making one, carrying one away as one file, and going back to one, from the
// list or from a file. Before going back it is shown what is in the copy; the
// present studio is copied first, so that going back can itself be taken back.
package copies

import (
	"context"
	"embed"
	"io"
	"net/http"
	"time"

	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	listTemplate = page.Must(files, "copies.html")
	oneTemplate  = page.Must(files, "copy.html")
)

// Keeper is what the page asks of the copies that lie there.
type Keeper interface {
	List() ([]keeping.Copy, error)
	Make(ctx context.Context, why string) (keeping.Copy, error)
	Inside(ctx context.Context, name string) (keeping.Copy, keeping.Inside, error)
	Restore(ctx context.Context, name string) (keeping.Copy, error)
	Carried
}

// Carried is what goes in and out as one file.
type Carried interface {
	Pack(ctx context.Context, w io.Writer) error
	PackCopy(ctx context.Context, name string, w io.Writer) error
	Receive(ctx context.Context, from io.Reader) (string, keeping.Inside, error)
	Dir() string
}

// Page answers for copies.
type Page struct {
	frame *page.Frame
	keep  Keeper
	now   func() time.Time
}

// New returns the pages over the keeper and the studio's clock.
func New(f *page.Frame, k Keeper, now func() time.Time) *Page { return &Page{f, k, now} }

// Line is one copy in the list.
type Line struct {
	Name, When, Why, Size string
}

// ListData is what the list sets.
type ListData struct {
	page.Base
	Last  string // when the newest was made; "" where there is none
	Wrong string // what was refused
	Lines []Line
	Dir   string
}

// OneData is what the page of one copy sets.
type OneData struct {
	page.Base
	Line
	Holds string
	Last  string // its last entry
	Ours  bool   // a copy of this studio, not a file that was brought
}

// List lists the copies.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	return p.list(w, r, http.StatusOK, "")
}

func (p *Page) list(w http.ResponseWriter, r *http.Request, status int, wrong string) error {
	base, err := p.frame.Base(w, r, "Copies of your studio", page.Studio)
	if err != nil {
		return err
	}
	base.Back = "/copies"
	list, err := p.keep.List()
	if err != nil {
		return err
	}
	d := ListData{Base: base, Wrong: wrong, Dir: p.keep.Dir()}
	for _, c := range list {
		d.Lines = append(d.Lines, p.line(c))
	}
	if len(d.Lines) > 0 {
		d.Last = d.Lines[0].When
	}
	return listTemplate.Write(w, status, d)
}

// Show says what is in a copy, before going back to it.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	c, in, err := p.keep.Inside(r.Context(), r.PathValue("name"))
	if fault.KindOf(err) == fault.KindStorage {
		return p.list(w, r, http.StatusUnprocessableEntity, page.Sentence(err))
	}
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "A copy of your studio", page.Studio)
	if err != nil {
		return err
	}
	d := OneData{Base: base, Line: p.line(c), Ours: c.Why != keeping.Arrived,
		Holds: part.Many(in.Papers, "paper") + ", " + part.Many(in.Makings, "making")}
	if !in.Last.IsZero() {
		d.Last = part.Moment(in.Last, p.now())
	}
	return oneTemplate.Write(w, http.StatusOK, d)
}
