package journey_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// Opened again while the program is away, the page comes back with all that was
// counted and counts on.
func TestVatOpenedAgainWithoutNetwork(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "0")
	v.press(kb.PageDown, " ", kb.PageDown)
	v.counts(3)
	v.saved()
	kept := browser.Get(b, chromedp.Evaluate[bool](`navigator.serviceWorker.ready.then(async () => {
		for (let i = 0; i < 600; i++) {
			const c = await caches.open("vat-1"), keys = await c.keys();
			if (keys.length >= 3 && (await c.match(location.pathname))) return true;
			await new Promise((yes) => setTimeout(yes, 50));
		} return false })`, chromedp.EvalAwaitPromise))
	if !kept {
		t.Fatal("the page is not kept for when the network is down")
	}
	s.stop()
	b.Offline(true)
	v.press(kb.PageDown, kb.PageDown, kb.PageUp)
	v.counts(4)
	v.press(kb.PageDown, kb.PageUp) // and at once
	open(b, s.url+"/makings/"+v.m.ID+"/vat")
	v.until(`document.querySelector("[data-n]").textContent === "4"`)
	v.press(kb.PageDown)
	v.counts(5)
	if got := v.said(); !strings.Contains(got.Line, "to send") || got.Big == "" {
		t.Errorf("without the program the page says %+v", got)
	}
	s.start()
	b.Offline(false)
	v.saved()
	v.counts(5)
	var sheets []string
	for _, l := range s.lines(v.m, 80) {
		if strings.HasPrefix(l, "post") {
			sheets = append(sheets, strings.TrimPrefix(l, "post 1: "))
		}
	}
	one, back := "1 pulled, 0 kissed off", "0 pulled, 1 kissed off"
	if got, want := strings.Join(sheets, "; "), strings.Join([]string{one, one, one, one, one, back, one, back, one}, "; "); got != want {
		t.Errorf("the record says %s\nnot %s", got, want)
	}
}

// Where the program's file is lost and an older copy takes its place, the device
// sends again what it noted since, when the page is next opened.
func TestVatAfterGoingBack(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	v := s.atVat(b, m, "0")
	v.press(kb.PageDown)
	v.saved()
	s.stop()
	older, err := os.ReadFile(s.file)
	if err != nil {
		t.Fatal(err)
	}
	s.start()
	v.press(kb.PageDown, kb.PageDown)
	v.saved()
	was := s.lines(m, 80)
	s.stop()
	if err := os.WriteFile(s.file, older, 0o600); err != nil {
		t.Fatal(err)
	}
	s.start()
	if got := s.lines(m, 80); len(got) != 1 {
		t.Fatalf("the copy has %q", got)
	}
	open(b, s.url+"/makings/"+m.ID+"/vat")
	v.saved()
	v.counts(3)
	if got := s.lines(m, 80); !slices.Equal(got, was) {
		t.Errorf("the record says %q, and said %q", got, was)
	}
}

// Where the browser can neither open the page again nor keep the screen lit, it
// says so before the first sheet and is silent afterwards.
func TestVatSaysWhatTheBrowserRefuses(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
			Source: `delete Navigator.prototype.serviceWorker; delete Navigator.prototype.wakeLock`})
		return err
	}))
	v := s.atVat(b, s.making(), "")
	for _, want := range []string{"Keep this page open", "Set the screen time"} {
		if got := v.said().Notes; !strings.Contains(got, want) {
			t.Errorf("before the first sheet the page says %q, nothing of %q", got, want)
		}
	}
	v.inSight("with all that is to be read")
	v.press(kb.PageDown)
	if got := v.said(); got.N != 1 || got.Notes != "" {
		t.Errorf("while sheets are pulled the page says %q", got.Notes)
	}
	click(b, `[data-open="more"]`, `dialog[open] [data-again]`)
	if got := text(b, "dialog[open] [data-again]"); !strings.Contains(got, "Keep this page open") {
		t.Errorf("under More stands %q", got)
	}
	b.Open(s.url + "/studio") // leaves nothing behind that complains
}

// hold presses the large button and lets it go after a while.
func (v *vatPage) hold(long time.Duration) {
	v.t.Helper()
	mouse := func(kind input.DispatchMouseEventType) {
		v.b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: 195, Y: 500, Button: "left", ClickCount: 1})
			return err
		}))
	}
	mouse("mousePressed")
	time.Sleep(long)
	mouse("mouseReleased")
}

