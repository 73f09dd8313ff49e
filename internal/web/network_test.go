package web_test

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"image"
	"image/draw"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/netip"
	"net/url"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	goqr "github.com/piglig/go-qr"

	"vatside/internal/device"
	"vatside/internal/network"
	"vatside/internal/store"
	"vatside/internal/web"
)

// lan stands for the address of this machine in a workshop's network: no test
// listens where another machine could call.
var lan = netip.MustParseAddr("127.0.0.2")

// workshop is a studio that other devices can join.
type workshop struct {
	*aStudio
	file    *store.Store
	way     *network.Network
	port    int
	brief   string       // the id of the first one
	minutes atomic.Int64 // the clock runs on by hand
}

func newWorkshop(t *testing.T) *workshop {
	t.Helper()
	probe, err := net.Listen("tcp", netip.AddrPortFrom(lan, 0).String())
	if err != nil {
		t.Skipf("this machine has no second loopback address: %v", err)
	}
	port := probe.Addr().(*net.TCPAddr).Port
	probe.Close()
	ws := &workshop{port: port}
	now := func() time.Time { return morning.Add(time.Duration(ws.minutes.Load()) * time.Minute) }
	if ws.file, err = store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.vatside")); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { ws.file.Close() })
	ws.way = network.New(network.Config{Dir: t.TempDir(), Port: port, Now: now,
		Addresses: func() ([]netip.Addr, error) { return []netip.Addr{lan}, nil }, Ours: netip.Addr.IsLoopback,
		Announce: func(context.Context, string, []netip.Addr) (io.Closer, error) {
			return nil, errors.New("not in a test")
		}})
	t.Cleanup(ws.way.Off)
	records, server := over(ws.file, web.Config{Now: now, Devices: device.New(ws.file.Devices(), now, rand.Reader), Network: ws.way})
	ws.aStudio = &aStudio{t: t, records: records, handler: server.Handler(), cookies: map[string]string{}, lang: "en-GB"}
	ws.brief = strings.TrimPrefix(ws.firstEvening(), "/briefs/")
	profile, err := records.Profile(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	profile.Name = "Reed Lane"
	if _, err := records.SaveProfile(t.Context(), profile); err != nil {
		t.Fatal(err)
	}
	return ws
}

// on switches on, as the maker does.
func (ws *workshop) on() {
	ws.t.Helper()
	if page := ws.post("/studio/devices/switch", url.Values{"to": {"on"}}); page.code != http.StatusSeeOther {
		ws.t.Fatalf("switching on: status %d: %s", page.code, page.text(".wrong-summary"))
	}
}

// code asks for a code and reads it off the page.
func (ws *workshop) code() string {
	ws.t.Helper()
	if page := ws.post("/studio/devices/offer", nil); page.code != http.StatusSeeOther {
		ws.t.Fatalf("asking for a code: status %d: %s", page.code, page.text("main"))
	}
	return ws.get("/studio/devices").text(".offer-code")
}

// phone is a device in the network.
type phone struct {
	t      *testing.T
	client *http.Client
	base   string // scheme, host and port
}

func (ws *workshop) phone() *phone {
	jar, _ := cookiejar.New(nil)
	return &phone{ws.t, &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }},
		"http://" + netip.AddrPortFrom(lan, uint16(ws.port)).String()}
}

func (p *phone) do(method, path string, form url.Values, host string) sheet {
	p.t.Helper()
	r, err := http.NewRequestWithContext(p.t.Context(), method, p.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		p.t.Fatal(err)
	}
	if method != http.MethodGet {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", p.base)
	}
	if host != "" {
		r.Host = host
	}
	answer, err := p.client.Do(r)
	if err != nil {
		p.t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		p.t.Fatal(err)
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(string(body)))
	if err != nil {
		p.t.Fatal(err)
	}
	return sheet{doc, p.t, answer.StatusCode, answer.Header, string(body)}
}

