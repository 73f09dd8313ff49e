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