// A sheet is taken back by holding, by a key and from the list, and is gone on
// the other device too; a press counts as before.
func TestVatTakenBack(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	v := s.atVat(b, m, "0")
	other := s.atVat(b.Device(), m, "")
	both := func(n int) {
		t.Helper()
		v.counts(n)
		other.until(fmt.Sprintf(`document.querySelector("[data-n]").textContent === "%d"`, n))
	}
	v.press(kb.PageDown, kb.PageDown, kb.PageDown, kb.PageDown)
	both(4)
	v.hold(0)
	both(5)
	v.hold(1300 * time.Millisecond)
	both(4)
	if got := v.said().Word; !strings.HasPrefix(got, "Taken back: 1 pulled") {
		t.Errorf("the page says %q", got)
	}
	v.press(kb.Backspace)
	both(3)
	pulled := `[data-noted] button[aria-label*="pulled"]` // the newest sheet
	click(b, `[data-open="more"]`, pulled)
	b.Do(chromedp.Click(chromedp.CSS(pulled)))
	both(2)
	b.Do(chromedp.Click(chromedp.CSS(`dialog[open] [data-close]`)))
	v.saved()
	other.press(kb.Backspace)
	if got := other.said(); got.N != 2 || !strings.Contains(got.Word, "Nothing of this device") {
		t.Errorf("a device that noted nothing says %+v", got)
	}
	click(other.b, `[data-open="more"]`, pulled)
	other.b.Do(chromedp.Click(chromedp.CSS(pulled)))
	other.until(`document.querySelector("[data-n]").textContent === "1"`)
	v.until(`document.querySelector("[data-n]").textContent === "1"`)
	other.saved()
	state, err := s.records.State(t.Context(), m.ID)
	if err != nil || state.Couched != 1 || state.Pulled != 1 {
		t.Errorf("the record comes to %d couched of %d pulled, %v", state.Couched, state.Pulled, err)
	}
}

// What is told and not done is not noted, and told again.
func TestVatNotDone(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "0")
	for n := 0; strings.HasPrefix(v.said().Big, "Pull"); n++ {
		v.press(kb.PageDown)
		v.saved()
	}
	before := len(s.lines(v.m, 80))
	b.Do(chromedp.Click(chromedp.CSS("[data-skip]")))
	if got := v.said().Big; strings.Contains(got, "stock") || strings.Contains(got, "jug") {
		t.Errorf("after Not done the page still says %q", got)
	}
	v.press(" ") // the pedal's, though a button was touched before it
	v.saved()
	if got := s.lines(v.m, 80); len(got) != before+1 || !strings.HasPrefix(got[before], "post") {
		t.Errorf("the record says %q", got)
	}
	v.until(`!document.querySelector("[data-big]").textContent.startsWith("Pull")`) // told again
	v.press(kb.PageDown)
	v.saved()
	if got := strings.Join(s.lines(v.m, 80), "\n"); !strings.Contains(got, "after ") {
		t.Errorf("the record says %s", got)
	}
}

// A weighing out of all reason is asked about: it stands when the maker says so,
// and goes when it is taken back.
func TestVatAsks(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "0")
	w, _ := tubOf(t, v.m)
	w.hand = 0
	v.press(kb.PageDown, kb.PageDown, kb.PageDown)
	for range 3 {
		w.pull()
	}
	v.saved()
	v.weigh("first", map[string]string{"grams": fmt.Sprintf("%.1f", w.weigh(1, 3))}, "bone")
	v.saved()
	asked := func() {
		t.Helper()
		v.weigh("single", map[string]string{"from": "3", "sheets": "1", "grams": fmt.Sprintf("%.1f", 1.6*w.sheets[2])}, "bone")
		v.until(`document.querySelector("[data-notes]").textContent.includes("Is it right?")`)
		v.inSight("while it asks")
	}
	answered := func(with string) {
		t.Helper()
		b.Do(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("[data-notes] button")].find((b) => b.textContent === "` + with + `").click()`))
		v.until(`document.querySelector("[data-notes]").textContent === ""`)
		v.saved()
	}
	asked()
	if got := v.said().Notes; !strings.Contains(got, "above what was expected") {
		t.Errorf("asked is %q", got)
	}
	answered("Take it back")
	tests := func() (list []studio.TestWeighed) {
		state, err := s.records.State(t.Context(), v.m.ID)
		if err != nil {
			t.Fatal(err)
		}
		return state.Tests
	}
	if got := tests(); len(got) != 1 {
		t.Errorf("taken back, the record has %+v", got)
	}
	asked()
	answered("It is right")
	if got := tests(); len(got) != 2 || !got[1].Sure || got[1].From != 3 {
		t.Errorf("stood by, the record has %+v", got)
	}
}
