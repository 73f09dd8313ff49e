// Package intake is the pages where sheets of records are taken in: choosing a
// file, saying what its columns hold, looking at what it would do, writing it
// down, and undoing it; and where the whole studio is handed out, and taken in
// where there is none yet. A file waits in memory between these steps; a restart
// of the program forgets it, and nothing else.
package intake

import (
	"context"
	"embed"
	"net/http"
	"time"

	"vatside/internal/intake"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	startTemplate = page.Must(files, "start.html")
	lookTemplate  = page.Must(files, "look.html")
)

// Studio is what the pages ask of the records.
type Studio interface {
	intake.Records
	Imports(ctx context.Context) ([]studio.Import, error)
	Import(ctx context.Context, b studio.Batch) (studio.Import, error)
	UndoImport(ctx context.Context, id string) (studio.Import, error)
	Remembering
}

// Remembering keeps how a sheet was read, and hands the studio out.
type Remembering interface {
	Matching(ctx context.Context, headings string, v any) (bool, error)
	KeepMatching(ctx context.Context, headings string, v any) error
	Tables(ctx context.Context, each func(studio.Table) error) error
	FillTables(ctx context.Context, tables []studio.Table) error
}

// Page answers for what is taken in.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
	tray   tray
	photos string // the folder of the photos; "" where there is none
}

// New returns the pages over the records, by the studio's clock, with the
// folder its photos lie in.
func New(f *page.Frame, s Studio, now func() time.Time, photos string) *Page {
	return &Page{frame: f, studio: s, now: now, photos: photos}
}

// StartData is what the template of the first page sets.
type StartData struct {
	page.Base
	File  part.Field
	Whole part.Field
	Empty bool   // a whole studio may be taken in
	Else  string // what to do where it may not
	Wrong []part.Wrong
	Past  []Past
	Sure  *Past // what is about to be undone
}

// Past is one import that can be undone.
type Past struct{ ID, File, Said, When string }

// Start asks for a file, and lists what was taken in. Asked with ?undo= it asks
// whether to.
func (p *Page) Start(w http.ResponseWriter, r *http.Request) error {
	return p.start(w, r, http.StatusOK, &page.Form{})
}

func (p *Page) start(w http.ResponseWriter, r *http.Request, status int, f *page.Form) error {
	base, err := p.frame.Base(w, r, "Take in a sheet", page.Makings)
	if err != nil {
		return err
	}
	base.Back = "/intake"
	d := StartData{Base: base}
	d.File = f.Field(part.Field{Name: "file", Label: "The file", Required: true,
		Hint: "A spreadsheet (.xlsx) or a table as text (.csv), up to 50 MB. One row to a making, a paper, a lot, a customer or a fibre, with headings above."})
	d.Whole = f.Field(part.Field{Name: "whole", Label: "The saved studio", Required: true, Hint: "The .zip that “Save the whole studio” made."})
	d.Wrong = f.Wrong()
	if d.Empty, err = p.empty(r.Context()); err != nil {
		return err
	}
	d.Else = part.Upper(elsewhere)
	list, err := p.studio.Imports(r.Context())
	if err != nil {
		return err
	}
	for _, i := range list {
		one := Past{i.ID, i.File, counted(i), part.Since(i.At, p.now())}
		d.Past = append(d.Past, one)
		if r.URL.Query().Get("undo") == i.ID {
			d.Sure = &one
		}
	}
	return startTemplate.Write(w, status, d)
}
