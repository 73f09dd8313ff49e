package store

import (
	"crypto/rand"
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// LotData is what the template of one lot sets.
type LotData struct {
	page.Base
	ID, Name, What, Amount, About string
	When                          string // since when, or by when it must be used
	Odd                           string // why the amount cannot be right
	Entry, Revision               string
	Act                           part.Field
	HowMuch, Why                  part.Field
	Moved                         []Moved
	Fields                        []part.Field
	Open                          bool // the form below, after a refusal
	From                          string
	Cook                          string // where raw fibre is cooked // address of the making
	Sheets                        bool   // finished ones
	Wrong                         []part.Wrong
	Conflict                      *part.Conflict // what another saved meanwhile
}

// Show shows one lot.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	return p.show(w, r, http.StatusOK, &page.Form{}, nil)
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, status int, f *page.Form, clash error) error {
	l, moved, err := p.studio.Lot(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, l.Name, page.Store)
	if err != nil {
		return err
	}
	profile, err := p.studio.Profile(r.Context())
	if err != nil {
		return err
	}
	base.Back = "/store/" + l.ID
	s := base.Speech
	said := line(s, l, p.now())
	d := LotData{Base: base, ID: l.ID, Name: said.Name, What: part.Upper(tight(l.What)), Amount: said.Amount, About: said.About, Sheets: l.Finished(), When: part.Upper(said.When), Open: f.Values.Has("what")}
	if l.AmountG < 0 {
		d.Odd = "More was taken than there was by " + quantity(s, l, -l.AmountG) + ". Count what lies there."
	}
	if clash != nil { // sent again it goes on top
		f.Values.Set("revision", itoa(l.Revision))
	}
	fill(f, s, l)
	f.Fill("entry", entryID())
	f.Fill("act", acts(l)[0].Value)
	d.Entry, d.Revision = f.Get("entry"), f.Get("revision")
	d.Act = f.Field(part.Field{Name: "act", Label: "What happened", Kind: part.Choices, Options: acts(l)})
	d.HowMuch = f.Field(howMuch(l))
	d.Why = f.Field(part.Field{Name: "why", Label: "Note", Kind: part.Text})
	d.Fields = finished(l, fields(f, s, profile.Kit, false))
	d.Wrong = f.Wrong()
	if clash != nil {
		theirs := &page.Form{}
		fill(theirs, s, l)
		d.Conflict = &part.Conflict{Text: page.Sentence(clash), Then: "What you typed is kept below. Saving now puts it in place of the other.",
			Rows: part.Differing(d.Fields, finished(l, fields(theirs, s, profile.Kit, false)))}
	}
	if d.Moved, err = p.moved(r, s, l, moved); err != nil {
		return err
	}
	if f, ok := part.Shelf(profile.Kit).Get(l.What); ok && f.Cook != nil && l.Form == studio.AsBought && !l.Cooked && l.AmountG > 0 {
		d.Cook = "/cooks/new?lot=" + l.ID
	}
	if l.FromMaking != "" {
		d.From = "/makings/" + l.FromMaking
	}
	return lotTemplate.Write(w, status, d)
}

// Save saves what is said of a lot.
func (p *Page) Save(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	s, err := p.speech(r)
	if err != nil {
		return err
	}
	l := readLot(f, s)
	l.ID = r.PathValue("id")
	if there, _, err := p.studio.Lot(r.Context(), l.ID); err != nil {
		return err
	} else if there.Finished() { // what they are is not asked
		l.What, l.Form = there.What, there.Form
	}
	if l.Revision, err = strconv.Atoi(f.Get("revision")); err != nil {
		f.Refuse(fault.Invalid("", "the form is incomplete; open the page again"))
	}
	status := http.StatusUnprocessableEntity
	if len(f.Faults) == 0 {
		_, err := p.studio.SaveLot(r.Context(), l, studio.Movement{})
		switch {
		case err == nil:
			page.PutFlash(w, "Saved.")
			return page.See(w, r, "/store/"+l.ID)
		case fault.KindOf(err) == fault.KindConflict:
			return p.show(w, r, http.StatusConflict, f, err)
		}
		if status, err = refuse(f, err); err != nil {
			return err
		}
	}
	return p.show(w, r, status, f, nil)
}

func entryID() string { return rand.Text() }
