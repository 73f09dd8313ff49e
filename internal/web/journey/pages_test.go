package journey_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/plan"
	"vatside/internal/testkit/browser"
)

// Nothing that WCAG 2.2 AA asks is broken on any page, light or dark, empty or
// filled, and after a refusal.
func TestAccessible(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	check := func(name string) {
		for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
			b.View(1000, 900, scheme)
			for _, v := range b.Violations() {
				t.Errorf("%s, %s: %s", name, scheme, v)
			}
		}
	}
	for _, p := range []string{"/papers", "/papers/compare", "/makings", "/store", "/knows", "/welcome"} {
		open(b, s.url+p)
		check("empty " + p)
	}
	m := s.making()
	s.recorded(m)
	making, lot := "/makings/"+m.ID, s.shelf(m)
	for _, p := range []string{"/", "/briefs/new", "/briefs/" + m.BriefID, "/briefs/" + m.BriefID + "/edit", "/pail", "/makings", making, making + "/record", making + "/vat", making + "/beating", making + "/beating?target=30", "/store", "/store/new", lot,
		"/papers", "/papers/new", "/papers/" + m.PaperID, "/papers/" + m.PaperID + "/edit", "/papers/design", "/papers/" + m.PaperID + "/design?grammage=150&drying=free", "/papers/" + m.PaperID + "/design?grammage=ten", "/papers/compare", "/studio", "/knows", "/handbook", "/handbook?find=felt", "/handbook/formulas/vat.Consistency?system=metric&g=100&h=900", "/nowhere",
		"/copies", "/intake", "/people", making + "/photos", making + "/labels", making + "/again", making + "/trouble", "/makings/compare", "/papers/" + m.PaperID + "/makings", "/studio/fibres/new",
		"/handbook/formulas", "/handbook/sources", "/handbook/glossary", "/handbook/faults", "/handbook/additives", "/handbook/units", "/handbook/papers", "/handbook/fibres", "/handbook/fibres/abaca"} {
		open(b, s.url+p)
		b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details:not([data-sum]):not(.number-band *), #number-0 details").forEach(d => d.open = true)`))
		check(p)
	}
	open(b, s.url+making+"/record")
	fill(b, "post-1-couched", "")
	fill(b, "post-1-kissed", "2")
	fill(b, "stock-left", "some")
	click(b, ".finish .act", ".wrong-summary")
	check("refused record")
	open(b, s.url+"/studio")
	unfold(b)
	fill(b, "rh", "140")
	click(b, ".finish .act", ".wrong-summary")
	check("refused studio")
	open(b, s.url+"/store/new")
	fill(b, "what", "abaca")
	fill(b, "amount", "a sackful")
	click(b, ".finish .act", ".wrong-summary")
	check("refused lot")
	open(b, s.url+lot)
	fill(b, "amount", "2 kg wet at 40 %")
	click(b, "form[action$=amount] .act", ".wrong-summary")
	check("refused amount")
	open(b, s.url+making+"/beating")
	fill(b, "hours", "a while")
	click(b, "form.wet .act", ".wrong-summary")
	check("refused reading")
}

// unfold opens what is folded, so that its fields can be typed into.
func unfold(b *browser.Browser) {
	b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach(d => d.open = true)`))
}

// No page needs a script to be read or sent.
func TestWithoutScript(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	b.WithoutScript(true)
	b.Open(s.url + "/makings/" + m.ID + "/record")
	b.Do(chromedp.SendKeys(chromedp.CSS(`[name="good"]`), "58"), chromedp.Click(chromedp.CSS(`[name="more"]`)), chromedp.WaitVisible(chromedp.CSS(`[name="post-5-couched"]`)))
	b.Do(chromedp.SendKeys(chromedp.CSS(`[name="post-5-couched"]`), "3"))
	click(b, ".finish .act", ".making")
	if got := text(b, ".making"); !strings.Contains(got, "58 good") || !strings.Contains(got, "Post 5: 3 sheets couched") {
		t.Errorf("the record without script: %.400q", got)
	}
}

// Switching units changes words only: the plan of a brief is the same to the
// last digit, and so is what a form gives back untouched.
func TestUnits(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	s.recorded(m)
	answer := func() (plan.Request, plan.Plan, int, int) {
		brief, err := s.records.Brief(t.Context(), m.BriefID)
		if err != nil {
			t.Fatal(err)
		}
		r, p, err := s.records.PlanBrief(t.Context(), brief)
		if err != nil {
			t.Fatal(err)
		}
		events, err := s.records.Events(t.Context(), m.ID)
		if err != nil {
			t.Fatal(err)
		}
		profile, err := s.records.Profile(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return r, p, len(events), profile.Revision
	}
	open(b, s.url+"/studio") // what the first evening wrote is brought into lists
	click(b, ".finish .act", ".flash")
	request, before, events, _ := answer()
	open(b, s.url+"/briefs/"+m.BriefID)
	metric := text(b, "#figure-fibre_air_dry_g .value")
	click(b, `.units [value="us"]`, `.units [value="us"][aria-pressed="true"]`)
	if us := text(b, "#figure-fibre_air_dry_g .value"); us == metric || !strings.Contains(us, "lb") && !strings.Contains(us, "oz") {
		t.Errorf("in US units the fibre is %q, in metric %q", us, metric)
	}
	for _, p := range []string{"/makings/" + m.ID + "/record", "/papers/" + m.PaperID + "/edit", "/studio"} {
		open(b, s.url+p)
		click(b, ".finish .act", ".flash")
	}
	after, now, eventsNow, revision := answer()
	if same(t, request.Paper) != same(t, after.Paper) || same(t, request.Studio) != same(t, after.Studio) {
		t.Errorf("saved untouched in US units, the request changed:\n%s\n%s", same(t, request), same(t, after))
	}
	if eventsNow != events {
		t.Errorf("the record saved untouched in US units made %d entries", eventsNow-events)
	}
	if revision < 3 {
		t.Error("the studio was not saved")
	}
	if same(t, before.Figures) != same(t, now.Figures) {
		t.Error("the plan's figures changed with the units")
	}
}

func same(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
