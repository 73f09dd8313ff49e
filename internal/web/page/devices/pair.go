package devices

import (
	"context"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// PairData is what the page of pairing sets. Nothing of the studio stands on
// it, not even its name.
type PairData struct {
	page.Base
	Wrong    []part.Wrong
	Name     part.Field
	Code     part.Field
	To       string // where the device was going
	Known    string // the name it is known by already
	Stopped  bool   // what was sent was not taken
	Readable bool   // this came by http
}

// bare is the frame of a page that tells nothing of the studio.
func (p *Page) bare() *page.Frame {
	return &page.Frame{Asset: p.frame.Asset, Setting: func(context.Context) (page.Setting, error) { return page.Setting{New: true}, nil }}
}

// Ask shows the page of pairing.
func (p *Page) Ask(w http.ResponseWriter, r *http.Request) error {
	visitor, away := page.VisitorOf(r)
	if !away {
		return page.See(w, r, "/studio/devices") // this machine needs no key
	}
	form := page.ReadQuery(r)
	return p.ask(w, r, http.StatusOK, form, PairData{Known: visitor.Name, To: page.LocalPath(form.Get("to"))})
}

// Stranger shows it in the place of whatever a device without a key asked for.
func (p *Page) Stranger(w http.ResponseWriter, r *http.Request) error {
	d := PairData{To: "/"}
	if r.Method == http.MethodGet {
		d.To = page.LocalPath(r.URL.RequestURI())
	} else {
		d.Stopped = r.Method != http.MethodHead
	}
	w.Header().Set("WWW-Authenticate", "Pairing") // RFC 9110, 11.6.1, wants one with 401
	return p.ask(w, r, http.StatusUnauthorized, &page.Form{}, d)
}

// Join lets the device in.
func (p *Page) Join(w http.ResponseWriter, r *http.Request) error {
	visitor, away := page.VisitorOf(r)
	if !away {
		return page.See(w, r, "/studio/devices")
	}
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	d, key, err := p.devices.Pair(r.Context(), form.Get("code"), form.Get("name"))
	if fault.KindOf(err) == fault.KindInvalid && err != nil {
		form.Refuse(err)
		return p.ask(w, r, http.StatusUnprocessableEntity, form, PairData{To: page.LocalPath(form.Get("to"))})
	}
	if err != nil {
		return err
	}
	page.SetDeviceKey(w, r, key)
	if visitor.ID != "" { // one device, one key
		if err := p.devices.Revoke(context.WithoutCancel(r.Context()), visitor.ID); err != nil {
			return err
		}
	}
	page.PutFlash(w, "This is “"+d.Name+"” now.")
	return page.See(w, r, page.LocalPath(form.Get("to")))
}

// Leave shuts the device that asks out.
func (p *Page) Leave(w http.ResponseWriter, r *http.Request) error {
	visitor, away := page.VisitorOf(r)
	if !away || visitor.ID == "" {
		return page.See(w, r, "/studio/devices")
	}
	page.SetDeviceKey(w, r, "")
	if err := p.devices.Revoke(context.WithoutCancel(r.Context()), visitor.ID); err != nil {
		return err
	}
	return page.See(w, r, "/pair")
}

func (p *Page) ask(w http.ResponseWriter, r *http.Request, status int, form *page.Form, d PairData) error {
	base, err := p.bare().Base(w, r, "Let this device in", page.Place{})
	if err != nil {
		return err
	}
	base.Alone = true
	d.Base, d.Readable = base, r.TLS == nil
	d.Name = form.Field(part.Field{Name: "name", Label: "What is this device called?", Required: true, Hint: "Such as phone by the vat. It is how you find it in the list when you want to shut it out."})
	d.Code = form.Field(part.Field{Name: "code", Label: "The code", Required: true, Hint: "Eight signs, from the page “Phones and tablets” on the studio's own machine. Upper or lower case, with or without the dash."})
	d.Wrong = form.Wrong()
	return pairTemplate.Write(w, status, d)
}
