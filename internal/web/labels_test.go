package web_test

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"vatside/internal/studio"
)

// printed is the text of a PDF that a page sent.
func (a *aStudio) printed(address string) (text, file string) {
	a.t.Helper()
	s := a.get(address)
	if s.code != http.StatusOK || s.head.Get("Content-Type") != "application/pdf" {
		a.t.Fatalf("%s: %d %s", address, s.code, s.head.Get("Content-Type"))
	}
	file = filepath.Join(a.t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, []byte(s.raw), 0o600); err != nil {
		a.t.Fatal(err)
	}
	return string(run(a.t, "pdftotext", "-layout", file, "-")), file
}

// Tags carry the code that finds the making; what goes out of the studio
// carries none. What was measured is said with its method, and what was not is
// said too.
func TestLabels(t *testing.T) {
	t.Parallel()
	a, m, _ := made(t)
	base := "/makings/" + m.ID + "/labels"
	tags, file := a.printed(base + ".pdf?kind=tags&count=3")
	if link, err := url.Parse(scanned(t, file)); err != nil || a.get(link.RequestURI()).to() != "/makings/"+m.ID {
		t.Errorf("the code leads to %v, %v", link, err)
	}
	if !strings.Contains(tags, m.Tag) || !strings.Contains(tags, m.PaperName) {
		t.Errorf("a tag says %q", tags)
	}
	swatch, _ := a.printed(base + ".pdf?kind=swatches&count=13&paper=letter")
	if n := strings.Count(swatch, m.Tag); n != 13 || strings.Count(swatch, "\f") != 2 {
		t.Errorf("%d swatch labels on %d pages, want 13 on 2", n, strings.Count(swatch, "\f"))
	}
	a.write(m.ID, "ink", studio.Cobb{DryG: 1, WetG: 1.25, AreaCM2: 100, Seconds: 60})
	sure, _ := a.printed(base + ".pdf?kind=certificate")
	for _, want := range []string{"Grammage", "10 sheets weighed", "25 g/m²", "ISO 535", "Not", "pH"} {
		if !strings.Contains(sure, want) && !strings.Contains(strings.ToUpper(sure), strings.ToUpper(want)) {
			t.Errorf("what was measured lacks %q:\n%s", want, sure)
		}
	}
	if got := strings.ToLower(sure); !strings.Contains(got, "not measured") || !strings.Contains(got, "how it takes ink") {
		t.Errorf("what was not measured is not said:\n%s", sure)
	}
	about, _ := a.printed(base + ".pdf?kind=provenance")
	if !strings.Contains(about, m.PaperName) || !strings.Contains(about, "g/m²") || strings.Contains(about, "http") {
		t.Errorf("what the paper is:\n%s", about)
	}
}

// What was not measured is never told as if it were: area from a size that was
// only wanted, the design's hours and size, a Cobb test outside its bounds, and
// a sheet that shrank in the bath.
func TestLabelsSayWhatWasMeant(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	base := "/makings/" + m.ID + "/labels.pdf?kind="
	area := m.Request.Sheet.LongMM * m.Request.Sheet.ShortMM / 1e6
	a.write(m.ID, "weighed", studio.WeighedDry{Sheets: 5, Grams: 5 * 40 * area, RHPct: 50}, studio.Caliper{ThicknessMM: []float64{0.1}},
		studio.Cobb{DryG: 1, WetG: 1.25, AreaCM2: 100, Seconds: 60},
		studio.Soaked{BeforeLongMM: 300, WetLongMM: 306, BeforeShortMM: 200, WetShortMM: 197})
	sure := words(a.printed(base + "certificate"))
	if strings.Contains(sure, "area by rule") || strings.Count(sure, "from the size wanted") != 2 {
		t.Errorf("an area nobody measured is told as measured:\n%s", sure)
	}
	if !strings.Contains(sure, "Outside the test:") { // for sized paper alone (iso-535)
		t.Errorf("a Cobb test of waterleaf is not told to be outside the test:\n%s", sure)
	}
	if !strings.Contains(sure, "2\u202f%") && !strings.Contains(sure, "2 %") || !strings.Contains(sure, "1.5") || !strings.Contains(sure, "below nothing") {
		t.Errorf("growth of 2 %% and shrinkage of 1.5 %% (306 to 300 mm, 197 to 200 mm) is not told:\n%s", sure)
	}
	about := words(a.printed(base + "provenance"))
	if !strings.Contains(about, "mm as planned") {
		t.Errorf("the size is told as measured:\n%s", about)
	}
	a.write(m.ID, "sized", studio.DrySize{LongMM: m.Request.Sheet.LongMM, ShortMM: m.Request.Sheet.ShortMM}, studio.BeatReading{Load: 1, Hours: 3.75, Roll: "light"})
	about = words(a.printed(base + "provenance"))
	if strings.Contains(about, "as planned") || !strings.Contains(about, "3.8 h") {
		t.Errorf("what was measured is told as planned, or the hours are rounded to halves:\n%s", about)
	}
}

// words are a print's words in one line.
func words(text, _ string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' }), " ")
}

