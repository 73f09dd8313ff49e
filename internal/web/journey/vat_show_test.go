package journey_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/testkit/browser"
)

// inSight fails unless the button and the bar lie within the window, nothing is
// cut at its sides, and what comes next is read from two metres: letters of 60
// px have capitals of 40, which are 10 mm.
func (v *vatPage) inSight(when string) {
	v.t.Helper()
	type seen struct {
		Bar, Button, Share, Wide, Letters float64
	}
	got := browser.Get(v.b, chromedp.Evaluate[seen](`(() => { const of = (s) => document.querySelector(s).getBoundingClientRect(), c = of("[data-count]");
		return {Bar: of(".vat-bar").bottom, Button: c.bottom, Share: c.width * c.height / innerWidth / innerHeight,
			Wide: document.documentElement.scrollWidth - innerWidth, Letters: parseFloat(getComputedStyle(document.querySelector("[data-big]")).fontSize)} })()`))
	height := browser.Get(v.b, chromedp.Evaluate[float64](`innerHeight`))
	if got.Bar > height || got.Button > got.Bar || got.Wide > 0 || got.Letters < 60 {
		v.t.Errorf("%s: %+v in a window of %g", when, got, height)
	}
	if busy := browser.Get(v.b, chromedp.Evaluate[bool](`document.querySelector(".vat-notes > p") !== null`)); got.Share < 0.5 && !busy || got.Share < 0.15 {
		v.t.Errorf("%s: the button takes %.2f of the window", when, got.Share)
	}
}

// The page is in sight as a whole at every size and through every kind of act,
// breaks no rule of access, its dialogs neither, and says what comes next once.
func TestVatSeenAndHeard(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "0")
	acts := map[string]bool{}
	for n := range 25 {
		v.press(kb.PageDown)
		if n > 4 && n < 21 {
			continue
		}
		v.saved()
		big := v.said().Big
		if kind, _, _ := strings.Cut(strings.Trim(big, "0123456789,.¼½¾\u202f "), " "); !acts[kind] {
			acts[kind] = true
			v.inSight(big)
		}
	}
	if len(acts) < 3 {
		t.Errorf("25 sheets told only %v", acts)
	}
	for _, size := range [][2]int{{360, 640}, {820, 1180}, {1180, 820}, {1440, 900}} {
		b.View(size[0], size[1], browser.Light)
		v.inSight(fmt.Sprint(size))
	}
	b.View(390, 844, browser.Light)
	b.Do(chromedp.Evaluate[chromedp.Void](`window.heard = []; new MutationObserver(() => window.heard.push(document.querySelector("[data-big]").textContent))
		.observe(document.querySelector("[data-big]"), {childList: true, characterData: true, subtree: true})`))
	before := v.said().Big
	v.press(kb.PageDown)
	v.saved()
	after := v.said().Big
	if got := browser.Get(b, chromedp.Evaluate[[]string](`window.heard`)); before != after && !slices.Equal(got, []string{after}) {
		t.Errorf("one sheet was told as %q", got)
	}
	names := v.tree()
	for _, want := range []string{"region: What comes next", "button: Kissed off", "button: Weigh", "button: More"} {
		if !slices.Contains(names, want) {
			t.Errorf("the reader's tree has no %q: %q", want, names)
		}
	}
	if !slices.ContainsFunc(names, func(n string) bool {
		return strings.HasPrefix(n, "button: 26") && strings.Contains(n, "Sheet pulled")
	}) {
		t.Errorf("the reader's tree has no count: %q", names)
	}
	for _, dialog := range []string{"", "spoilt", "weigh", "tub", "more"} {
		if dialog != "" {
			click(b, `[data-open="`+dialog+`"]`, `dialog[open] [data-close]`)
			if tall := browser.Get(b, chromedp.Evaluate[float64](`(() => { const d = document.querySelector("dialog[open]"); return d.scrollHeight - d.clientHeight })()`)); tall > 0 && dialog != "more" {
				t.Errorf("%s is %g px too high", dialog, tall)
			}
			if wide := browser.Get(b, chromedp.Evaluate[float64](`(() => { const d = document.querySelector("dialog[open]"); return d.scrollWidth - d.clientWidth })()`)); wide > 0 {
				t.Errorf("%s is cut by %g px", dialog, wide)
			}
		}
		for _, scheme := range []browser.Scheme{browser.Dark, browser.Light} {
			b.View(390, 844, scheme)
			for _, broken := range b.Violations() {
				t.Errorf("%q, %s: %s", dialog, scheme, broken)
			}
		}
		if dialog != "" {
			b.Do(chromedp.Click(chromedp.CSS(`dialog[open] [data-close]`)), chromedp.WaitNotVisible(chromedp.CSS(`dialog`)))
		}
	}
}

