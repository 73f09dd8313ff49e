// Package store is the page of the shelf: the lots of fibre, additives, stock,
// scraps and finished sheets, how much there is of each, and what must be used
// soon. Amounts are typed as people have them; they change by what came, what
// was counted, what was thrown away and what was sold, each of which stays
// readable.
//
// Missing: reservations, reorder points, prices of sheets.
package store

import (
	"context"
	"embed"
	"net/http"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	listTemplate = page.Must(files, "list.html")
	newTemplate  = page.Must(files, "new.html")
	lotTemplate  = page.Must(files, "lot.html")
)

// Studio is what the page asks of the records.
type Studio interface {
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
	Lot(ctx context.Context, id string) (studio.Lot, []studio.Movement, error)
	SaveLot(ctx context.Context, l studio.Lot, first studio.Movement) (studio.Lot, error)
	Profile(ctx context.Context) (studio.Profile, error)
	Amounts
}

// Amounts changes how much there is.
type Amounts interface {
	Receive(ctx context.Context, lot string, m studio.Movement) error
	Count(ctx context.Context, lot string, m studio.Movement) error
	ThrowAway(ctx context.Context, lot string, m studio.Movement) error
	GoOut(ctx context.Context, lot string, m studio.Movement) error
	Makings(ctx context.Context, f studio.MakingFilter) ([]studio.Making, error)
}

// Page answers for the shelf.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the pages of the shelf over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// ListData is what the template of the list sets.
type ListData struct {
	page.Base
	Soon   []Line
	Groups []Group
	Gone   []Line // used up
}

// Group is the lots of one fibre or additive, the oldest first.
type Group struct {
	What string
	All  string // together, where there are several
	Lots []Line
}

// Line is one lot in a list.
type Line struct {
	Href, Name, Amount, About, When string
	Late                            bool
}

// List lists the shelf: what must be used soon first.
func (p *Page) List(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Store", page.Store)
	if err != nil {
		return err
	}
	lots, err := p.studio.Lots(r.Context(), studio.LotFilter{})
	if err != nil {
		return err
	}
	d := ListData{Base: base}
	d.Soon = soon(base.Speech, lots, p.now())
	d.Groups, d.Gone = groups(base.Speech, lots, p.now())
	return listTemplate.Write(w, http.StatusOK, d)
}

// FormData is what the template of the form sets.
type FormData struct {
	page.Base
	Entry  string // the id of what comes in, so that sending twice stores once
	Fields []part.Field
	Wrong  []part.Wrong
}

// New shows the form of a lot that is not there yet.
func (p *Page) New(w http.ResponseWriter, r *http.Request) error {
	return p.form(w, r, http.StatusOK, &page.Form{})
}

func (p *Page) form(w http.ResponseWriter, r *http.Request, status int, f *page.Form) error {
	base, err := p.frame.Base(w, r, "A new lot", page.Store)
	if err != nil {
		return err
	}
	base.Back = "/store/new"
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	f.Fill("form", string(studio.AsBought))
	f.Fill("since", p.now().Format(time.DateOnly))
	f.Fill("entry", entryID())
	d := FormData{Base: base, Entry: f.Get("entry")}
	d.Fields = fields(f, base.Speech, profile.Kit, true)
	d.Wrong = f.Wrong()
	return newTemplate.Write(w, status, d)
}

// Create puts a lot on the shelf.
func (p *Page) Create(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	s, err := p.speech(r)
	if err != nil {
		return err
	}
	l := readLot(f, s)
	grams, status := readAmount(f, s, &l), http.StatusUnprocessableEntity
	if len(f.Faults) == 0 {
		saved, err := p.studio.SaveLot(r.Context(), l, studio.Movement{ID: f.Get("entry"), MassG: grams, At: p.now()})
		if err == nil {
			page.PutFlash(w, "On the shelf.")
			return page.See(w, r, "/store/"+saved.ID)
		}
		if status, err = refuse(f, err); err != nil {
			return err
		}
	}
	return p.form(w, r, status, f)
}
