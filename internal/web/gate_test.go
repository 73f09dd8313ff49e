package web_test

import (
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptrace"
	"net/netip"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/device"
	"vatside/internal/fault"
	"vatside/internal/network"
	"vatside/internal/studio"
)

// everyRoute is every pattern of routes.go, read from its text so that a new
// one is not forgotten.
func everyRoute(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("routes.go")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range regexp.MustCompile(`"((?:GET|POST) )?(/[^"\s]*)"`).FindAllStringSubmatch(string(text), -1) {
		method := strings.TrimSpace(m[1])
		if method == "" {
			method = "GET"
		}
		out = append(out, method+" "+m[2])
	}
	if len(out) < 80 {
		t.Fatalf("only %d routes are found: the search is broken", len(out))
	}
	return out
}

// What a device without a key may reach, and no more.
var public = map[string]bool{"GET /pair": true, "POST /pair": true, "GET /authority.crt": true}

// Nothing without a key reaches any route but those of pairing, the assets and
// the authority's certificate: every route is walked, with no key and with a
// made-up one.
func TestNothingWithoutAKey(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	stranger, liar := ws.phone(), ws.phone()
	at, _ := url.Parse(liar.base)
	liar.client.Jar.SetCookies(at, []*http.Cookie{{Name: "device", Value: strings.Repeat("A", 43)}, {Name: "__Host-device", Value: strings.Repeat("B", 43)}})
	before := ws.everything()
	for _, route := range everyRoute(t) {
		method, path, _ := strings.Cut(route, " ")
		path = regexp.MustCompile(`\{[^}]*\}`).ReplaceAllString(strings.ReplaceAll(path, "{$}", ""), ws.brief)
		for _, p := range []*phone{stranger, liar} {
			page := p.do(method, path, url.Values{"to": {"off"}}, "")
			if public[route] {
				if page.code == http.StatusUnauthorized || strings.Contains(page.raw, "Reed Lane") {
					t.Errorf("%s: status %d", route, page.code)
				}
			} else if !page.outside() || strings.Contains(page.raw, "Reed Lane") {
				t.Errorf("%s is reached without a key: status %d: %s", route, page.code, page.text("h1"))
			}
		}
	}
	if after := ws.everything(); after != before {
		t.Errorf("something was written:\n%s\nwas\n%s", after, before)
	}
	if page := stranger.get(mustAttr(t, stranger.get("/pair"), "link[rel=stylesheet]", "href")); page.code != http.StatusOK {
		t.Errorf("the styles of the page of pairing: status %d", page.code)
	}
}

