package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/studio"
)

func TestNewStudioIsWelcomed(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	if to := a.get("/").to(); to != "/welcome" {
		t.Errorf("a new studio opens on %q, want the first questions", to)
	}
	page := a.get("/welcome")
	if n := page.Find("ol.questions > li").Length(); n == 0 || n > 8 {
		t.Errorf("%d questions, want at most eight", n)
	}
	if n := page.Find("main button").Length(); n != 1 || page.text("main button") != "Make the first card" {
		t.Errorf("%d buttons: %q", n, page.text("main button"))
	}
	if got := page.text(".places"); got != "Bench" {
		t.Errorf("a new studio is shown the places %q, want the bench alone", got)
	}
}

func TestFirstEveningAsItStands(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get(a.firstEvening())
	if page.code != http.StatusOK {
		t.Fatalf("status %d: %s", page.code, page.text("main"))
	}
	if got := page.text(".promise"); !strings.Contains(got, "you get 20 good sheets of this size and weight") {
		t.Errorf("the promise reads %q", got)
	}
	if got := page.text(".wish"); !strings.Contains(got, "A4") || !strings.Contains(got, "100 g/m²") {
		t.Errorf("the wish reads %q", got)
	}
	for _, key := range []string{"fibre_air_dry_g", "sheets_to_pull", "beater_loads", "vat_first_fill_l", "recharge_stock_ml", "posts", "dryer_loads"} {
		if page.Find(".step #figure-"+key+" .number").Length() != 1 {
			t.Errorf("no step shows %s", key)
		}
	}
	if page.Find(".step .caution").Length() == 0 {
		t.Error("no step carries a caution")
	}
	profile, err := a.records.Profile(t.Context())
	if err != nil || !profile.Answered || profile.System != studio.Metric || *profile.Kit.VatL != 80 || *profile.Kit.JugML != 1000 {
		t.Errorf("kept: %+v, fault %v", profile, err)
	}
}

func TestFirstEveningSkipped(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	form := filled(a.get("/welcome"))
	for _, skip := range []string{"fibre", "vat", "jug", "press", "drying"} {
		form.Set(skip, "")
	}
	page := a.follow(a.post("/welcome", form))
	if page.code != http.StatusOK {
		t.Fatalf("status %d: %s", page.code, page.text("main"))
	}
	profile, _ := a.records.Profile(t.Context())
	if profile.Kit.VatL != nil || profile.Kit.JugML != nil || profile.Kit.Press != nil {
		t.Errorf("what was skipped was said all the same: %+v", profile.Kit)
	}
}

// Every paper to begin from leads to a plan.
func TestEveryStartingPaperHasAPlan(t *testing.T) {
	t.Parallel()
	for _, s := range studio.StartingPapers() {
		t.Run(s.Use, func(t *testing.T) {
			t.Parallel()
			a := newStudio(t)
			form := filled(a.get("/welcome"))
			form.Set("paper", s.Use)
			page := a.follow(a.post("/welcome", form))
			if page.code != http.StatusOK || page.Find(".step").Length() < 5 {
				t.Errorf("status %d, %d steps: %s", page.code, page.Find(".step").Length(), page.text(".lead"))
			}
		})
	}
}

func TestFirstEveningInUSUnits(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.lang = "en-US,en;q=0.9"
	page := a.get("/welcome")
	if got := filled(page); got.Get("size") != "Letter" || !strings.Contains(got.Get("vat"), "gal") {
		t.Errorf("defaults %v", got)
	}
	plan := a.get(a.firstEvening())
	if got := plan.text("#figure-fibre_air_dry_g .unit"); got != "lb" && got != "oz" {
		t.Errorf("fibre is weighed out in %q", got)
	}
	profile, _ := a.records.Profile(t.Context())
	// 20 US gal = 20 × 3.785411784 L, exact
	if profile.System != studio.US || profile.Currency != "USD" || *profile.Kit.VatL < 75.70 || *profile.Kit.VatL > 75.71 {
		t.Errorf("kept: %s %s %v L", profile.System, profile.Currency, *profile.Kit.VatL)
	}
}

