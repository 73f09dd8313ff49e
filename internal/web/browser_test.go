package web_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// The first evening, as it is lived: from opening the program to the printed
// card, with every action counted. Eight fields and 25 actions are the most
// the first evening may take.
func TestFirstCardWithin25Actions(t *testing.T) {
	site := listen(t)
	b := browser.Start(t)
	actions := 0
	do := func(step chromedp.Action[chromedp.Void]) { actions++; b.Do(step) }
	b.Open(site)
	required := browser.Get(b, chromedp.Evaluate[int](`document.querySelectorAll("main form [required]").length`))
	if required > 8 {
		t.Errorf("%d required fields, want at most 8", required)
	}
	// Somebody who changes every answer there is to change.
	do(chromedp.Click(chromedp.CSS(`.units button[value=metric]`)))
	b.Do(chromedp.WaitVisible(chromedp.CSS(`.units button[value=metric][aria-pressed=true]`)))
	for _, choice := range []string{`[name=paper][value=cover]`, `[name=press]:nth-child(1)[value="0.37"]`, `[name=drying][value=board]`} {
		do(chromedp.Click(chromedp.CSS(choice)))
	}
	for field, typed := range map[string]string{"size": "A5", "good": "12", "fibre": "abaca", "vat": "60 L", "jug": "500 mL"} {
		do(chromedp.Click(chromedp.CSS(`[name=` + field + `]`)))
		do(chromedp.SetValue(chromedp.CSS(`[name=`+field+`]`), typed))
	}
	do(chromedp.Click(chromedp.CSS(`main button.act`)))
	b.Do(chromedp.WaitVisible(chromedp.CSS(`.promise`)))
	// The card itself: the browser's viewer is asked no more than that it opens.
	card := browser.Get(b, chromedp.Evaluate[string](`fetch(document.querySelector("form[action$='/makings']").action, {method: "POST"})
		.then(r => r.headers.get("content-type") + " " + r.status)`, chromedp.EvalAwaitPromise))
	actions++
	if card != "application/pdf 200" {
		t.Errorf("the card is %s", card)
	}
	if actions > 25 {
		t.Errorf("%d actions, want at most 25", actions)
	}
	t.Logf("%d required fields, %d actions", required, actions)
	for _, c := range b.Complaints() {
		t.Errorf("the page complains: %s", c)
	}
}

// A sum opens in its place, and without script on a page of its own.
func TestSumInPlaceAndWithoutScript(t *testing.T) {
	site := listen(t)
	b := browser.Start(t)
	b.Open(site + "/welcome")
	b.Do(chromedp.Click(chromedp.CSS(`main button.act`)), chromedp.WaitVisible(chromedp.CSS(`.promise`)),
		chromedp.Click(chromedp.CSS(`#figure-sheets_to_pull summary`)), chromedp.WaitVisible(chromedp.CSS(`#figure-sheets_to_pull .sum-lines`)))
	b.WithoutScript(true)
	b.Open(site)
	b.Do(chromedp.Click(chromedp.CSS(`.place:last-child .line`)), chromedp.WaitVisible(chromedp.CSS(`.promise`)),
		chromedp.Click(chromedp.CSS(`#figure-sheets_to_pull summary`)), chromedp.Click(chromedp.CSS(`#figure-sheets_to_pull .rests a`)),
		chromedp.WaitVisible(chromedp.CSS(`.sum-lines`)))
}

// What was refused takes the focus, and nothing is wider than a phone.
func TestRefusalFocusAndWidth(t *testing.T) {
	site := listen(t)
	b := browser.Start(t)
	b.View(390, 800, browser.Light)
	b.Open(site + "/welcome")
	b.Do(chromedp.SetValue(chromedp.CSS(`[name=size]`), "A44"), chromedp.Click(chromedp.CSS(`main button.act`)), chromedp.WaitVisible(chromedp.CSS(`.wrong-summary`)))
	if got := browser.Get(b, chromedp.Evaluate[string](`document.activeElement.id`)); got != "wrong" {
		t.Errorf("the focus is on %q, want the summary", got)
	}
	b.Do(chromedp.Click(chromedp.CSS(`.wrong-summary a`)))
	if got := browser.Get(b, chromedp.Evaluate[string](`document.activeElement.name`)); got != "size" {
		t.Errorf("the summary's link puts the focus on %q, want the field", got)
	}
	b.Do(chromedp.SetValue(chromedp.CSS(`[name=size]`), "A4"), chromedp.Click(chromedp.CSS(`main button.act`)), chromedp.WaitVisible(chromedp.CSS(`.promise`)))
	plan := browser.Get(b, chromedp.Evaluate[string](`location.pathname`))
	for _, path := range []string{"/", "/welcome", "/briefs/new", "/pail", plan, plan + "/sums/sheets_to_pull", "/gallery"} {
		b.Open(site + path)
		if over := browser.Get(b, chromedp.Evaluate[int](`document.documentElement.scrollWidth - innerWidth`)); over > 0 {
			t.Errorf("%s is %d px wider than a phone", path, over)
		}
		small := browser.Get(b, chromedp.Evaluate[string](`[...document.querySelectorAll("main .act, .head a, .head button, summary, input:not([type=hidden]):not([type=radio]), select, label.option")]
			.filter(e => { const r = e.getBoundingClientRect(); return r.width > 0 && r.height < 43.5 }).map(e => e.outerHTML.slice(0, 80)).join("\n")`))
		if small != "" {
			t.Errorf("%s: lower than 44 px:\n%s", path, small)
		}
	}
}

// WCAG 2.2 AA by axe, light and dark.
func TestAccessible(t *testing.T) {
	site := listen(t)
	b := browser.Start(t)
	b.Open(site + "/welcome")
	b.Do(chromedp.Click(chromedp.CSS(`main button.act`)), chromedp.WaitVisible(chromedp.CSS(`.promise`)))
	plan := browser.Get(b, chromedp.Evaluate[string](`location.pathname`))
	for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
		b.View(820, 900, scheme)
		for _, path := range []string{"/", "/welcome", "/briefs/new", "/pail", plan, plan + "/sums/sheets_to_pull", "/gallery", "/nowhere"} {
			b.Open(site + path)
			for _, v := range b.Violations() {
				t.Errorf("%s, %s: %s", strings.TrimPrefix(path, "/"), scheme, v)
			}
		}
	}
}
