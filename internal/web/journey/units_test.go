package journey_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// Switching the units in the middle of a form loses nothing that was typed: a
// bare number keeps the unit it was typed in, and what nobody touched is shown
// in the new units.
func TestSwitchingUnitsInTheMiddle(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	units := func(system string) {
		t.Helper()
		click(b, `.units [value="`+system+`"]`, `.units [value="`+system+`"][aria-pressed="true"]`)
		loaded(b)
	}
	holds := func(where string, want map[string]string) {
		t.Helper()
		for field, text := range want {
			if got := value(b, field); got != text {
				t.Errorf("%s: %s holds %q, want %q", where, field, got, text)
			}
		}
	}
	chosen := func(name string) string {
		return browser.Get(b, chromedp.Evaluate[string](`document.querySelector('[name="`+name+`"]:checked').closest("label").querySelector("b").textContent`))
	}
	open(b, s.url+"/welcome")
	units("metric")
	for field, text := range map[string]string{"vat": "60", "fibre": "abaca", "good": "33", "size": "300 x 200"} {
		fill(b, field, text)
	}
	b.Do(chromedp.Click(chromedp.CSS(`.option:has([name="press"][value="117.68"])`)), // 12 t × 9.80665 kN
		chromedp.Click(chromedp.CSS(`.option:has([name="paper"][value="cover"])`)))
	units("us")
	holds("welcome", map[string]string{"vat": "60 L", "fibre": "abaca", "good": "33", "size": "300 x 200 mm", "jug": "1 qt"})
	if press, paper := chosen("press"), chosen("paper"); press != "12 ton jack" || paper != "Cover" {
		t.Errorf("chosen are %q and %q", press, paper)
	}
	units("metric")
	holds("welcome, back again", map[string]string{"vat": "60 L", "size": "300 x 200 mm", "jug": "1000 mL"})
	if left := browser.Get(b, chromedp.Evaluate[int](`sessionStorage.length`)); left != 0 {
		t.Errorf("%d forms are still kept", left)
	}
	// A form that was refused keeps all of it, more rows too.
	s.making()
	open(b, s.url+"/studio")
	unfold(b)
	fill(b, "vat-1-holds", "60")
	click(b, `[name="do"][value="mould.add"]`, `[name="mould-1-size"]`)
	fill(b, "mould-1-size", "430 x 310")
	fill(b, "temp", "warm")
	units("us")
	holds("studio", map[string]string{"vat-1-holds": "60 L", "mould-1-size": "430 x 310 mm", "temp": "warm"})
	if got := b.Complaints(); len(got) > 0 {
		t.Errorf("the pages complain: %q", got)
	}
}

// Enter in a blank saves, though other buttons stand before the one that does;
// without script too.
func TestEnterSaves(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	b.WithoutScript(true)
	b.Open(s.url + "/studio")
	b.Do(chromedp.SetValue(chromedp.CSS(`[name="name"]`), "Sedge Yard"), chromedp.Focus(chromedp.CSS(`[name="name"]`)), chromedp.KeyEvent("\r"),
		chromedp.WaitVisible(chromedp.CSS(".flash")))
	if p, err := s.records.Profile(t.Context()); err != nil || p.Name != "Sedge Yard" {
		t.Errorf("the studio is called %q, %v", p.Name, err)
	}
	b.Open(s.url + "/makings/" + m.ID + "/record")
	b.Do(chromedp.SetValue(chromedp.CSS(`[name="good"]`), "61"), chromedp.Focus(chromedp.CSS(`[name="good"]`)), chromedp.KeyEvent("\r"),
		chromedp.WaitVisible(chromedp.CSS(".making")))
	if st, err := s.records.State(t.Context(), m.ID); err != nil || st.Grades.Good != 61 {
		t.Errorf("%d good are recorded, %v", st.Grades.Good, err)
	}
}