// tree is the screen reader's: role and name of what has one.
func (v *vatPage) tree() []string {
	v.t.Helper()
	var list []string
	v.b.Do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		got, err := cdp.Call(ctx, t, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		for _, n := range got.Nodes {
			if !n.Ignored && n.Role != nil && n.Name != nil && len(n.Name.Value) > 2 {
				list = append(list, strings.Trim(string(n.Role.Value), `"`)+": "+strings.Trim(string(n.Name.Value), `"`))
			}
		}
		return err
	}))
	return list
}

// Timers go on over a reload, and one whose time is up rings until it is
// touched.
func TestVatTimers(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "")
	click(b, `[data-open="more"]`, `[data-timer="Press"]`)
	b.Do(chromedp.Click(chromedp.CSS(`[data-timer="Press"]`)), chromedp.Click(chromedp.CSS(`[data-timer="Drain"]`)))
	again := func() {
		open(b, s.url+"/makings/"+v.m.ID+"/vat")
		v.saved()
	}
	again()
	if got := text(b, "[data-clocks]"); !strings.HasPrefix(got, "Press ") || !strings.Contains(got, " · Drain ") {
		t.Errorf("after a reload run %q", got)
	}
	b.Do(chromedp.Evaluate[chromedp.Void](`(() => { const key = Object.keys(localStorage).find((k) => k.startsWith("vat/timers/")), list = JSON.parse(localStorage[key]);
		list.find((t) => t.name === "Drain").ends = Date.now() - 5000; localStorage[key] = JSON.stringify(list) })()`))
	again()
	again()
	if got := text(b, "[data-rings]"); !strings.HasPrefix(got, "Drain: time is up.") {
		t.Errorf("what is up rings as %q", got)
	}
	v.inSight("while a timer rings")
	b.Do(chromedp.Click(chromedp.CSS("[data-rings] button")))
	again()
	if got := browser.Get(b, chromedp.Evaluate[string](`document.querySelector("[data-rings]").textContent`)); got != "" {
		t.Errorf("touched, it still rings: %q", got)
	}
	if got := text(b, "[data-clocks]"); !strings.HasPrefix(got, "Press ") || strings.Contains(got, "Drain") {
		t.Errorf("the other runs on as %q", got)
	}
}

// A blank that cannot be read says what it takes, keeps what was typed and has
// the focus; decimal commas are read, and the keypad types.
func TestVatBlanks(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	v := s.atVat(b, s.making(), "0")
	v.press(kb.PageDown, kb.PageDown)
	form := "[data-weigh] "
	click(b, `[data-open="weigh"]`, form+`[name="grams"]`)
	refused := func(form, want, focus string) {
		t.Helper()
		click(b, form+`.act`, form+`[data-wrong]`)
		at := browser.Get(b, chromedp.Evaluate[string](`document.activeElement.name`))
		if got := text(b, form+"[data-wrong]"); !strings.Contains(got, want) || at != focus {
			t.Errorf("refused with %q, and the focus is on %q", got, at)
		}
	}
	refused(form, "Only 2 sheets are counted so far.", "sheets")
	v.types(form+`[name="sheets"]`, "2")
	refused(form, "Weight in grams: a number from 0.01", "grams")
	v.press("heavy")
	refused(form, "Weight in grams: a number", "grams")
	if got := browser.Get(b, chromedp.Value(chromedp.CSS(form+`[name="grams"]`))); got != "heavy" {
		t.Errorf("what was typed became %q", got)
	}
	v.types(form+`[name="grams"]`, "27,5")
	v.types(form+`[name="rh"]`, "55")
	b.Do(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("dialog[open] [data-pad] button")].find((b) => b.textContent === "⌫").click()`))
	if got := browser.Get(b, chromedp.Value(chromedp.CSS(form+`[name="rh"]`))); got != "5" {
		t.Errorf("the keypad made 55 %q", got)
	}
	v.press("0")
	b.Do(chromedp.Click(chromedp.CSS(form+`.act`)), chromedp.WaitNotVisible(chromedp.CSS(form)))
	click(b, `[data-open="more"]`, `[data-post] [name="pulled"]`)
	v.types(`[data-post] [name="pulled"]`, "3")
	v.types(`[data-post] [name="kissed"]`, "4")
	refused("[data-post] ", "Kissed off: a whole number from 0 to 3", "kissed")
	v.press(kb.PageDown) // a pedal counts whatever is open
	v.counts(3)
	v.saved()
	state, err := s.records.State(t.Context(), v.m.ID)
	if err != nil || len(state.Tests) != 1 || state.Tests[0].Grams != 27.5 || state.Tests[0].RHPct != 50 || state.Tests[0].Sheets != 2 || state.Couched != 3 {
		t.Errorf("the record has %+v, %v", state.Tests, err)
	}
}
