package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/fibre"
	"vatside/internal/handbook"
	"vatside/internal/web/part"
)

// sound holds what every page of the handbook keeps to.
func sound(t *testing.T, path string, page sheet) {
	t.Helper()
	if page.code != http.StatusOK {
		t.Fatalf("%s: status %d: %s", path, page.code, page.text("main"))
	}
	if found := regexp.MustCompile(`(?i)\b(prior|posterior|belief|quantile|median|fault\.)s?\b`).FindString(page.text("body")); found != "" {
		t.Errorf("%s says %q", path, found)
	}
	if page.Find("h1").Length() != 1 || page.text("h1") == "" {
		t.Errorf("%s: %d headings of the page", path, page.Find("h1").Length())
	}
	ids := map[string]bool{}
	page.Find("[id]").Each(func(_ int, s *goquery.Selection) {
		if id := s.AttrOr("id", ""); ids[id] || strings.Contains(id, " ") {
			t.Errorf("%s: the id %q stands twice, or has a space", path, id)
		} else {
			ids[id] = true
		}
	})
	page.Find("main input:not([type=hidden]), main select").Each(func(_ int, s *goquery.Selection) {
		if page.Find(`label[for="`+s.AttrOr("id", "")+`"]`).Length() != 1 {
			t.Errorf("%s: %s has no label", path, s.AttrOr("name", ""))
		}
	})
}

// Every chapter and every formula has its page, and every address on them is
// served.
func TestHandbookPages(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	pages := map[string]sheet{}
	todo := []string{"/handbook", "/handbook?find=felt"}
	for len(todo) > 0 {
		path := todo[0]
		todo = todo[1:]
		if _, seen := pages[path]; seen {
			continue
		}
		pages[path] = a.get(path)
		if !strings.HasPrefix(path, "/handbook") { // a way out of it
			if pages[path].code != http.StatusOK {
				t.Errorf("%s is not served: status %d", path, pages[path].code)
			}
			continue
		}
		sound(t, path, pages[path])
		pages[path].Find(`main a[href^="/"]`).Each(func(_ int, s *goquery.Selection) {
			to, _, _ := strings.Cut(s.AttrOr("href", ""), "#")
			todo = append(todo, to)
		})
	}
	for path, page := range pages { // anchors lead somewhere
		page.Find(`main a[href*="#"]`).Each(func(_ int, s *goquery.Selection) {
			to, anchor, _ := strings.Cut(s.AttrOr("href", ""), "#")
			if at, ok := pages[to]; ok && at.Find(`[id="`+anchor+`"]`).Length() != 1 {
				t.Errorf("%s links %s#%s, which is not there", path, to, anchor)
			}
		})
	}
	for _, step := range handbook.Steps() {
		for _, f := range step.Formulas {
			page, ok := pages["/handbook/formulas/"+f.Name]
			if !ok {
				t.Errorf("nothing leads to %s", f.Name)
				continue
			}
			if _, can := f.Inputs(); can != (page.Find("form.try").Length() == 1) {
				t.Errorf("%s: can be tried: %v, and the page differs", f.Name, can)
			}
			if f.Unverified() != strings.Contains(page.text(".warning"), "Unverified") {
				t.Errorf("%s: unverified %v, and the page differs", f.Name, f.Unverified())
			}
			if page.Find(".contract dt").Length() != 6 || page.Find(".cited a").Length() == 0 {
				t.Errorf("%s: the contract is not whole", f.Name)
			}
		}
	}
	if page := a.get("/handbook/formulas/vat.Nothing"); page.code != http.StatusNotFound {
		t.Errorf("a formula that is none: status %d", page.code)
	}
}

