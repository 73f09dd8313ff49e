package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/studio"
)

// made is a studio with one making whose sheets came out at another weight than
// meant, with a remark; and how heavy they are.
func made(t *testing.T) (a *aStudio, m studio.Making, grammage float64) {
	t.Helper()
	a, m = begun(t)
	area := m.Request.Sheet.LongMM * m.Request.Sheet.ShortMM / 1e6
	grammage = m.Request.Paper.GrammageConditioned * 1.2
	a.write(m.ID, "first", studio.Post{Post: 1, Pulled: 20}, studio.WeighedDry{Sheets: 10, Grams: 10 * grammage * area, RHPct: 50},
		studio.DrySize{LongMM: m.Request.Sheet.LongMM, ShortMM: m.Request.Sheet.ShortMM}, studio.Remark{Text: "petals of a blue iris"}, studio.Caliper{ThicknessMM: []float64{0.2}})
	return a, m, grammage
}

// write writes entries down.
func (a *aStudio) write(making, id string, bodies ...studio.Body) {
	a.t.Helper()
	for i, b := range bodies {
		e := studio.NewEvent(fmt.Sprintf("%s-%d", id, i), morning.Add(time.Duration(i)*time.Minute), b)
		if _, err := a.records.Record(a.t.Context(), making, e); err != nil {
			a.t.Fatal(err)
		}
	}
}

// Made again, a paper is as it was made, not as it was meant: the difference is
// shown, becomes a revision with the reason, and the brief is for that. Left
// unticked, the brief is for the design as it was meant.
func TestAgain(t *testing.T) {
	t.Parallel()
	a, m, grammage := made(t)
	address := "/makings/" + m.ID + "/again"
	page := a.get(address)
	if got := page.text(".options"); page.code != http.StatusOK || !strings.Contains(got, "Grammage") || !strings.Contains(got, "meant were") {
		t.Fatalf("%d: %q", page.code, got)
	}
	if page.text("table") == "" {
		t.Error("nothing says what it does")
	}
	form := filled(page)
	form.Set("good", "33")
	sent := a.post(address, form)
	if sent.code != http.StatusSeeOther || !strings.HasPrefix(sent.to(), "/briefs/") {
		t.Fatalf("%d to %q: %s", sent.code, sent.to(), sent.text(".wrong-summary"))
	}
	b, err := a.records.Brief(t.Context(), strings.TrimPrefix(sent.to(), "/briefs/"))
	if err != nil || b.GoodSheets != 33 || b.PaperRevision != m.PaperRevision+1 || !strings.Contains(b.Remarks, m.Tag) {
		t.Fatalf("the brief is %+v, %v", b, err)
	}
	pa := a.present(m.PaperID)
	if !about(pa.Design.GrammageConditioned, grammage) || !strings.Contains(pa.Change, m.Tag) || !strings.Contains(pa.Change, "grammage") {
		t.Errorf("the paper is %g g/m², changed %q; want %g", pa.Design.GrammageConditioned, pa.Change, grammage)
	}
	if s := a.get(sent.to()); s.code != http.StatusOK {
		t.Errorf("its plan: %d", s.code)
	}

	// As it was meant, and the paper has a newer revision by now.
	page = a.get(address + "?asked=1&good=20")
	if got := page.text(".opening"); !strings.Contains(got, "revision "+strconv.Itoa(m.PaperRevision)) {
		t.Errorf("nothing says that the paper was changed: %q", got)
	}
	if page.Find(`input[name="take"][checked]`).Length() != 0 {
		t.Error("what was unticked is ticked again")
	}
	sent = a.post(address, url.Values{"asked": {"1"}, "good": {"20"}})
	b, err = a.records.Brief(t.Context(), strings.TrimPrefix(sent.to(), "/briefs/"))
	if err != nil || b.PaperRevision != m.PaperRevision {
		t.Errorf("as meant: %+v, %v", b, err)
	}
	if now := a.present(m.PaperID); now.Revision != pa.Revision {
		t.Errorf("a revision was written for nothing")
	}
	for _, bad := range []string{"", "0", "many", "-3", "1e9"} {
		if s := a.get(address + "?asked=1&good=" + bad); s.code != http.StatusUnprocessableEntity || s.text("#f-good-error") == "" {
			t.Errorf("%q good sheets: %d %q", bad, s.code, s.text("#f-good-error"))
		}
	}
}

