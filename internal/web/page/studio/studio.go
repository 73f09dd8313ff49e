// Package studio is the page of the studio itself: its equipment, each kind a
// list in the order the studio likes to use it, its room through the year, its
// water, what an hour costs, and how it reads and writes quantities.
//
// What is left blank is unsaid: plans then take what is usual, and say so.
// Missing: opening hours, and a force that a press is worked at, apart from the
// most it gives.
package studio

import (
	"context"
	"embed"
	"net/http"
	"net/url"
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
	Fibres   []Fibre
	Kept     bool // what stands in the form was typed, not kept in the records
}

// Group is one kind of equipment: what there is one of, and a list.
type Group struct {
	ID, Name, Line, Note, Unsaid, Add, Told string

	Open   bool
	Fields []part.Field
	Rows   []Row
	New    *Row // what a script adds
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
	form := &page.Form{Values: url.Values{}}
	write(form, base.Speech, profile)
	return template.Write(w, http.StatusOK, set(base, over(form, base.Speech, profile), ""))
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
	do := form.Get("do")
	kind, row := act(form, do)
	c := read(form, base.Speech, old)
	if do != "" {
		rowFaults(form, row)
		return template.Write(w, http.StatusOK, set(base, c, kind))
	}
	if len(form.Faults) == 0 {
		form.Refuse(plan.Check(probe(c.now.Kit)))
	}
	if len(form.Faults) > 0 {
		return template.Write(w, http.StatusUnprocessableEntity, set(base, c, ""))
	}
	saved, err := p.studio.SaveProfile(r.Context(), *c.now)
	switch {
	case fault.Refused(err):
		form.Refuse(err)
		return template.Write(w, http.StatusUnprocessableEntity, set(base, c, ""))
	case fault.KindOf(err) == fault.KindConflict:
		return conflict(w, base, c, old, page.Sentence(err))
	case err != nil:
		return err
	}
	page.SetUnits(w, page.ReadSystem(saved.System))
	page.PutFlash(w, "Saved. The next plan reckons with it; cards already printed stay as they are.")
	return page.See(w, r, "/studio")
}

// conflict tells that the profile was changed in between and sets both
// versions side by side; what was typed stays.
func conflict(w http.ResponseWriter, base page.Base, mine *reading, present studio.Profile, text string) error {
	theirs := &page.Form{Values: url.Values{}}
	write(theirs, base.Speech, present)
	mine.Values.Set("revision", strconv.Itoa(present.Revision))
	d, other := set(base, mine, ""), set(base, over(theirs, base.Speech, present), "")
	d.Conflict = &part.Conflict{Text: text, Then: "What you typed is kept below. Saving now puts it in place of the other.", Rows: differing(d.Groups, other.Groups)}
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
