package journey_test

import (
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/testkit/browser"
)

// BenchmarkVatCount is how long a press takes to be seen, from the key to the
// frame after the one that draws it, with the program stopped.
func BenchmarkVatCount(b *testing.B) {
	s, tab := serve(b), browser.Start(b)
	v := s.atVat(tab, s.making(), "0")
	s.stop()
	var took []float64
	for b.Loop() {
		took = append(took, browser.Get(tab, chromedp.Evaluate[float64](`new Promise((yes) => { const began = performance.now();
			document.dispatchEvent(new KeyboardEvent("keydown", {key: "PageDown", bubbles: true, cancelable: true}));
			requestAnimationFrame(() => requestAnimationFrame(() => yes(performance.now() - began))) })`, chromedp.EvalAwaitPromise)))
	}
	v.counts(len(took))
	report(b, took)
	s.start()
}

// BenchmarkVatOtherDevice is how long a press on one device takes to be shown on
// another, on one machine.
func BenchmarkVatOtherDevice(b *testing.B) {
	s, tab := serve(b), browser.Start(b)
	m := s.making()
	v, other := s.atVat(tab, m, "0"), s.atVat(tab.Device(), m, "0")
	for _, d := range []*vatPage{v, other} {
		d.b.Do(chromedp.Evaluate[chromedp.Void](`window.shown = 0; new MutationObserver(() => { window.shown = performance.timeOrigin + performance.now() })
			.observe(document.querySelector("[data-n]"), {childList: true, characterData: true, subtree: true})`))
	}
	at := func(d *vatPage) float64 { return browser.Get(d.b, chromedp.Evaluate[float64](`window.shown`)) }
	var took []float64
	for b.Loop() {
		before := at(other)
		v.press(kb.PageDown)
		for at(other) == before {
			time.Sleep(10 * time.Millisecond)
		}
		took = append(took, at(other)-at(v))
		time.Sleep(100 * time.Millisecond)
	}
	report(b, took)
}

// report tells the middle and the slow end, ms.
func report(b *testing.B, took []float64) {
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms/middle")
	b.ReportMetric(took[len(took)*95/100], "ms/p95")
	b.ReportMetric(0, "ns/op")
}