// ... nor does any other spelling of an address or method.
func TestNoOtherSpellingProperty(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	pieces := rapid.SampledFrom([]string{"/", "//", "/asset", "/pair", "/..", "/.", "/studio", "/devices", "/makings", "/%2e%2e", "/authority.crt", "?x=/pair", "%2f", ";", "/copies", "/now", "/leave", "\u00e9"})
	rapid.Check(t, func(rt *rapid.T) {
		path := "/" + strings.Join(rapid.SliceOfN(pieces, 0, 6).Draw(rt, "pieces"), "")
		method := rapid.SampledFrom([]string{"GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "PATCH", "get"}).Draw(rt, "method")
		r, err := http.NewRequest(method, p.base+path, nil)
		if err != nil {
			return // nothing that can be sent
		}
		answer, err := p.client.Do(r)
		if err != nil {
			rt.Fatal(err)
		}
		answer.Body.Close()
		switch answer.StatusCode {
		case http.StatusUnauthorized, http.StatusMethodNotAllowed, http.StatusBadRequest, http.StatusForbidden, http.StatusMisdirectedRequest:
			return
		case http.StatusMovedPermanently, http.StatusTemporaryRedirect, http.StatusPermanentRedirect: // to the same address, spelt rightly
			return
		}
		clean := answer.Request.URL.Path
		if clean != "/pair" && clean != "/authority.crt" && !strings.HasPrefix(clean, "/asset/") {
			rt.Fatalf("%s %s: status %d", method, path, answer.StatusCode)
		}
	})
}

// Switched off while a form is being sent, the form is still taken; what goes
// on and on is cut, and then nobody listens any more. Switched on again, the
// device is known.
func TestSwitchedOffWhileSomethingRuns(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	p.pair(ws.code(), "phone")
	finish, finished := p.slowForm("/units", url.Values{"units": {"us"}})
	late, cut := p.slowForm("/units", url.Values{"units": {"us"}})
	off := make(chan sheet, 1)
	go func() { off <- ws.post("/studio/devices/switch", url.Values{"to": {"off"}}) }()
	for ws.listening() {
		time.Sleep(5 * time.Millisecond)
	}
	finish()
	if code := <-finished; code != http.StatusSeeOther {
		t.Errorf("the form that was being sent: status %d, want 303", code)
	}
	if page := <-off; page.code != http.StatusSeeOther {
		t.Errorf("switching off: status %d", page.code)
	}
	late()
	if code := <-cut; code != 0 {
		t.Errorf("what goes on and on was answered with %d", code)
	}
	if ws.listening() {
		t.Error("it listens still")
	}
	ws.on()
	if page := p.get("/makings"); page.code != http.StatusOK {
		t.Errorf("switched on again, the phone gets status %d", page.code)
	}
}

// A device that is shut out in the middle of sending is not heard to the end.
func TestShutOutInTheMiddle(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	p := ws.phone()
	p.pair(ws.code(), "phone")
	form := filled(p.get("/briefs/new"))
	finish, finished := p.slowForm("/briefs", form)
	if page := ws.post("/studio/devices/revoke", nil); page.code != http.StatusSeeOther {
		t.Fatalf("shutting all out: status %d", page.code)
	}
	before := ws.everything()
	finish()
	if code := <-finished; code == http.StatusSeeOther {
		t.Error("it is told that what it sent was taken")
	}
	if ws.everything() != before {
		t.Error("what it sent was written down after it was shut out")
	}
}

// How the maker left the way in outlasts a restart.
func TestSwitchOutlastsARestart(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	again := device.New(ws.file.Devices(), time.Now, nil)
	left := func() device.Switch {
		t.Helper()
		s, err := again.Switch(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for _, c := range []struct {
		form    url.Values
		atStart bool
	}{
		{url.Values{"to": {"on"}}, false}, {url.Values{"to": {"again"}, "again": {"1"}}, true}, {url.Values{"to": {"off"}}, false},
		{url.Values{"to": {"on"}, "again": {"1"}}, true}, {url.Values{"to": {"again"}}, false},
	} {
		if page := ws.post("/studio/devices/switch", c.form); page.code != http.StatusSeeOther {
			t.Fatalf("%v: status %d", c.form, page.code)
		}
		if got := left(); got.AtStart != c.atStart || got.SecurePort == 0 {
			t.Errorf("after %v it is kept as %+v", c.form, got)
		}
	}
	port := ws.way.State().SecurePort
	ws.post("/studio/devices/switch", url.Values{"to": {"off"}})
	ws.on()
	if got := ws.way.State().SecurePort; got != port {
		t.Errorf("the secure address moved from port %d to %d", port, got)
	}
}

// A port that another program holds is told in a plain sentence.
func TestPortInUse(t *testing.T) {
	t.Parallel()
	ws := newWorkshop(t)
	ws.on()
	second := network.New(network.Config{Dir: t.TempDir(), Port: ws.way.State().Port,
		Addresses: func() ([]netip.Addr, error) { return []netip.Addr{lan}, nil }})
	err := second.On(0)
	if fault.KindOf(err) != fault.KindBusy || !strings.Contains(err.Error(), "Another program uses port") || second.State().On {
		t.Errorf("on a port in use: %v, on %v", err, second.State().On)
	}
}

func (ws *workshop) listening() bool {
	conn, err := net.Dial("tcp", netip.AddrPortFrom(lan, uint16(ws.port)).String())
	if err == nil {
		conn.Close()
	}
	return err == nil
}

// everything is what the studio holds, but for devices.
func (ws *workshop) everything() string {
	ws.t.Helper()
	ctx := ws.t.Context()
	profile, err := ws.records.Profile(ctx)
	papers, err2 := ws.records.Papers(ctx, studio.PaperFilter{})
	briefs, err3 := ws.records.Briefs(ctx, studio.BriefFilter{})
	makings, err4 := ws.records.Makings(ctx, studio.MakingFilter{Light: true})
	people, err5 := ws.records.People(ctx)
	if err := errors.Join(err, err2, err3, err4, err5); err != nil {
		ws.t.Fatal(err)
	}
	return asJSON(ws.t, []any{profile, papers, briefs, makings, people})
}

// slowForm begins to send a form, and returns when the program reads it: finish
// sends the rest, and the status of the answer comes after it; 0, where the
// connection was broken off.
func (p *phone) slowForm(path string, form url.Values) (finish func(), status <-chan int) {
	p.t.Helper()
	body, rest := io.Pipe()
	reading := make(chan struct{})
	ctx := httptrace.WithClientTrace(p.t.Context(), &httptrace.ClientTrace{Got100Continue: func() { close(reading) }})
	r, err := http.NewRequestWithContext(ctx, "POST", p.base+path, body)
	if err != nil {
		p.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", p.base)
	r.Header.Set("Expect", "100-continue")
	got := make(chan int, 1)
	client := *p.client
	client.Transport = &http.Transport{ExpectContinueTimeout: time.Minute, DisableKeepAlives: true}
	go func() {
		answer, err := client.Do(r)
		if err != nil {
			got <- 0
			return
		}
		answer.Body.Close()
		got <- answer.StatusCode
	}()
	<-reading
	return func() { io.WriteString(rest, form.Encode()); rest.Close() }, got
}

func mustAttr(t *testing.T, s sheet, selector, name string) string {
	t.Helper()
	v, ok := s.Find(selector).First().Attr(name)
	if !ok {
		t.Fatalf("no %s of %s", name, selector)
	}
	return v
}
