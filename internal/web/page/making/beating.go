package making

import (
	"context"
	"crypto/rand"
	"fmt"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Beaten is what the page of a load asks of the records.
type Beaten interface {
	Lots(ctx context.Context, f studio.LotFilter) ([]studio.Lot, error)
	KeepLeft(ctx context.Context, makingID string, form studio.LotForm) (studio.Lot, error)
	Beating(ctx context.Context, makingID string, load int, target float64) (studio.Beating, error)
	Record(ctx context.Context, makingID string, events ...studio.Event) (studio.State, error)
}

var beatingTemplate = page.Must(files, "beating.html")

// BeatingData is what the template of a load sets.
type BeatingData struct {
	page.Base
	ID, Tag, Paper, Entry string
	Left, Sure, Rests     string // how much longer, in words
	Goal                  string
	Target                part.Field
	Fields                []part.Field
	Readings              *part.Table
	Roll                  []Rolled
	Load                  int
	Wrong                 []part.Wrong
}

// Rolled is where the roll stood.
type Rolled struct{ When, Said string }

// Beating shows how far a load is beaten.
func (p *Page) Beating(w http.ResponseWriter, r *http.Request) error {
	return p.beating(w, r, http.StatusOK, &page.Form{})
}

func (p *Page) beating(w http.ResponseWriter, r *http.Request, status int, f *page.Form) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Beating, "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	base.Back = "/makings/" + m.ID + "/beating"
	ask := page.ReadQuery(r)
	f.Fill("target", ask.Get("target"))
	load, target := 0, 0.0
	if ask.Get("load") != "" {
		if load, err = part.Count("load", ask.Get("load"), 1, 1000, "loads"); err != nil {
			return err
		}
	}
	if t := f.Get("target"); t != "" {
		if target, err = base.Speech.Read("target", t, measure.OfNumber); err != nil {
			f.Refuse(err)
		}
	}
	b, err := p.studio.Beating(r.Context(), m.ID, load, target)
	if err != nil {
		return err
	}
	state, err := p.events(r, m)
	if err != nil {
		return err
	}
	d := BeatingData{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, Load: b.Load, Entry: rand.Text()}
	d.say(b)
	f.Fill("load", fmt.Sprint(b.Load))
	f.Fill("scale", scaleKey(b.Scale))
	d.Fields = readingFields(f, base.Speech)
	d.Target = f.Field(part.Field{Name: "target", Label: "Beat until the test says", Kind: part.Number, Mode: "decimal", Unit: b.Scale.Unit(),
		Hint: "Empty: what the card's hours usually come to."})
	d.Readings, d.Roll = readings(base.Speech, b), rolled(state, b.Load, p.now())
	if d.Wrong = f.Wrong(); len(d.Wrong) > 0 {
		status = http.StatusUnprocessableEntity
	}
	return beatingTemplate.Write(w, status, d)
}

func (p *Page) events(r *http.Request, m studio.Making) (studio.State, error) {
	events, err := p.studio.Events(r.Context(), m.ID)
	return studio.Replay(m, events), err
}

// AddReading writes a reading down.
func (p *Page) AddReading(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	sys, err := p.frame.System(r)
	if err != nil {
		return err
	}
	body := readReading(f, part.Speech{System: sys})
	if len(f.Faults) == 0 {
		_, err = p.studio.Record(r.Context(), r.PathValue("id"), studio.NewEvent("beat/"+f.Get("entry"), p.now(), body))
		switch {
		case err == nil:
			page.PutFlash(w, "Written down.")
			return page.See(w, r, "/makings/"+r.PathValue("id")+"/beating?"+keep(f))
		case !fault.Refused(err):
			return err
		}
		f.At = faultsAt
		f.Refuse(err)
	}
	return p.beating(w, r, http.StatusUnprocessableEntity, f)
}
