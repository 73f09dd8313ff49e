package journey_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// refused is a form with one thing typed wrong: the field, what is typed, and
// what the one sentence at the field says.
type refused struct {
	page, field, typed, says string
	kept                     map[string]string // typed beside it
}

// Every form refuses what cannot be meant with one sentence at the field, and
// keeps all that was typed.
func TestBadInput(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	record := "/makings/" + m.ID + "/record"
	for _, c := range []refused{
		{"/welcome", "good", "a few", "whole number", map[string]string{"size": "A5", "vat": "60 L"}},
		{"/welcome", "fibre", "abaka", "did you mean abaca", map[string]string{"good": "33"}},
		{"/briefs/new", "size", "A44", "write a size by name", map[string]string{"good": "33"}},
		{"/pail", "wet", "two cups", "450 g", map[string]string{"solids_low": "7"}},
		{"/papers/new", "furnish", "cotton rag 70, abaca 20", "must add to 100", map[string]string{"name": "Grey wrapper", "grammage": "80"}},
		{"/papers/new", "furnish", "coton rag", "did you mean cotton rag", map[string]string{"name": "Grey wrapper", "grammage": "80"}},
		{"/papers/new", "grammage", "80 lb", "pounds alone", map[string]string{"name": "Grey wrapper", "furnish": "abaca"}},
		{"/papers/" + m.PaperID + "/edit", "beating", "30 days", "0 to 24 h", map[string]string{"change": "beaten longer"}},
		{"/studio", "vat-1-holds", "two tubs", "write it like", map[string]string{"name": "Reed Lane", "felts": "40"}},
		{"/studio", "rh", "140", "5 to 90 %", map[string]string{"temp": "18"}},
		{record, "test-1-grams", "3 cups", "is a volume", map[string]string{"post-1-couched": "22", "good": "60"}},
		{record, "post-2-couched", "", "were couched", map[string]string{"post-2-kissed": "2", "good": "60"}},
		{record, "size-1-short", "", "short side too", map[string]string{"size-1-long": "418"}},
		{record, "dry-1-rh", "400", "0 and 100", map[string]string{"dry-1-grams": "126"}},
	} {
		open(b, s.url+c.page)
		if c.page == record { // what the case before typed is brought back
			b.Do(chromedp.Evaluate[chromedp.Void](`localStorage.clear()`))
			open(b, s.url+c.page)
		}
		unfold(b)
		for field, typed := range c.kept {
			fill(b, field, typed)
		}
		fill(b, c.field, c.typed)
		click(b, ".finish .act", ".wrong-summary")
		at := `document.querySelector("[name='` + c.field + `']")`
		said := browser.Get(b, chromedp.Evaluate[string](`document.getElementById((`+at+`.getAttribute("aria-describedby")||"").split(" ")[0])?.textContent || ""`))
		if !strings.Contains(strings.ToLower(said), c.says) || strings.Count(strings.TrimRight(said, "."), ". ") > 0 {
			t.Errorf("%s: %s %q: at the field stands %q, want one sentence with %q", c.page, c.field, c.typed, said, c.says)
		}
		if invalid := browser.Get(b, chromedp.Evaluate[string](at+`.getAttribute("aria-invalid") || ""`)); invalid != "true" {
			t.Errorf("%s: %s is not marked as wrong", c.page, c.field)
		}
		c.kept[c.field] = c.typed
		for field, typed := range c.kept {
			if got := value(b, field); got != typed {
				t.Errorf("%s: %s held %q and holds %q", c.page, field, typed, got)
			}
		}
	}
	if got := b.Complaints(); len(got) > 0 {
		for _, c := range got {
			if !strings.Contains(c, "422") { // the browser's own note of the status
				t.Errorf("a page complains: %s", c)
			}
		}
	}
}

// A number that cannot be is refused where it is fixed.
func TestBadNumber(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	s.recorded(m)
	unfold := func() {
		open(b, s.url+"/knows")
		b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("#number-0 details").forEach(d => d.open = true)`))
	}
	unfold()
	b.Do(chromedp.SetValue(chromedp.CSS(`#number-0 [name="value"]`), "900"))
	click(b, `#number-0 form:last-of-type .act`, `#number-0 .error`)
	if got := text(b, "#number-0 .error"); !strings.Contains(got, "from 0 to 60 %") {
		t.Errorf("at the number stands %q", got)
	}
	if got := browser.Get(b, chromedp.Value(chromedp.CSS(`#number-0 [name="value"]`))); got != "900" {
		t.Errorf("the number typed was lost: %q", got)
	}
	b.Do(chromedp.SetValue(chromedp.CSS(`#number-0 [name="value"]`), "2"))
	click(b, `#number-0 form:last-of-type .act`, ".flash")
	if got := text(b, "#number-0 .three"); !strings.Contains(got, "fixed by you") {
		t.Errorf("the number is not fixed: %q", got)
	}
	unfold()
	click(b, `#number-0 form[action="/knows/free"] .act`, ".flash")
	unfold()
	b.Do(chromedp.SetValue(chromedp.CSS(`#number-0 [name="reason"]`), "measured damp"))
	click(b, `#number-0 form[action="/knows/leave"] .act`, "#number-0 s")
	if got := text(b, "#number-0 .three"); strings.Contains(got, "fixed by you") {
		t.Errorf("the number was not let go: %q", got)
	}
}
