package devices

import (
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/web/page"
)

// Switch opens the way in or shuts it, and keeps what it is to be at the next
// start.
func (p *Page) Switch(w http.ResponseWriter, r *http.Request) error {
	form, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	left, err := p.devices.Switch(r.Context())
	if err != nil {
		return err
	}
	switch form.Get("to") {
	case "on":
		if err := p.network.On(left.SecurePort); err != nil {
			return p.refused(w, r, err)
		}
		left.AtStart, left.SecurePort = form.Get("again") != "", max(left.SecurePort, 0)
		if port := p.network.State().SecurePort; port != 0 {
			left.SecurePort = port
		}
		page.PutFlash(w, "Switched on. Devices in this network can be let in now.")
	case "off":
		p.devices.Withdraw()
		p.network.Off()
		left.AtStart = false
		page.PutFlash(w, "Switched off. Nobody in the network reaches the program any more.")
	case "again":
		left.AtStart = form.Get("again") != ""
		page.PutFlash(w, "Kept for the next start.")
	default:
		return fault.Invalid("to", "say whether it is to be on or off")
	}
	if err := p.devices.Set(r.Context(), left); err != nil {
		return err
	}
	return page.See(w, r, "/studio/devices")
}

// Offer makes a new code.
func (p *Page) Offer(w http.ResponseWriter, r *http.Request) error {
	if len(ways(p.network.State())) == 0 {
		return p.refused(w, r, fault.Busy("no device can come in at the moment: switch on first"))
	}
	if _, err := p.devices.Offer(); err != nil {
		return err
	}
	return page.See(w, r, "/studio/devices#let-in")
}

// Revoke shuts one device out.
func (p *Page) Revoke(w http.ResponseWriter, r *http.Request) error {
	if err := p.devices.Revoke(r.Context(), r.PathValue("id")); err != nil {
		return err
	}
	page.PutFlash(w, "Shut out. It needs a new code to come in again.")
	return page.See(w, r, "/studio/devices")
}

// RevokeAll shuts all devices out.
func (p *Page) RevokeAll(w http.ResponseWriter, r *http.Request) error {
	if err := p.devices.Revoke(r.Context(), ""); err != nil {
		return err
	}
	page.PutFlash(w, "All devices are shut out.")
	return page.See(w, r, "/studio/devices")
}

// refused shows above the list what the machine does not let us do.
func (p *Page) refused(w http.ResponseWriter, r *http.Request, err error) error {
	if kind := fault.KindOf(err); kind != fault.KindBusy && kind != fault.KindStorage {
		return err
	}
	return p.show(w, r, http.StatusUnprocessableEntity, page.Sentence(err))
}