func TestWrongAnswersKeepWhatWasTyped(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ field, typed, says string }{
		{"size", "A44", "write a size by name"},
		{"good", "some", "whole number"},
		{"good", "0", "between 1 and 20000"},
		{"fibre", "cotton rag 70, abaca 20", "70 + 20 make 90 %"},
		{"fibre", "abacca", "did you mean abaca"},
		{"vat", "big", "L"},
		{"vat", "9000 L", "between"},
		{"jug", "two", "mL"},
		{"press", "-4", "how you press"},
		{"paper", "felt", "what you are making"},
	} {
		t.Run(c.field+" "+c.typed, func(t *testing.T) {
			t.Parallel()
			a := newStudio(t)
			form := filled(a.get("/welcome"))
			form.Set("good", "31")
			form.Set(c.field, c.typed)
			page := a.post("/welcome", form)
			if page.code != http.StatusUnprocessableEntity {
				t.Fatalf("status %d, want 422", page.code)
			}
			if got := page.text("#f-" + c.field + "-error"); !strings.Contains(strings.ToLower(got), strings.ToLower(c.says)) {
				t.Errorf("at the field: %q, want %q in it", got, c.says)
			}
			if link := page.Find(`.wrong-summary a[href="#f-` + c.field + `"]`); link.Length() != 1 {
				t.Error("the summary has no link to the field")
			}
			field := page.Find(`[name="` + c.field + `"]`)
			if field.First().AttrOr("type", "") != "radio" {
				if got := field.AttrOr("value", ""); got != c.typed {
					t.Errorf("typed %q, kept %q", c.typed, got)
				}
				if !strings.Contains(field.AttrOr("aria-describedby", ""), "f-"+c.field+"-error") || field.AttrOr("aria-invalid", "") != "true" {
					t.Error("the field is not tied to its error")
				}
			}
			if got := page.Find(`[name="good"]`).AttrOr("value", ""); c.field != "good" && got != "31" {
				t.Errorf("the other answers were lost: good is %q", got)
			}
			if _, err := a.records.Profile(t.Context()); err != nil {
				t.Fatal(err)
			}
			if papers, _ := a.records.Papers(t.Context(), studio.PaperFilter{}); len(papers) != 0 {
				t.Error("something was saved all the same")
			}
		})
	}
}

func TestUnknownFieldsDoNoHarm(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	if page := a.post("/welcome", url.Values{}); page.code != http.StatusUnprocessableEntity {
		t.Errorf("an empty form: status %d, want 422", page.code)
	}
}

// building are the places whose pages are still to come; take them out here as
// they come.
var building = []string{"/papers", "/makings", "/studio", "/knows"}

// Every address a page names is served, but for the places still to come.
func TestNoDeadLinks(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	plan := a.firstEvening()
	card := a.post(plan+"/makings", nil).to()
	seen := map[string]bool{card: true}
	todo := []string{"/", "/welcome", "/briefs/new", "/pail", plan, plan + "/edit", "/gallery", card}
	for len(todo) > 0 {
		path := todo[0]
		todo = todo[1:]
		page := a.get(path)
		if page.code != http.StatusOK && page.code != http.StatusSeeOther {
			t.Errorf("%s: status %d", path, page.code)
		}
		page.Find("a[href], [data-sum]").Each(func(_ int, s *goquery.Selection) {
			to := s.AttrOr("href", s.AttrOr("data-sum", ""))
			to, _, _ = strings.Cut(to, "#")
			if to == "" || seen[to] || slices.ContainsFunc(building, func(b string) bool { return strings.HasPrefix(to, b) }) {
				return
			}
			seen[to] = true
			todo = append(todo, to)
		})
	}
}