// The care a cook takes stands once on the page of every fibre that is cooked or
// may be, and each of its numbers once, in the unit it is read in.
func TestHandbookFibres(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, f := range fibre.All() {
		page := a.get("/handbook/fibres/" + url.PathEscape(f.Name))
		want := 0
		if f.Cook != nil {
			want = 1
		}
		if got := strings.Count(page.text("main"), "injures eyes"); got != want {
			t.Errorf("%s: the care of the cook stands %d times, want %d", f.Name, got, want)
		}
		for _, q := range fibre.Quantities() {
			known := 0
			if q.Group != fibre.Shrinking && f.Of(q.Key).Known() {
				known = 1
			}
			if got := page.Find(".numbers dt").FilterFunction(func(_ int, s *goquery.Selection) bool { return s.Text() == part.Upper(q.Name) }).Length(); got != known {
				t.Errorf("%s: %s stands %d times, want %d", f.Name, q.Name, got, known)
			}
		}
	}
	cotton := a.get("/handbook/fibres/cotton%20rag").text("main")
	for _, says := range []string{"% wet basis", "g/cm³", "% dry basis"} {
		if !strings.Contains(cotton, says) {
			t.Errorf("cotton rag does not say %q: %s", says, cotton)
		}
	}
}

func TestHandbookTry(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get("/handbook/formulas/vat.Consistency")
	if page.Find(".answer").Length() != 0 || page.Find(".error").Length() != 0 {
		t.Error("nothing was asked yet, and something is answered")
	}
	form := filled(page)
	form.Set("g", "100")
	form.Set("h", "20")
	page = a.get("/handbook/formulas/vat.Consistency?" + form.Encode())
	if got := page.text(".figure .value"); got != "5 g/L" {
		t.Errorf("100 g/m² at 20 mm is %q", got)
	}
	if got := page.text(".working"); got != "c = 100 / 20 = 5 g/L" {
		t.Errorf("the working is %q", got)
	}
	// The same address read in US units says the same.
	a.cookies["units"] = "us"
	page = a.get("/handbook/formulas/vat.Consistency?" + form.Encode())
	if got := page.text(".working"); got != "c = 100 / 20 = 5 g/L" || page.text(".figure .unit") != "oz/US gal" || page.Find("[name=h]").AttrOr("value", "") != "20 mm" {
		t.Errorf("in US units the working is %q in %q", got, page.text(".figure .unit"))
	}
	a.cookies["units"] = "metric"
	for _, c := range []struct{ name, field, typed, says string }{
		{"vat.Consistency", "h", "900", "between 0.5 and 200 mm"},
		{"vat.Consistency", "h", "deep", "is not a length"},
		{"drying.WetBulb", "rh", "150", "the relative humidity"},
		{"costing.MinorUnits", "code", "XXQ", "currency"},
	} {
		form := url.Values{"system": {"metric"}, "g": {"100"}, "h": {"20"}, "t": {"20"}, "rh": {"50"}, "p": {"100"}, "cost": {"20"}}
		form.Set(c.field, c.typed)
		page := a.get("/handbook/formulas/" + c.name + "?" + form.Encode())
		if got := page.text("#f-" + c.field + "-error"); page.code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(got), strings.ToLower(c.says)) {
			t.Errorf("%s, %s %q: status %d, the field says %q", c.name, c.field, c.typed, page.code, got)
		}
		if got := page.Find("[name="+c.field+"]").AttrOr("value", ""); got != c.typed {
			t.Errorf("%s: what was typed is lost, %q stands there", c.name, got)
		}
	}
}

// One search finds in every chapter, the name before the text.
func TestHandbookSearch(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for asked, first := range map[string]string{
		"couching": "couching", "wet bulb": "Wet bulb", "free shrinkages": "Free shrinkage", "psychrometrics": "Psychrometrics, SI",
	} {
		page := a.get("/handbook?find=" + url.QueryEscape(asked))
		found := false
		page.Find(".found").Each(func(_ int, s *goquery.Selection) {
			found = found || strings.TrimSpace(s.Find("b").First().Text()) == first
		})
		if !found {
			t.Errorf("%q does not find %q first: %.300s", asked, first, page.text(".found"))
		}
	}
	if page := a.get("/handbook?find=zeppelin"); !strings.Contains(page.text("main"), "zeppelin") || page.Find(".found").Length() != 0 {
		t.Error("what is not there is found")
	}
	if page := a.get("/handbook?find=" + url.QueryEscape(`<b>"x`)); page.code != http.StatusOK || strings.Contains(page.raw, `<b>"x`) {
		t.Error("what was asked is not set as text")
	}
}
