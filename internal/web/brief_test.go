package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// aBrief writes a brief for the first paper and returns the address of its plan.
func (a *aStudio) aBrief(change url.Values) string {
	a.t.Helper()
	form := filled(a.get("/briefs/new"))
	form.Set("good", "30")
	for k, v := range change {
		form[k] = v
	}
	answer := a.post("/briefs", form)
	if answer.code != http.StatusSeeOther {
		a.t.Fatalf("status %d: %s", answer.code, answer.text(".wrong-summary"))
	}
	return answer.to()
}

func TestBriefComesBackAsWritten(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	plan := a.aBrief(url.Values{
		"size": {"30 x 20 cm"}, "edges": {"trimmed"}, "trim": {"8 mm"}, "confidence": {"95"}, "wanted": {"2030-06-01"},
		"person": {"Invented Bindery"}, "remarks": {"Laid, chain lines the short way."},
	})
	page := a.get(plan)
	for _, want := range []string{"300 × 200 mm", "trimmed", "wanted by 1 June 2030"} {
		if !strings.Contains(page.text(".wish"), want) {
			t.Errorf("the wish %q lacks %q", page.text(".wish"), want)
		}
	}
	if !strings.Contains(page.text(".remarks"), "chain lines the short way") {
		t.Errorf("remarks: %q", page.text(".remarks"))
	}
	form := filled(a.get(plan + "/edit"))
	for field, want := range map[string]string{
		"good": "30", "size": "300 × 200 mm", "edges": "trimmed", "trim": "8\u00a0mm", "confidence": "95", "wanted": "2030-06-01",
		"person": "Invented Bindery", "remarks": "Laid, chain lines the short way.",
	} {
		if got := form.Get(field); got != want {
			t.Errorf("%s comes back as %q, want %q", field, got, want)
		}
	}
	// Sent again as it stands, nothing changes but the revision.
	if to := a.post(plan, form).to(); to != plan {
		t.Errorf("saved again it leads to %q", to)
	}
	if again := filled(a.get(plan + "/edit")); again.Get("size") != form.Get("size") || again.Get("trim") != form.Get("trim") {
		t.Errorf("saving without a change changed it: %v", again)
	}
	if people, _ := a.records.People(t.Context()); len(people) != 1 {
		t.Errorf("%d people, want the one named twice", len(people))
	}
}

func TestBriefWrong(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	for _, c := range []struct{ field, typed, says string }{
		{"good", "", "whole number"}, {"size", "large", "by name"}, {"wanted", "soon", "year-month-day"},
		{"confidence", "sure", "how sure"}, {"confidence", "100", "between 50 and 99.9"}, {"edges", "torn", "deckle or trimmed"}, {"trim", "a bit", "mm"},
	} {
		form := filled(a.get("/briefs/new"))
		form.Set("good", "30")
		form.Set("remarks", "kept")
		form.Set(c.field, c.typed)
		page := a.post("/briefs", form)
		if page.code != http.StatusUnprocessableEntity {
			t.Errorf("%s %q: status %d, want 422", c.field, c.typed, page.code)
			continue
		}
		if got := page.text("#f-" + c.field + "-error"); !strings.Contains(got, c.says) && !strings.Contains(strings.ToLower(got), c.says) {
			t.Errorf("%s %q: at the field %q, want %q in it", c.field, c.typed, got, c.says)
		}
		if page.text("textarea[name=remarks]") != "kept" {
			t.Errorf("%s %q: what was typed elsewhere is lost", c.field, c.typed)
		}
	}
}

func TestBriefChangedElsewhere(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	plan := a.firstEvening()
	mine := filled(a.get(plan + "/edit"))
	theirs := filled(a.get(plan + "/edit"))
	theirs.Set("good", "40")
	a.follow(a.post(plan, theirs))
	mine.Set("good", "50")
	page := a.post(plan, mine)
	if page.code != http.StatusConflict {
		t.Fatalf("status %d, want 409", page.code)
	}
	if got := page.Find("[name=good]").AttrOr("value", ""); got != "50" {
		t.Errorf("what was typed is lost: %q", got)
	}
	if got := page.text(".wrong-summary"); !strings.Contains(got, "was changed") {
		t.Errorf("the summary says %q", got)
	}
}

func TestImpossibleBrief(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	form := filled(a.get("/welcome"))
	form.Set("vat", "1 L")
	form.Set("size", "A2")
	page := a.follow(a.post("/welcome", form))
	if page.code != http.StatusUnprocessableEntity {
		t.Fatalf("A2 from a vat of one litre: status %d, want 422: %s", page.code, page.text("main"))
	}
	if page.text(".lead") == "" || page.Find(`a[href$="/edit"]`).Length() != 1 {
		t.Error("no sentence says why, or no way leads to changing it")
	}
	if page.Find(`form[action$="/makings"]`).Length() != 0 {
		t.Error("a making can be begun from it")
	}
}