// Made again, the paper keeps the size it is usually made in: the size of one
// making is its brief's. Switching the units keeps what was ticked.
func TestAgainKeepsTheSize(t *testing.T) {
	t.Parallel()
	a, m, _ := made(t)
	pa := a.present(m.PaperID)
	pa.Sheet.LongMM += 50
	pa = a.saved(pa)
	address := "/makings/" + m.ID + "/again"
	page := a.get(address + "?asked=1&good=20&take=beating&take=grammage")
	back, err := url.Parse(page.Find(`.units input[name="back"]`).AttrOr("value", ""))
	if got := back.Query(); err != nil || back.Path != address || got.Get("good") != "20" || len(got["take"]) != 2 {
		t.Errorf("the unit switch goes back to %q, %v", back, err)
	}
	sent := a.post(address, filled(a.get(address)))
	b, err := a.records.Brief(t.Context(), strings.TrimPrefix(sent.to(), "/briefs/"))
	if err != nil || b.Sheet != m.Request.Sheet {
		t.Errorf("the brief is for %+v, want %+v, %v", b.Sheet, m.Request.Sheet, err)
	}
	if now := a.present(m.PaperID); now.Revision != pa.Revision+1 || now.Sheet != pa.Sheet {
		t.Errorf("revision %d of the paper is %+v, want %+v", now.Revision, now.Sheet, pa.Sheet)
	}
}

// A making whose record tells nothing is made again as it was meant.
func TestAgainWithoutRecord(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	page := a.get("/makings/" + m.ID + "/again")
	if page.code != http.StatusOK || page.Find(`input[name="take"]`).Length() != 0 {
		t.Fatalf("%d, %q", page.code, page.text(".options"))
	}
	if got := page.text("#does + .main .lead"); got != "" || !strings.Contains(page.text("#does + .main"), "the same") {
		t.Errorf("the same brief on the same day does otherwise: %q", got)
	}
}

// A sheet in the hand leads to its making: by words, by what it is like, by its
// tag typed into the same box; each match says why.
func TestFindPage(t *testing.T) {
	t.Parallel()
	a, m, grammage := made(t)
	first := func(query url.Values) (href, why string) {
		t.Helper()
		s := a.get("/makings?" + query.Encode())
		if s.code != http.StatusOK {
			t.Fatalf("%v: %d %s", query, s.code, s.text(".error"))
		}
		href, _ = s.Find("a.line").First().Attr("href")
		return href, s.text("a.line .why")
	}
	g := strconv.FormatFloat(grammage, 'f', 0, 64)
	for want, query := range map[string]url.Values{
		"“blue” in its record":     {"words": {"blue"}},
		"no “marigold”":            {"words": {"iris marigold"}},
		"a word for blue":          {"colour": {"blue"}},
		"no word for red":          {"colour": {"red"}, "words": {"iris"}},
		m.Progress.Furnish:         {"fibre": {m.Progress.Furnish}},
		"g/m²":                     {"grammage": {g}},
		"0.2":                      {"caliper": {"0.2 mm"}},
		"made then":                {"from": {"2030-05-01"}, "to": {"2030-05-03"}},
		"thicker; “blue”":          {"caliper": {"0.15"}, "words": {"blue"}},
		"not marble but":           {"fibre": {"marble"}, "words": {"blue"}},
		"“petals”, “iris” in its ": {"words": {"petals, iris"}},
	} {
		if href, why := first(query); href != "/makings/"+m.ID || !strings.Contains(why, want) {
			t.Errorf("%v finds %q because %q, want %q", query, href, why, want)
		}
	}
	if s := a.get("/makings?words=" + m.Tag); s.to() != "/makings/"+m.ID {
		t.Errorf("its tag leads to %q", s.to())
	}
	if s := a.get("/makings?words=marigold"); s.code != http.StatusOK || !strings.Contains(s.text(".error"), "Nothing fits") {
		t.Errorf("%d %q", s.code, s.text(".error"))
	}
	for field, typed := range map[string]string{"grammage": "heavy", "caliper": "-1", "from": "last spring", "to": "2030-13-01"} {
		s := a.get("/makings?" + url.Values{field: {typed}, "words": {"<b>blue"}}.Encode())
		if s.code != http.StatusUnprocessableEntity || s.text("#f-"+field+"-error") == "" {
			t.Errorf("%s %q: %d %q", field, typed, s.code, s.text("#f-"+field+"-error"))
		}
		if v, _ := s.Find("#f-words").Attr("value"); v != "<b>blue" {
			t.Errorf("typed words are %q", v)
		}
	}
}

