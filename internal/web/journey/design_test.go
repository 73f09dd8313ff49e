package journey_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"vatside/internal/testkit/browser"
)

// put puts a value into a blank or takes a slide to a place, and the page
// notices as it does of a finger.
func put(b *browser.Browser, field, to string) {
	b.Do(chromedp.Evaluate[chromedp.Void](`{
		const field = document.querySelector(` + "'" + field + "'" + `);
		field.value = "` + to + `";
		field.dispatchEvent(new Event("input", {bubbles: true}));
	}`))
}

// slideOf is the slide beside a blank.
func slideOf(field string) string {
	return `[data-slide]:has([name="` + field + `"]) input[type="range"]`
}

// until waits for a page that answers by itself; by the clock, for a page that
// is not looked at draws no pictures.
func until(b *browser.Browser, what string) {
	browser.Get(b, chromedp.Poll[bool](what, chromedp.WithPollingInterval(50*time.Millisecond)))
}

// says waits until the answer says a thing.
func says(b *browser.Browser, what string) {
	until(b, `document.querySelector('[data-answer="table"]').textContent.includes("`+what+`")`)
}

// A slide is moved and what that does is seen without a reload; kept, it is the
// paper's second revision.
func TestDesigningAPaper(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	p := s.making().PaperID
	open(b, s.url+"/papers/"+p)
	click(b, `a[href$="/design"]`, "form[data-design]")
	loaded(b)
	b.Do(chromedp.Evaluate[chromedp.Void](`window.stays = true`))
	if got := text(b, ".short"); got != "Nothing is changed yet." {
		t.Errorf("untouched it says %q", got)
	}
	put(b, slideOf("grammage"), "150")
	says(b, "heavier")
	if got := value(b, "grammage"); got != "150" {
		t.Errorf("the slide wrote %q", got)
	}
	// By the keys, the slide has the focus and keeps it.
	b.Do(chromedp.Focus(chromedp.CSS(slideOf("beating"))), chromedp.KeyEvent(kb.ArrowRight))
	if got := value(b, "beating"); got != "3.25" {
		t.Errorf("an arrow to the right of 3 h wrote %q", got)
	}
	until(b, `location.search.includes("beating=3.25")`)
	put(b, `[name="change"]`, "for maps")
	if !browser.Get(b, chromedp.Evaluate[bool](`window.stays === true && document.querySelector("form[data-design]") !== null`)) {
		t.Error("the page was loaded anew")
	}
	// What is typed wrong is said at once, and the figures come back.
	put(b, `[name="size"]`, "A44")
	says(b, "put right")
	if got := text(b, ".short"); !strings.Contains(got, "Usual size, finished: Write a size by name") {
		t.Errorf("of A44 it says %q", got)
	}
	put(b, `[name="size"]`, "A3")
	says(b, "heavier")
	// Switching the units keeps what was typed, the reason too.
	click(b, `.units [value="us"]`, `.units [value="us"][aria-pressed="true"]`)
	loaded(b)
	if g, why := value(b, "grammage"), value(b, "change"); g != "150" || why != "for maps" {
		t.Errorf("after switching the units: grammage %q, reason %q", g, why)
	}
	click(b, `button[formmethod="post"]`, ".flash")
	pa := present(s, p)
	if pa.Revision != 2 || pa.Design.GrammageConditioned != 150 || *pa.Design.BeatingHours != 3.25 || pa.Change != "for maps" || pa.Sheet.LongMM != 420 {
		t.Errorf("kept: %s", same(t, pa))
	}
	if got := b.Complaints(); len(got) > 0 {
		for _, c := range got {
			if !strings.Contains(c, "422") { // the browser's own note of the status
				t.Errorf("the page complains: %s", c)
			}
		}
	}
}

// A browser that refuses to change the address, as some do when it changes
// often, is answered all the same.
func TestDesignWhereTheAddressStays(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	open(b, s.url+"/papers/"+s.making().PaperID+"/design")
	b.Do(chromedp.Evaluate[chromedp.Void](`history.replaceState = () => { throw new DOMException("too often", "SecurityError"); }`))
	put(b, `[name="grammage"]`, "150")
	says(b, "heavier")
	put(b, `[name="grammage"]`, "60")
	says(b, "lighter")
	if got := browser.Get(b, chromedp.Evaluate[string](`document.querySelector('form.units input[name="back"]').value`)); !strings.Contains(got, "grammage=60") {
		t.Errorf("the unit switch goes back to %q", got)
	}
}

// Without script the button answers, and the other keeps.
func TestDesigningWithoutScript(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	p := s.paper()
	b.WithoutScript(true)
	b.Open(s.url + "/papers/" + p.ID + "/design")
	fill(b, "grammage", "150")
	click(b, "form[data-design] .second", `.row-note`)
	if got := text(b, ".short"); strings.Contains(got, "Nothing") {
		t.Errorf("it answers %q", got)
	}
	click(b, `button[formmethod="post"]`, ".flash")
	if pa := present(s, p.ID); pa.Revision != 2 || pa.Design.GrammageConditioned != 150 {
		t.Errorf("kept: %s", same(t, pa))
	}
}

// On a phone nothing is wider than the page, every slide has room for a finger,
// and what a change does stays in sight; beside the form it does so too.
func TestDesignFitsAPhone(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	p := s.making().PaperID
	for _, at := range []string{"/papers/" + p + "/design?grammage=150", "/papers/design?from=mending", "/papers/compare", "/papers/" + p} {
		for _, width := range []int{390, 820, 1440} {
			b.View(width, 800, browser.Light)
			open(b, s.url+at)
			if over := browser.Get(b, chromedp.Evaluate[int](`document.documentElement.scrollWidth - innerWidth`)); over > 0 {
				t.Errorf("%s is %d px wider than %d", at, over, width)
			}
			small := browser.Get(b, chromedp.Evaluate[string](`[...document.querySelectorAll("input[type=range]")].map(e => [e.getBoundingClientRect(), e.closest("form").getBoundingClientRect()])
				.filter(([r, f]) => r.width < 96 || r.height < 43.5 || r.right > f.right).map(([r]) => r.width + " x " + r.height).join(", ")`))
			if small != "" {
				t.Errorf("%s at %d: slides of %s px", at, width, small)
			}
			if !strings.Contains(at, "/design") {
				continue
			}
			for _, y := range []int{0, 500, 1000} {
				if !browser.Get(b, chromedp.Evaluate[bool](`{ scrollTo(0, `+strconv.Itoa(y)+`); const r = document.querySelector(".short").getBoundingClientRect(); r.top >= 0 && r.bottom <= innerHeight + 1 }`)) {
					t.Errorf("%s at %d, scrolled by %d: what a change does is out of sight", at, width, y)
				}
			}
		}
	}
}
