// Package record is the form on which a finished making card is typed back in.
// It has the order of the printed card; any part of it may stay blank.
//
// Coming back shows what is recorded already, and sending again makes
// corrections. Numbers that were not touched go back as they were recorded,
// not as they were shown. Missing: the single sheet, which is counted at the
// vat and not on the card.
package record

import (
	"context"
	"crypto/rand"
	"embed"
	"net/http"
	"strconv"
	"time"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "record.html", "rows.html")

// Studio is what the form asks of the records.
type Studio interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
	FinishCard(ctx context.Context, makingID string, entry studio.CardEntry) error
}

// Page answers for the record.
type Page struct {
	frame  *page.Frame
	studio Studio
	now    func() time.Time
}

// New returns the form over the records, by the studio's clock.
func New(f *page.Frame, s Studio, now func() time.Time) *Page { return &Page{f, s, now} }

// opened is a request for the form of one making.
type opened struct {
	base   page.Base
	making studio.Making
	events []studio.Event
	state  studio.State
	card   layout
}

func (p *Page) open(w http.ResponseWriter, r *http.Request) (opened, error) {
	var o opened
	var err error
	if o.making, err = p.studio.Making(r.Context(), r.PathValue("id")); err != nil {
		return o, err
	}
	if o.events, err = p.studio.Events(r.Context(), o.making.ID); err != nil {
		return o, err
	}
	if o.base, err = p.frame.Base(w, r, "Record of "+o.making.Tag, page.Makings); err != nil {
		return o, err
	}
	o.base.Back = "/makings/" + o.making.ID + "/record"
	o.state = studio.Replay(o.making, o.events)
	lots, err := p.studio.Lots(r.Context(), studio.LotFilter{})
	o.card = layOut(o.making, o.state, lots)
	return o, err
}

// Show shows the form with what is recorded already.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	o, err := p.open(w, r)
	if err != nil {
		return err
	}
	form := &page.Form{}
	o.card.addRows(page.ReadQuery(r)) // come back with more of them
	fill(form, o.card, o.state, o.base.Speech)
	form.Fill("on", day(o.state.First, p.now()))
	p.fresh(form, o.events)
	return template.Write(w, http.StatusOK, set(o, form))
}

// fresh gives the form an id of its own and notes what it was filled from.
func (p *Page) fresh(f *page.Form, events []studio.Event) {
	f.Fill("form", "")
	f.Values.Set("form", rand.Text())
	f.Values.Set("seen", last(events))
}

// Save takes the card down, or says what is wrong and keeps what was typed.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	o, err := p.open(w, r)
	if err != nil {
		return err
	}
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	// What was typed is meant in the units the form was shown in, though they
	// may have been switched in another window since.
	if form.Values.Has("system") {
		o.base.Speech.System = page.ReadSystem(form.Get("system"))
	}
	o.card.addRows(form)
	if form.Values.Has("more") {
		o.card.rows++
		o.base.Back += "?rows=" + strconv.Itoa(o.card.rows)
		return template.Write(w, http.StatusOK, set(o, form))
	}
	was := &page.Form{}
	was.Fill("on", day(o.state.First, p.now()))
	exact := fill(was, o.card, o.state, o.base.Speech)
	entry := reader{form, o.base.Speech, was, exact, o.card, map[string]string{}}.read(p.now())
	if len(form.Faults) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, set(o, form))
	}
	if writtenSince(o.events, form) {
		return p.conflict(w, o, form, was, "More was written down of this making since you opened the card.")
	}
	err = p.studio.FinishCard(r.Context(), o.making.ID, entry)
	switch {
	case fault.Refused(err):
		form.Refuse(err)
		return template.Write(w, http.StatusUnprocessableEntity, set(o, form))
	case fault.KindOf(err) == fault.KindConflict:
		return p.conflict(w, o, form, was, page.Sentence(err))
	case err != nil:
		return err
	}
	page.PutFlash(w, "Written down.")
	return page.See(w, r, "/makings/"+o.making.ID+"?saved="+entry.FormID)
}
