package journey_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// Nothing that WCAG 2.2 AA asks is broken on the page of a run looked back on,
// with its numbers unfolded, light or dark, wide or narrow.
func TestRunAccessible(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	s.recorded(m)
	for _, width := range []int{390, 1440} {
		for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
			b.View(width, 900, scheme)
			open(b, s.url+"/makings/"+m.ID+"/run")
			b.Do(chromedp.Click(chromedp.CSS("details.fold > summary")))
			for _, v := range b.Violations() {
				t.Errorf("%d, %s: %s", width, scheme, v)
			}
		}
	}
}
