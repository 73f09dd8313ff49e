// Package devices is the page of the phones and tablets that may join: the
// switch, the code that lets one in, who is in and shutting them out; the page
// a device is paired on; and how a device is brought to trust the studio's own
// certificate authority. Switching, letting in and shutting out is done at the
// studio's own machine alone.
package devices

import (
	"embed"
	"html/template"
	"net/http"
	"time"

	"vatside/internal/device"
	"vatside/internal/network"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

//go:embed *.html
var files embed.FS

var (
	listTemplate  = page.Must(files, "devices.html")
	pairTemplate  = page.Must(files, "pair.html")
	trustTemplate = page.Must(files, "trust.html")
)

// Network is the way in.
type Network interface {
	State() network.State
	On(lastSecure int) error
	Off()
	Authority() (der []byte, print string, err error)
}

// Page answers for devices.
type Page struct {
	frame   *page.Frame
	devices *device.Registry
	network Network
	now     func() time.Time
}

// New returns the pages over the devices, the way in and the studio's clock.
func New(f *page.Frame, d *device.Registry, n Network, now func() time.Time) *Page {
	return &Page{f, d, n, now}
}

// Line is one device.
type Line struct {
	ID, Name, Paired, Seen string
	This                   bool
}

// Data is what the page sets.
type Data struct {
	page.Base
	Wrong   string
	Away    bool // asked for from another device
	On      bool
	Trouble string
	Silent  string
	Again   bool // it goes on at the next start
	Ways    []Way
	Offer   *Offer
	Lines   []Line
}

// Way is one address at which the program is reached.
type Way struct{ Plain, Secure string }

// Offer is a code on offer, with the address it is used at.
type Offer struct {
	Code, Until string
	Address     string        // of the program; the code is used at /pair there
	Picture     template.HTML // the QR code
}

// Show shows the switch and the devices.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	return p.show(w, r, http.StatusOK, "")
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, status int, wrong string) error {
	base, err := p.frame.Base(w, r, "Phones and tablets", page.Studio)
	if err != nil {
		return err
	}
	base.Back = "/studio/devices"
	visitor, away := page.VisitorOf(r)
	left, err := p.devices.Switch(r.Context())
	if err != nil {
		return err
	}
	list, err := p.devices.Devices(r.Context())
	if err != nil {
		return err
	}
	state := p.network.State()
	d := Data{Base: base, Wrong: wrong, Away: away, On: state.On, Trouble: state.Trouble, Silent: state.Silent, Again: left.AtStart, Ways: ways(state)}
	for _, one := range list {
		d.Lines = append(d.Lines, Line{ID: one.ID, Name: one.Name, This: one.ID == visitor.ID,
			Paired: part.Moment(one.Paired, p.now()), Seen: part.Moment(one.Seen, p.now())})
	}
	if o, ok := p.devices.Offered(); ok && !away && len(d.Ways) > 0 {
		if d.Offer, err = p.offer(o, d.Ways[0]); err != nil {
			return err
		}
	}
	return listTemplate.Write(w, status, d)
}

// offer sets a code beside the address, and both in a picture. The picture
// leads to http: a device that trusts the studio's authority is not new.
func (p *Page) offer(o device.Offer, way Way) (*Offer, error) {
	qr, err := picture(way.Plain + "/pair?code=" + o.Code)
	if err != nil {
		return nil, err
	}
	return &Offer{Code: o.Spoken(), Until: o.Until.In(p.now().Location()).Format("15:04"), Address: way.Plain, Picture: qr}, nil
}
