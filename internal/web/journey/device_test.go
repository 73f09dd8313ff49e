package journey_test

import (
	"net"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// The laptop shows a code, the phone beside it types it in and opens the bench;
// then the laptop shuts it out.
func TestPhoneBesideTheVat(t *testing.T) {
	t.Parallel()
	if ln, err := net.Listen("tcp", "127.0.0.2:0"); err != nil {
		t.Skipf("this machine has no second loopback address: %v", err)
	} else {
		ln.Close()
	}
	s, laptop := serve(t), browser.Start(t)
	m := s.making()
	phone := laptop.Device()
	phone.View(390, 844, browser.Light)
	sound := func(what string) {
		t.Helper()
		for name, b := range map[string]*browser.Browser{"laptop": laptop, "phone": phone} {
			for _, v := range b.Violations() {
				t.Errorf("%s, %s: %s", what, name, v)
			}
		}
		if wide := browser.Get(phone, chromedp.Evaluate[bool](`document.documentElement.scrollWidth > innerWidth`)); wide {
			t.Errorf("%s: the phone's page is wider than the phone", what)
		}
	}
	open(laptop, s.url+"/studio")
	click(laptop, `.finish a[href="/studio/devices"]`, ".means")
	open(phone, s.url+"/studio/devices") // a phone's width at home, before all
	sound("switched off")
	click(laptop, `button[value=on]`, ".ways")
	click(laptop, `form[action$=offer] .act`, ".offer-code")
	address, code := text(laptop, ".offer-address"), text(laptop, ".offer-code")

	open(phone, strings.TrimSuffix(address, "/pair")+"/makings/"+m.ID)
	if got := text(phone, "h1"); got != "Let this device in" {
		t.Fatalf("without a code the phone is shown %q", got)
	}
	sound("before pairing")
	fill(phone, "name", "phone by the vat")
	fill(phone, "code", "AAAA-AAAA")
	click(phone, ".finish .act", ".wrong-summary")
	if value(phone, "name") != "phone by the vat" {
		t.Error("the name that was typed is gone")
	}
	sound("a wrong code")
	fill(phone, "code", strings.ToLower(code))
	click(phone, ".finish .act", ".flash")
	laptop.Do(chromedp.WaitVisible(chromedp.CSS(".device"))) // by itself
	if got := text(phone, ".strip"); !strings.Contains(got, m.Tag) {
		t.Errorf("paired, the phone is not where it was going: %q", got)
	}
	click(phone, ".mark", ".places")
	if got := text(phone, `.places [aria-current]`); got != "Bench" {
		t.Errorf("the phone opens %q, want the bench", got)
	}
	open(phone, strings.TrimSuffix(address, "/pair")+"/studio/devices")
	sound("paired")

	open(laptop, s.url+"/studio/devices")
	if got := text(laptop, ".device b"); got != "phone by the vat" {
		t.Errorf("the laptop lists %q", got)
	}
	open(laptop, s.url+"/studio/devices/trust")
	sound("the secure address")
	open(laptop, s.url+"/studio/devices")
	click(laptop, ".device button", ".flash")
	click(phone, ".mark", ".pairing")
	if got := text(phone, "h1"); got != "Let this device in" {
		t.Errorf("shut out, the phone sees %q", got)
	}
	for name, b := range map[string]*browser.Browser{"laptop": laptop, "phone": phone} {
		for _, said := range b.Complaints() {
			if !strings.Contains(said, "401") && !strings.Contains(said, "422") { // the browser's own word for these answers
				t.Errorf("the %s complains: %s", name, said)
			}
		}
	}
}
