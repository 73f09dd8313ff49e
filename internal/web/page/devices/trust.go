package devices

import (
	"net/http"
	"strconv"

	"vatside/internal/fault"
	"vatside/internal/web/page"
)

// TrustData is what the page of the authority sets.
type TrustData struct {
	page.Base
	Print   string // its fingerprint
	Secure  string // where the program is reached then
	Message string // why there is none
}

// Trust tells how a device is brought to trust the studio's authority, what
// that allows and what it means.
func (p *Page) Trust(w http.ResponseWriter, r *http.Request) error {
	base, err := p.frame.Base(w, r, "A secure address for your devices", page.Studio)
	if err != nil {
		return err
	}
	d := TrustData{Base: base}
	if list := ways(p.network.State()); len(list) > 0 {
		d.Secure = list[0].Secure
	}
	_, d.Print, err = p.network.Authority()
	if fault.KindOf(err) == fault.KindNotFound && err != nil {
		d.Message = page.Sentence(err)
	} else if err != nil {
		return err
	}
	return trustTemplate.Write(w, http.StatusOK, d)
}

// Certificate sends the authority's certificate. It is no secret: every
// connection by https shows what it signed.
func (p *Page) Certificate(w http.ResponseWriter, r *http.Request) error {
	der, _, err := p.network.Authority()
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "application/x-x509-ca-cert")
	h.Set("Content-Disposition", `attachment; filename="vatside-authority.crt"`)
	h.Set("Content-Length", strconv.Itoa(len(der)))
	h.Set("Cache-Control", "no-store")
	_, err = w.Write(der)
	return err
}
