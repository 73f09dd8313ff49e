package journey_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// A fibre of the studio's own, begun from one of the handbook; a paper of it;
// and a plan that rests on its numbers.
func TestOwnFibre(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	s.making()
	open(b, s.url+"/handbook/fibres/flax")
	click(b, `form[action="/studio/fibres/new"] button`, `[name="name"]`)
	if got := value(b, "like"); got != "flax" {
		t.Errorf("it begins from %q", got)
	}
	fill(b, "name", "ditch flax")
	b.Do(chromedp.Click(chromedp.CSS("details.kit:nth-of-type(3) > summary")), chromedp.WaitVisible(chromedp.CSS(`[name="shrink_most"]`)))
	fill(b, "shrink_start", "0")
	fill(b, "shrink_most", "60")
	click(b, ".finish .act", ".wrong-summary")
	if got := text(b, "#f-shrink_most-error"); !strings.Contains(got, "between 0 and 45 %") || value(b, "name") != "ditch flax" {
		t.Errorf("refused with %q", got)
	}
	// Written out it means the same after the units are switched.
	fill(b, "shrink_start", "0–0")
	fill(b, "shrink_most", "0.3 (0.2–0.4)")
	b.Do(chromedp.Click(chromedp.CSS("details.kit:nth-of-type(4) > summary")), chromedp.WaitVisible(chromedp.CSS(`[name="length"]`)))
	fill(b, "length", "5–8 mm")
	click(b, `.units [value="us"]`, `.units [value="us"][aria-pressed="true"]`)
	loaded(b)
	if got := value(b, "name") + ", " + value(b, "shrink_most") + ", " + value(b, "length"); got != "ditch flax, 0.3 (0.2–0.4), 5–8 mm" {
		t.Errorf("after the units are switched it says %q", got)
	}
	click(b, ".finish .act", "#used")

	open(b, s.url+"/studio")
	b.Do(chromedp.Click(chromedp.CSS("#kit-fibres > summary")), chromedp.WaitVisible(chromedp.CSS("#kit-fibres .own a")))
	if got := text(b, "#kit-fibres .own"); got != "ditch flax like flax" {
		t.Errorf("the page of the studio lists %q", got)
	}
	open(b, s.url+"/papers/new")
	fill(b, "name", "Ditch text")
	fill(b, "furnish", "ditch flax")
	fill(b, "grammage", "100 g/m²")
	fill(b, "size", "A4")
	b.Do(chromedp.SetValue(chromedp.CSS(`[name="drying"]`), "free"))
	click(b, ".finish .act", "#revisions")
	click(b, `.acts a[href^="/briefs/new"]`, ".questions")
	fill(b, "good", "20")
	click(b, ".finish .act", ".promise")
	if got := s.plans("Ditch text").RestsOn; !slices.ContainsFunc(got, func(p plan.Prior) bool { return p.Key == "shrink_long_pct" && math.Abs(p.Value) < 0.5 }) {
		t.Errorf("the plan does not rest on a fibre that hardly shrinks: %+v", got)
	}
	if got := text(b, ".wish"); !strings.Contains(got, "ditch flax") {
		t.Errorf("the plan is for %q", got)
	}
	refused := func(said string) bool { return strings.Contains(said, "422") } // as it was meant to be, above
	if got := slices.DeleteFunc(b.Complaints(), refused); len(got) > 0 {
		t.Errorf("the pages complain: %q", got)
	}
}

// plans is the plan of the only brief for a paper.
func (s *site) plans(paper string) plan.Plan {
	s.t.Helper()
	papers, err := s.records.Papers(s.t.Context(), studio.PaperFilter{Name: paper})
	if err != nil || len(papers) != 1 {
		s.t.Fatalf("%d papers, %v", len(papers), err)
	}
	briefs, err := s.records.Briefs(s.t.Context(), studio.BriefFilter{PaperID: papers[0].ID})
	if err != nil || len(briefs) != 1 {
		s.t.Fatalf("%d briefs, %v", len(briefs), err)
	}
	_, answer, err := s.records.PlanBrief(s.t.Context(), briefs[0])
	if err != nil {
		s.t.Fatal(err)
	}
	return answer
}