func (p *phone) get(path string) sheet { p.t.Helper(); return p.do("GET", path, nil, "") }

func (p *phone) pair(code, name string) sheet {
	p.t.Helper()
	return p.do("POST", "/pair", url.Values{"code": {code}, "name": {name}, "to": {"/makings"}}, "")
}

// outside says that a page is that of pairing, and tells nothing of the studio.
func (s sheet) outside() bool {
	return s.code == http.StatusUnauthorized && s.text("h1") == "Let this device in" && s.Find(".places, .units").Length() == 0
}

// picture is what a camera reads off the page.
func (s sheet) picture() string {
	s.t.Helper()
	box := strings.Fields(s.Find("svg.code-picture").AttrOr("viewbox", s.Find("svg.code-picture").AttrOr("viewBox", "")))
	if len(box) != 4 {
		s.t.Fatal("there is no picture")
	}
	side, err := strconv.Atoi(box[2])
	if err != nil {
		s.t.Fatal(err)
	}
	const scale = 4 // pixels a module
	img := image.NewGray(image.Rect(0, 0, side*scale, side*scale))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`).FindAllStringSubmatch(s.Find("svg.code-picture path").AttrOr("d", ""), -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		run, _ := strconv.Atoi(m[3])
		draw.Draw(img, image.Rect(x*scale, y*scale, (x+run)*scale, (y+1)*scale), image.Black, image.Point{}, draw.Src)
	}
	text, err := goqr.Decode(img)
	if err != nil {
		s.t.Fatalf("the picture cannot be read: %v", err)
	}
	return text
}

func TestPhoneJoinsAndIsShutOut(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	if ws.listening() {
		t.Fatal("it listens in the network before it is switched on")
	}
	if page := ws.get("/studio/devices"); !strings.Contains(page.text("main"), "from this machine alone") || page.Find(".offer").Length() != 0 {
		t.Errorf("switched off, the page says: %s", page.text("main"))
	}
	ws.on()
	p := ws.phone()
	if page := p.get("/makings"); !page.outside() || page.Find(`input[name=to][value="/makings"]`).Length() != 1 {
		t.Errorf("without a key: status %d: %s", page.code, page.text("main"))
	}
	code := ws.code()
	if got, want := ws.get("/studio/devices").picture(), p.base+"/pair?code="+strings.ReplaceAll(code, "-", ""); got != want {
		t.Errorf("the picture holds %q, want %q", got, want)
	}
	shown := p.get("/pair?code=" + code)
	if got, _ := shown.Find("input[name=code]").Attr("value"); got != code {
		t.Errorf("the code of the address stands as %q, want %q", got, code)
	}
	joined := p.pair(code, "phone by the vat")
	if joined.code != http.StatusSeeOther || joined.to() != "/makings" {
		t.Fatalf("pairing: status %d to %q: %s", joined.code, joined.to(), joined.text("main"))
	}
	cookie := joined.head.Get("Set-Cookie")
	for _, want := range []string{"device=", "HttpOnly", "SameSite=Strict", "Max-Age=31536000"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("the cookie %q lacks %s", cookie, want)
		}
	}
	if page := p.get("/makings"); page.code != http.StatusOK || !strings.Contains(page.text(".flash"), "phone by the vat") {
		t.Errorf("paired: status %d, told %q", page.code, page.text(".flash"))
	}
	list := ws.get("/studio/devices")
	if got := list.text(".device b"); got != "phone by the vat" || list.Find(".offer").Length() != 0 {
		t.Errorf("the list shows %q, and %d offers", got, list.Find(".offer").Length())
	}
	if page := p.get("/studio/devices"); page.text(".here") != "this one" || page.Find(`form[action*=switch], form[action*=offer], form[action*=revoke]`).Length() != 0 {
		t.Errorf("on the phone the page shows %s", page.text("main"))
	}
	out, _ := list.Find(".device form").Attr("action")
	if page := ws.post(out, nil); page.code != http.StatusSeeOther {
		t.Fatalf("shutting out: status %d", page.code)
	}
	if page := p.get("/makings"); !page.outside() {
		t.Errorf("shut out: status %d: %s", page.code, page.text("h1"))
	}
	sent := p.do("POST", "/briefs", url.Values{"remarks": {"from outside"}}, "")
	if !sent.outside() || !strings.Contains(sent.text(".wrong-summary"), "not written down") {
		t.Errorf("shut out and sending: status %d: %s", sent.code, sent.text("main"))
	}
}

func TestCodesThatCannotBeUsed(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	for name, code := range map[string]func() string{
		"wrong":      func() string { ws.code(); return "AAAA-AAAA" },
		"old":        func() string { c := ws.code(); ws.minutes.Add(5); return c },
		"used twice": func() string { c := ws.code(); ws.phone().pair(c, "first"); return c },
		"renewed":    func() string { c := ws.code(); ws.code(); return c },
		"guessed": func() string {
			c := ws.code()
			for range 5 {
				ws.phone().pair("CCCCCCCC", "guess")
			}
			return c
		},
		"never made": func() string { return "" },
	} {
		c, p := code(), ws.phone()
		page := p.pair(c, "second")
		if page.code != http.StatusUnprocessableEntity || !strings.Contains(page.text(".error"), "cannot be used") || len(page.head["Set-Cookie"]) != 0 {
			t.Errorf("%s: status %d: %s", name, page.code, page.text("main"))
		}
		if got, _ := page.Find("input[name=name]").Attr("value"); got != "second" {
			t.Errorf("%s: the name that was typed is gone: %q", name, got)
		}
		if page := p.get("/"); !page.outside() {
			t.Errorf("%s: it is in all the same", name)
		}
	}
	if page := ws.get("/studio/devices"); page.Find(".device").Length() != 1 {
		t.Errorf("%d devices are in, want the first alone", page.Find(".device").Length())
	}
}

// A page of a foreign name that is pointed at this machine sends that name.
func TestForeignNamesInTheNetwork(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	p.pair(ws.code(), "phone")
	port := ":" + strconv.Itoa(ws.way.State().Port)
	for host, want := range map[string]int{
		lan.String() + port: 200, "vatside.local" + port: 401, "VATSIDE.local" + port: 401, // another name, another cookie
		"studio.invalid" + port: 421, "studio.invalid": 421, lan.String(): 421, lan.String() + ":1": 421, "vatside.local": 421,
		"localhost" + port: 421, "127.0.0.1" + port: 421, "vatside.local.studio.invalid" + port: 421, "": 200,
	} {
		page := p.do("GET", "/makings", nil, host)
		if page.code != want {
			t.Errorf("asked as %q: status %d, want %d", host, page.code, want)
		}
	}
	if page := p.do("POST", "/pair", nil, "studio.invalid"+port); page.code != http.StatusMisdirectedRequest {
		t.Errorf("pairing by a foreign name: status %d", page.code)
	}
	home := ws.get("/studio/devices")
	if home.code != http.StatusOK {
		t.Errorf("at home: %d", home.code)
	}
}

// A form of a foreign page is refused on a paired device as at home.
func TestForeignFormsInTheNetwork(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	p.pair(ws.code(), "phone")
	r, _ := http.NewRequestWithContext(t.Context(), "POST", p.base+"/units", strings.NewReader("units=us"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://studio.invalid")
	answer, err := p.client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusForbidden {
		t.Errorf("a form from a foreign page: status %d, want 403", answer.StatusCode)
	}
	if policy := answer.Header.Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") {
		t.Errorf("the content policy is %q", policy)
	}
}

func TestKeyOfAnotherStudio(t *testing.T) {
	t.Parallel()
	here, there := newWorkshop(t), newWorkshop(t)
	here.on()
	there.on()
	p := there.phone()
	p.pair(there.code(), "phone")
	if page := p.get("/makings"); page.code != http.StatusOK {
		t.Fatalf("where it is paired: status %d", page.code)
	}
	p.base = here.phone().base // cookies do not know ports: the key goes along
	if page := p.get("/makings"); !page.outside() {
		t.Errorf("in another studio: status %d", page.code)
	}
}

// secured is the phone at the secure address, trusting this studio's authority
// and nobody else.
func (ws *workshop) secured(p *phone) *phone {
	ws.t.Helper()
	crt := p.get("/authority.crt")
	ca, err := x509.ParseCertificate([]byte(crt.raw))
	if err != nil || crt.head.Get("Content-Type") != "application/x-x509-ca-cert" {
		ws.t.Fatalf("the certificate: %v, as %q", err, crt.head.Get("Content-Type"))
	}
	roots := x509.NewCertPool()
	roots.AddCert(ca)
	at := netip.AddrPortFrom(lan, uint16(ws.way.State().SecurePort)).String()
	q := *p
	q.base = "https://vatside.local:" + strconv.Itoa(ws.way.State().SecurePort)
	client := *p.client
	client.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, Time: func() time.Time { return morning }},
		DialContext: func(ctx context.Context, _, _ string) (net.Conn, error) {
			return new(net.Dialer).DialContext(ctx, "tcp", at)
		}}
	q.client = &client
	return &q
}

func TestSecureAddress(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.secured(ws.phone())
	if page := p.get("/"); !page.outside() || strings.Contains(page.text("main"), "read along") {
		t.Errorf("status %d: %s", page.code, page.text("main"))
	}
	joined := p.pair(ws.code(), "tablet")
	cookie := joined.head.Get("Set-Cookie")
	if joined.code != http.StatusSeeOther || !strings.HasPrefix(cookie, "__Host-device=") || !strings.Contains(cookie, "; Secure") {
		t.Fatalf("status %d, cookie %q", joined.code, cookie)
	}
	if page := p.get("/makings"); page.code != http.StatusOK || page.head.Get("Cross-Origin-Opener-Policy") != "same-origin" {
		t.Errorf("paired: status %d", page.code)
	}
	key, _, _ := strings.Cut(strings.TrimPrefix(cookie, "__Host-device="), ";")
	r, _ := http.NewRequestWithContext(t.Context(), "GET", ws.phone().base+"/makings", nil)
	r.AddCookie(&http.Cookie{Name: "__Host-device", Value: key})
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusUnauthorized {
		t.Errorf("the secure key by the plain address: status %d, want 401", answer.StatusCode)
	}
	if page := p.do("GET", "/", nil, "studio.invalid"); page.code != http.StatusMisdirectedRequest {
		t.Errorf("a foreign name by https: status %d", page.code)
	}
}

// What lets others in is done at home alone.
func TestPairedPhoneLetsNobodyIn(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	p.pair(ws.code(), "phone")
	for _, path := range []string{"/studio/devices/switch", "/studio/devices/offer", "/studio/devices/revoke", "/studio/devices/any/revoke"} {
		if page := p.do("POST", path, url.Values{"to": {"off"}}, ""); page.code != http.StatusForbidden {
			t.Errorf("%s from the phone: status %d, want 403", path, page.code)
		}
	}
	if page := p.get("/pair"); page.text("h1") != "This device is let in" {
		t.Errorf("paired, /pair says %q", page.text("h1"))
	}
	p.pair(ws.code(), "phone again") // with a second code it is still one device
	if page := ws.get("/studio/devices"); page.text(".device b") != "phone again" {
		t.Errorf("the list shows %q", page.text(".device b"))
	}
	if page := p.do("POST", "/pair/leave", nil, ""); page.code != http.StatusSeeOther {
		t.Errorf("signing itself off: status %d", page.code)
	}
	if page := p.get("/"); !page.outside() {
		t.Errorf("signed off: status %d", page.code)
	}
}