// The makings of a paper stand together, and two of them side by side.
func TestHistory(t *testing.T) {
	t.Parallel()
	a, m, _ := made(t)
	area := m.Request.Sheet.LongMM * m.Request.Sheet.ShortMM / 1e6
	for i := range 12 {
		again, err := a.records.StartMaking(t.Context(), m.BriefID, m.Request, m.Plan)
		if err != nil {
			t.Fatal(err)
		}
		g := 100 + float64(i%2)
		if i == 4 {
			g = 200 // one that fell out
		}
		if i == 11 { // the newest: sheets are pulled, and none weighed
			a.write(again.ID, "h11", studio.Post{Post: 1, Pulled: 20}, studio.StepTime{Step: m.Plan.Steps[0].Name, Minutes: 165})
			continue
		}
		a.write(again.ID, "h"+strconv.Itoa(i), studio.Post{Post: 1, Pulled: 20}, studio.WeighedDry{Sheets: 10, Grams: 10 * g * area, RHPct: 50})
	}
	page := a.get("/papers/" + m.PaperID + "/makings")
	rows := page.Find("table").First().Find("tbody tr").Length()
	if page.code != http.StatusOK || page.Find(".chart").Length() == 0 || rows != 13 {
		t.Fatalf("%d: %d charts, %d rows", page.code, page.Find(".chart").Length(), rows)
	}
	if got := page.text(".chart"); !strings.Contains(got, "larger step than chance") || !strings.Contains(got, "lies outside") || !strings.Contains(got, "middle") {
		t.Errorf("one making of 200 g/m² among those of 100 is passed over: %q", got)
	}
	if got := page.Find("tbody tr").First().Find("td").First().Text(); got != "–" {
		t.Errorf("a making nobody weighed weighs %q", got)
	}
	if got := page.Find("tbody tr").First().Text(); !strings.Contains(got, "165") {
		t.Errorf("of 165 min by hand it says %q", got)
	}
	side := a.get("/makings/compare")
	if side.code != http.StatusOK || !strings.Contains(side.text("table"), "Pulled") || !strings.Contains(side.text("table"), "Grammage–") {
		t.Errorf("%d: %q", side.code, side.text("table"))
	}
	if s := a.get("/makings/compare?a=" + m.Tag + "&b=" + m.Tag); !strings.Contains(s.text(".sides"), "petals of a blue iris") {
		t.Errorf("remarks: %q", s.text(".sides"))
	}
	for _, bad := range []string{"zz", "A2-2A", "<b>"} {
		if s := a.get("/makings/compare?" + url.Values{"a": {m.Tag}, "b": {bad}}.Encode()); s.code != http.StatusUnprocessableEntity || s.text("#f-b-error") == "" {
			t.Errorf("%q: %d %q", bad, s.code, s.text("#f-b-error"))
		}
	}
}

// Without makings there is nothing to compare, and the pages say so.
func TestHistoryOfNothing(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(func(*studio.Paper) {})
	if s := a.get("/papers/" + p.ID + "/makings"); s.code != http.StatusOK || !strings.Contains(s.text(".empty"), "not been made") {
		t.Errorf("%d %q", s.code, s.text(".empty"))
	}
	if s := a.get("/makings/compare"); s.code != http.StatusNotFound {
		t.Errorf("%d", s.code)
	}
}

// A long list goes on from page to page, and every making stands on one.
func TestMakingsPageByPage(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	for range 120 {
		if _, err := a.records.StartMaking(t.Context(), m.BriefID, m.Request, m.Plan); err != nil {
			t.Fatal(err)
		}
	}
	seen := map[string]bool{}
	pages := 0
	for at, ok := "/makings", true; ok; pages++ {
		s := a.get(at)
		if s.code != http.StatusOK || pages > 2 {
			t.Fatalf("%s: %d, page %d", at, s.code, pages)
		}
		s.Find("a.line .tagcode").Each(func(_ int, tag *goquery.Selection) { seen[tag.Text()] = true })
		at, ok = s.Find(".acts a").Attr("href")
	}
	if len(seen) != 121 || pages != 2 {
		t.Errorf("%d makings on %d pages, want 121 on 2", len(seen), pages)
	}
}
