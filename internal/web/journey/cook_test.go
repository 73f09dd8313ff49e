package journey_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// A bag of iris leaves and a box of washing soda: onto the shelf, into the pot,
// back onto the shelf, and into a making of iris and abaca.
func TestIrisToAMaking(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	s.making()
	open(b, s.url+"/store/new")
	fill(b, "what", "iris leaf")
	fill(b, "amount", "1 kg")
	fill(b, "moisture", "10")
	click(b, ".finish .act", `a[href^="/cooks/new?lot="]`)
	click(b, `a[href^="/cooks/new?lot="]`, `[name="fibre"]`)
	if got := value(b, "fibre") + ", " + value(b, "amount"); !strings.HasPrefix(got, "iris leaf, 1") {
		t.Errorf("of the lot is filled in %q", got)
	}
	b.Do(chromedp.SetValue(chromedp.CSS(`[name="alkali"]`), "washing soda crystals"))
	click(b, ".finish .act", "#answer")
	if got := text(b, "#figure-pot_dry_g .value"); !strings.HasPrefix(got, "900") {
		t.Errorf("%q for the pot", got)
	}
	click(b, `form[action="/cooks"] .finish .act`, ".present .error") // nobody has ticked
	b.Do(chromedp.Click(chromedp.CSS(`[name="heed-1"]`)))
	click(b, `form[action="/cooks"] .finish .act`, "#log")
	for i, entry := range []row{{"at": "00:10"}, {"at": "00:40", "kind": "reading", "temp": "99 °C"}, {"at": "03:10", "kind": "test", "passed": "yes"}, {"at": "04:00", "kind": "rinse", "ph": "7.5"}} {
		for name, typed := range entry {
			switch name {
			case "kind":
				b.Do(chromedp.Click(chromedp.CSS(`[name="kind"][value="` + typed + `"]`)))
			case "passed":
				b.Do(chromedp.SetValue(chromedp.CSS(`[name="passed"]`), typed))
			default:
				fill(b, name, typed)
			}
		}
		click(b, `form[action$="/entries"] .act`, fmt.Sprintf(".history > li:nth-of-type(%d) .when", i+1))
		loaded(b)
	}
	if got := text(b, ".lead"); !strings.Contains(got, "parted after 3") {
		t.Errorf("the log says %q", got)
	}
	b.Do(chromedp.Click(chromedp.CSS("#end > summary")), chromedp.WaitVisible(chromedp.CSS(`[name="wet"]`)))
	fill(b, "wet", "2 kg")
	fill(b, "handful", "100")
	fill(b, "dried", "10")
	fill(b, "left", "0")
	fill(b, "called", "Iris, first cook")
	click(b, "#end .finish .act", "#changed")
	if got := text(b, "h1"); !strings.Contains(got, "200") {
		t.Errorf("cooked, on the shelf: %q", got)
	}
	open(b, s.url+"/papers/new")
	fill(b, "name", "Iris and abaca")
	fill(b, "furnish", "iris leaf 40 cooked, abaca 60")
	fill(b, "grammage", "80 g/m²")
	fill(b, "size", "A4")
	click(b, ".finish .act", "#revisions")
	click(b, `.acts a[href^="/briefs/new"]`, ".questions")
	fill(b, "good", "20")
	click(b, ".finish .act", ".promise")
	if got := text(b, ".steps"); !strings.Contains(got, "Iris, first cook") {
		t.Errorf("the making does not weigh out of the cooked lot: %.600s", got)
	}
	open(b, s.url+"/cooks/new")
	fill(b, "fibre", "iris leaf")
	fill(b, "amount", "500 g")
	click(b, ".finish .act", "#own")
	if got := text(b, "article.cook"); !strings.Contains(got, "You saw") {
		t.Errorf("the next cook does not know the first: %.400s", got)
	}
}

// Nothing that WCAG 2.2 AA asks is broken on the pages of raw fibre, light or
// dark, and after a refusal.
func TestRawFibreAccessible(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	s.making()
	check := func(name string) {
		b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach(d => d.open = true)`))
		for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
			b.View(1000, 900, scheme)
			for _, v := range b.Violations() {
				t.Errorf("%s, %s: %s", name, scheme, v)
			}
		}
	}
	for _, p := range []string{"/cooks", "/cooks/new", "/studio/help", "/handbook/cautions", "/handbook/plants", "/handbook/keeping", "/cooks/new?fibre=kozo&amount=450&alkali=lye&charge=9&water=90"} {
		open(b, s.url+p)
		check(p)
	}
	open(b, s.url+"/cooks/new?fibre=kozo&amount=450&alkali=lye&charge=9")
	check("answered")
	click(b, `form[action="/cooks"] .finish .act`, ".present .error")
	check("nobody ticked")
	b.Do(chromedp.Click(chromedp.CSS(`[name="heed-1"]`)))
	click(b, `form[action="/cooks"] .finish .act`, "#log")
	click(b, `form[action$="/entries"] .act`, ".history .when")
	check("the log")
}
