// Package studio is the page of the studio itself: its equipment, its room,
// what an hour costs, and how it reads and writes quantities.
//
// What is left blank is unsaid: plans then take what is usual, and say so.
// Missing: several beaters, presses and dryers, and the seasons of the room.
package studio

import (
	"context"
	"embed"
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "studio.html")

// Studio is what the page asks of the records.
type Studio interface {
	Profile(ctx context.Context) (studio.Profile, error)
	SaveProfile(ctx context.Context, p studio.Profile) (studio.Profile, error)
}

// Page answers for the studio.
type Page struct {
	frame  *page.Frame
	studio Studio
}

// New returns the page over the records.
func New(f *page.Frame, s Studio) *Page { return &Page{f, s} }

// Data is what the template sets.
type Data struct {
	page.Base
	Revision string
	Typed    string // the system of units the form is shown in
	Wrong    []part.Wrong
	Conflict *part.Conflict
	Groups   []Group
	Rows     int  // of moulds
	Kept     bool // what stands in the form was typed, not kept in the records
}

// Group is one kind of equipment.
type Group struct {
	Name   string
	Note   string
	Fields []part.Field
	Moulds bool
}

// Show shows the studio as it is.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "Studio", page.Studio)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	form := &page.Form{}
	if rows := page.ReadQuery(r).Get("rows"); rows != "" { // come back with more of them
		form.Fill("rows", rows)
	}
	write(form, base.Speech, profile)
	return template.Write(w, http.StatusOK, set(base, form))
}

// Save keeps the studio's equipment.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Studio", page.Studio)
	if err != nil {
		return err
	}
	base.Back = "/studio"
	if form.Values.Has("typed") { // as it was shown when it was typed
		base.Speech.System = page.ReadSystem(form.Get("typed"))
	}
	old, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	if n, err := strconv.Atoi(form.Get("more")); err == nil {
		form.Values.Set("rows", strconv.Itoa(min(max(n, leastRows), mostRows)))
		base.Back += "?rows=" + form.Get("rows")
		return template.Write(w, http.StatusOK, set(base, form))
	}
	profile := read(form, base.Speech, old)
	if len(form.Faults) == 0 {
		form.Refuse(plan.Check(probe(profile.Kit)))
	}
	if len(form.Faults) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, set(base, form))
	}
	saved, err := p.studio.SaveProfile(r.Context(), profile)
	switch fault.KindOf(err) {
	case fault.KindInvalid, fault.KindOutOfRange:
		form.Refuse(err)
		return template.Write(w, http.StatusUnprocessableEntity, set(base, form))
	case fault.KindConflict:
		return p.conflict(w, base, form, old, page.Sentence(err))
	}
	if err != nil {
		return err
	}
	page.SetUnits(w, page.ReadSystem(saved.System))
	page.PutFlash(w, "Saved. The next plan reckons with it; cards already printed stay as they are.")
	return page.See(w, r, "/studio")
}

// conflict tells that the profile was changed in between and sets both
// versions side by side; what was typed stays.
func (p *Page) conflict(w http.ResponseWriter, base page.Base, mine *page.Form, present studio.Profile, text string) error {
	theirs := &page.Form{}
	write(theirs, base.Speech, present)
	theirs.Values.Set("rows", mine.Get("rows"))
	mine.Values.Set("revision", strconv.Itoa(present.Revision))
	d, other := set(base, mine), set(base, theirs)
	d.Conflict = &part.Conflict{Text: text, Then: "What you typed is kept below. Saving now puts it in place of the other."}
	for i, g := range d.Groups {
		d.Conflict.Rows = append(d.Conflict.Rows, part.Differing(g.Fields, other.Groups[i].Fields)...)
	}
	return template.Write(w, http.StatusConflict, d)
}

// probe is the smallest request that has the plan judge equipment.
func probe(kit plan.Studio) plan.Request {
	one := 1
	return plan.Request{
		Paper: plan.Paper{Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, GrammageConditioned: 100},
		Sheet: plan.Sheet{LongMM: 297, ShortMM: 210}, GoodSheets: &one, Studio: kit,
	}
}