// Switching the units changes what is read, and no decision: the sums, which
// stand in the units they are worked out in, are the same.
func TestUnitsChangeNoDecision(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	plan := a.firstEvening()
	sums := func() string {
		var all strings.Builder
		for _, key := range []string{"sheets_to_pull", "fibre_air_dry_g", "recharge_stock_ml", "formed_long_mm"} {
			all.WriteString(a.get(plan + "/sums/" + key).text("[data-sum-body]"))
		}
		return all.String()
	}
	metric, before := sums(), a.get(plan)
	back := a.post("/units", url.Values{"units": {"us"}, "back": {plan}})
	after := a.follow(back)
	if us := sums(); us != metric || us == "" {
		t.Errorf("the sums changed with the units:\n%s\n%s", metric, us)
	}
	if before.text("#figure-sheets_to_pull .value") != after.text("#figure-sheets_to_pull .value") {
		t.Error("the sheets to pull changed with the units")
	}
	if got := after.text("#figure-fibre_air_dry_g .unit"); got != "lb" && got != "oz" {
		t.Errorf("after the switch fibre is weighed out in %q", got)
	}
}

func TestCardIsPrintedAndStandsOnTheBench(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	plan := a.firstEvening()
	if got := a.get("/").text(".place:last-child .line"); !strings.Contains(got, "0 of 20 good sheets, A4") {
		t.Errorf("promised: %q", got)
	}
	card := a.follow(a.post(plan+"/makings", nil))
	if card.code != http.StatusOK || card.head.Get("Content-Type") != "application/pdf" || !strings.HasPrefix(card.raw, "%PDF-") {
		t.Fatalf("card: status %d, %s", card.code, card.head.Get("Content-Type"))
	}
	bench := a.get("/")
	if got := bench.text(".place .line .tagcode"); !regexp.MustCompile(`^[A-Z][0-9]-[0-9][A-Z]$`).MatchString(got) {
		t.Errorf("the making waits under the tag %q", got)
	}
	if got := bench.text(".places"); !strings.Contains(got, "Papers") || !strings.Contains(got, "Makings") {
		t.Errorf("after the first making the places are %q", got)
	}
	page := a.get(plan)
	if page.text(".acts button") != "Begin another making" || page.Find(`.acts a[href$="card.pdf"]`).Length() != 1 {
		t.Errorf("the plan offers %q", page.text(".acts"))
	}
	a.follow(a.post(plan+"/settle", url.Values{"settled": {"yes"}}))
	if got := a.get("/").text(".place:last-child"); !strings.Contains(got, "Nothing is promised") {
		t.Errorf("settled, and still promised: %q", got)
	}
}

func TestPail(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	form := filled(a.get("/pail"))
	form.Set("wet", "12.247 kg")
	page := a.get("/pail?" + form.Encode())
	if page.code != http.StatusOK || page.Find("#figure-sheets_possible .number").Length() != 1 {
		t.Fatalf("status %d: %s", page.code, page.text("main"))
	}
	// Switched to other units, the question asked stays what it was.
	form.Set("wet", "5000")
	metric := a.get("/pail?" + form.Encode())
	a.post("/units", url.Values{"units": {"us"}, "back": {"/"}})
	us := a.get("/pail?" + form.Encode())
	if got := us.Find("[name=wet]").AttrOr("value", ""); got != "5000 g" {
		t.Errorf("5000 g is shown as %q in US units", got)
	}
	if a, b := metric.text("#figure-sheets_possible .number"), us.text("#figure-sheets_possible .number"); a != b || a == "" {
		t.Errorf("the units changed the answer: %q and %q", a, b)
	}
	a.post("/units", url.Values{"units": {"metric"}, "back": {"/"}})
	form.Set("wet", "a bucket")
	page = a.get("/pail?" + form.Encode())
	if page.code != http.StatusUnprocessableEntity || page.Find("[name=wet]").AttrOr("value", "") != "a bucket" {
		t.Errorf("a bucket: status %d, kept %q", page.code, page.Find("[name=wet]").AttrOr("value", ""))
	}
}

// Pages speak of what was measured and how sure it is, never in the words of
// statistics; every figure says what it rests on, every field has a label.
func TestWordsOnPages(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	plan := a.firstEvening()
	a.post(plan+"/makings", nil)
	banned := regexp.MustCompile(`(?i)\b(prior|posterior|belief|quantile|median|credible|stochastic|monte carlo)s?\b`)
	for _, path := range []string{"/", "/welcome", "/briefs/new", "/pail", plan, plan + "/edit", plan + "/sums/sheets_to_pull", "/gallery", "/nowhere"} {
		page := a.get(path)
		if found := banned.FindString(page.text("body")); found != "" {
			t.Errorf("%s says %q", path, found)
		}
		if page.Find("h1").Length() != 1 || page.Find("main").Length() != 1 {
			t.Errorf("%s: %d headings of the page", path, page.Find("h1").Length())
		}
		ids := map[string]bool{}
		page.Find("[id]").Each(func(_ int, s *goquery.Selection) {
			if id := s.AttrOr("id", ""); ids[id] {
				t.Errorf("%s: two things have the id %s", path, id)
			} else {
				ids[id] = true
			}
		})
		page.Find(".figure").Each(func(_ int, s *goquery.Selection) {
			if !strings.Contains(s.Find(".rests").Text(), "rests on") {
				t.Errorf("%s: %s does not say what it rests on", path, s.AttrOr("id", ""))
			}
		})
		page.Find("input:not([type=hidden]):not([type=radio]), select, textarea").Each(func(_ int, s *goquery.Selection) {
			if id := s.AttrOr("id", ""); page.Find(`label[for="`+id+`"]`).Length() != 1 {
				t.Errorf("%s: %s has no label", path, s.AttrOr("name", ""))
			}
		})
	}
}