// A US reader gets Letter from the link too, unless A4 was chosen.
func TestLabelsOnPaper(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	p, err := a.records.Profile(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	p.System = "us"
	if _, err := a.records.SaveProfile(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	for query, want := range map[string]string{"": "612 x 792", "?asked=1&paper=a4": "595.28 x 841.89"} { // pt: 8.5 × 11 in; A4 of ISO 216
		link, _ := a.get("/makings/" + m.ID + "/labels" + query).Find("footer a.act").Attr("href")
		_, file := a.printed(link)
		if got := string(run(t, "pdfinfo", file)); !strings.Contains(got, want) {
			t.Errorf("%q leads to %s, want %s:\n%s", query, link, want, got)
		}
	}
}

// The page says how much paper it takes and refuses what cannot be counted.
func TestLabelsAsked(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	base := "/makings/" + m.ID + "/labels"
	if s := a.get(base + "?kind=swatches&count=80&paper=letter&asked=1"); !strings.Contains(s.text("footer"), "7 sheets of Letter") {
		t.Errorf("%d: %q", s.code, s.text("footer"))
	}
	for _, bad := range []string{"0", "-1", "many", "99999999"} {
		s := a.get(base + "?asked=1&count=" + bad)
		if s.code != http.StatusUnprocessableEntity || s.text("#f-count-error") == "" {
			t.Errorf("%q: %d %q", bad, s.code, s.text("#f-count-error"))
		}
		if s := a.get(base + ".pdf?count=" + bad); s.code < 400 || s.code >= 500 {
			t.Errorf("%q labels are printed: %d", bad, s.code)
		}
	}
	if text, _ := a.printed(base + ".pdf?kind=certificate"); !strings.Contains(strings.ToLower(text), "not measured") {
		t.Errorf("of a making not made yet:\n%s", text)
	}
}

// Labels of several makings go on the same sheets, each as often as was asked,
// and each code leads to its own making; a swatch page takes each once.
func TestLabelsOfSeveral(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	other := a.another(m)
	page := a.get("/labels?of=" + m.PaperID)
	if n := page.Find(".pick-line").Length(); page.code != http.StatusOK || n != 2 || page.Find("footer a.act").Length() != 0 {
		t.Fatalf("%d, %d makings on offer, or something to print before one is ticked", page.code, n)
	}
	q := url.Values{"making": {m.ID, other.ID}, "n-" + m.ID: {"5"}, "each": {"2"}, "paper": {"a4"}}
	chosen := a.get("/labels?" + q.Encode())
	link, _ := chosen.Find("footer a.act").Attr("href")
	if !strings.Contains(chosen.text("footer"), "1 sheet of A4") || chosen.Find("input[type=checkbox][checked]").Length() != 2 {
		t.Errorf("%d: %q", chosen.code, chosen.text("footer"))
	}
	text, file := a.printed(link)
	if strings.Count(text, m.Tag) != 5 || strings.Count(text, other.Tag) != 2 {
		t.Errorf("%d of %s and %d of %s, want 5 and 2", strings.Count(text, m.Tag), m.Tag, strings.Count(text, other.Tag), other.Tag)
	}
	got := a.sendPicture(run(t, "pdftoppm", "-r", "150", "-png", "-singlefile", file))
	if got.code != http.StatusOK || got.Find("a.line").Length() != 2 {
		t.Errorf("a picture of the whole sheet: %d, %d makings", got.code, got.Find("a.line").Length())
	}
	q.Set("kind", "swatch page")
	swatches, file := a.printed("/labels.pdf?" + q.Encode())
	if strings.Count(swatches, m.Tag) != 1 || strings.Count(swatches, other.Tag) != 1 || strings.Count(swatches, "\f") != 1 {
		t.Errorf("the swatch page says:\n%s", swatches)
	}
	if got := a.sendPicture(run(t, "pdftoppm", "-r", "150", "-png", "-singlefile", file)); got.Find("a.line").Length() != 2 {
		t.Errorf("a picture of the swatch page: %d makings", got.Find("a.line").Length())
	}
	if one, _ := a.printed("/makings/" + m.ID + "/labels.pdf?kind=swatch+page&count=9"); strings.Count(one, m.Tag) != 1 {
		t.Errorf("the swatch page of one making says:\n%s", one)
	}
	for bad, want := range map[string]int{"making=nobody": 404, "making=" + m.ID + "&n-" + m.ID + "=many": 422, "making=" + m.ID + "&each=1999&making=" + other.ID: 422} {
		if s := a.get("/labels?" + bad); s.code != want {
			t.Errorf("%q: %d, want %d", bad, s.code, want)
		}
		if s := a.get("/labels.pdf?" + bad); s.code != want {
			t.Errorf("%q is printed: %d, want %d", bad, s.code, want)
		}
	}
	// what is no number is told beside a making that is not ticked, too
	s := a.get("/labels?making=" + m.ID + "&n-" + other.ID + "=many")
	if s.code != http.StatusUnprocessableEntity || s.text(".pick-line.wrong .error") == "" || s.Find("input[name=n-"+other.ID+"]").AttrOr("value", "") != "many" ||
		s.Find(`.wrong-summary a[href="#f-n-`+other.ID+`"]`).Length() != 1 {
		t.Errorf("letters beside what is not ticked: %d, %q", s.code, s.text(".wrong-summary"))
	}
	if s := a.get("/labels.pdf"); s.code != http.StatusUnprocessableEntity {
		t.Errorf("labels of nothing are printed: %d", s.code)
	}
}
