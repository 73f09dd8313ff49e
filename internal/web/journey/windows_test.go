package journey_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// Two windows on one paper: the second is told, sees both versions, and
// nothing is overwritten.
func TestTwoWindows(t *testing.T) {
	t.Parallel()
	s, one := serve(t), browser.Start(t)
	p := s.paper()
	two := one.Device()
	edit := s.url + "/papers/" + p.ID + "/edit"
	open(one, edit)
	open(two, edit)
	fill(one, "grammage", "110")
	click(one, ".finish .act", ".flash")
	fill(two, "grammage", "90")
	fill(two, "surface", "gelatin")
	click(two, ".finish .act", ".conflict")
	told := text(two, ".conflict")
	for _, want := range []string{"was changed at ", "in another window", "90", "110", "gelatin"} {
		if !strings.Contains(told, want) {
			t.Errorf("the second window is not told %q: %s", want, told)
		}
	}
	if got := value(two, "grammage") + value(two, "surface"); got != "90gelatin" {
		t.Errorf("what was typed is not kept: %q", got)
	}
	if now := present(s, p.ID); now.Revision != 2 || now.Design.GrammageConditioned != 110 || now.Design.SurfaceSize != "" {
		t.Errorf("overwritten: %+v", now)
	}
	click(two, ".finish .act", ".flash") // on top, knowingly
	if now := present(s, p.ID); now.Revision != 3 || now.Design.GrammageConditioned != 90 {
		t.Errorf("not saved on top: %+v", now)
	}
	open(one, s.url+"/papers/"+p.ID)
	if got := text(one, ".history"); !strings.Contains(got, "110 g/m², was 100 g/m²") || !strings.Contains(got, "90 g/m², was 110 g/m²") {
		t.Errorf("the revisions do not tell what changed: %s", got)
	}
}

func present(s *site, id string) studio.Paper {
	s.t.Helper()
	p, err := s.records.Paper(s.t.Context(), id)
	if err != nil {
		s.t.Fatal(err)
	}
	return p
}

// The program is started again while a card is half typed: the draft is there,
// after a reload too, and goes when it is saved; sent twice it is stored once.
func TestDraft(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	page := s.url + "/makings/" + m.ID + "/record"
	open(b, page)
	typed := map[string]string{"test-1-grams": "40.5", "post-1-couched": "21", "good": "61"}
	for field, text := range typed {
		b.Do(chromedp.SendKeys(chromedp.CSS(`[name="`+field+`"]`), text))
	}
	b.Do(chromedp.Click(chromedp.CSS(`.option:has([name="recharges"][value="card"])`)))
	s.restart()
	open(b, page)
	for field, text := range typed {
		if got := value(b, field); got != text {
			t.Errorf("after the restart %s holds %q, want %q", field, got, text)
		}
	}
	if !browser.Get(b, chromedp.Evaluate[bool](`document.querySelector('[name="recharges"][value="card"]').checked`)) {
		t.Error("after the restart the recharges are not as chosen")
	}
	if moved := browser.Get(b, chromedp.Evaluate[float64](shifted, chromedp.EvalAwaitPromise)); moved > mostShift {
		t.Errorf("bringing the draft back moves the page: layout shift %.3f", moved)
	}
	if got := text(b, "[data-draft-note]"); !strings.Contains(got, "is back") {
		t.Errorf("it is not said that the draft is back: %q", got)
	}
	// In other units the numbers mean what they meant.
	click(b, `.units [value="us"]`, `.units [value="us"][aria-pressed="true"]`)
	loaded(b)
	if got := value(b, "test-1-grams"); got != "40.5 g" {
		t.Errorf("in US units the weight is %q, want the grams that were typed", got)
	}
	s.stop() // the save fails, and nothing is lost
	b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelector(".finish .act").click()`))
	waitFor(t, func() int {
		if browser.Get(b, chromedp.Evaluate[bool](`document.querySelector(".record") === null`)) {
			return 1
		}
		return 0
	})
	s.start()
	open(b, page)
	if got := value(b, "good"); got != "61" {
		t.Errorf("after the failed save good holds %q", got)
	}
	form := browser.Get(b, chromedp.Value(chromedp.CSS(`[name="form"]`)))
	click(b, ".finish .act", ".making")
	loaded(b)
	if left := browser.Get(b, chromedp.Evaluate[int](`localStorage.length`)); left != 0 {
		t.Errorf("%d drafts are left after the save", left)
	}
	events, err := s.records.Events(t.Context(), m.ID)
	if err != nil || len(events) == 0 || !strings.HasPrefix(events[0].ID, "card/"+form+"/") {
		t.Fatalf("recorded %d events of the form %s: %v", len(events), form, err)
	}
	b.Do(chromedp.NavigateBack())
	loaded(b)
	b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelector(".finish .act")?.click()`), chromedp.WaitVisible(chromedp.CSS(".making, .conflict")))
	again, err := s.records.Events(t.Context(), m.ID)
	if err != nil || len(again) != len(events) {
		t.Errorf("sent twice: %d events became %d, %v", len(events), len(again), err)
	}
}

// mostShift is how far a page may move while it loads: half of what Web Vitals
// call good, for the typeface that comes in late.
const mostShift = 0.05

// shifted adds up how far the page moved while it loaded.
const shifted = `new Promise(done => new PerformanceObserver(list => done(list.getEntries().reduce((sum, e) => sum + e.value, 0)))
	.observe({ type: "layout-shift", buffered: true }) || setTimeout(() => done(0), 300))`
