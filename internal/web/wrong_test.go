package web_test

import (
	"bytes"
	"maps"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/demo"
	"vatside/internal/store"
	"vatside/internal/web"
)

// nonsense is what gets into blanks by mistake, or on purpose. No number is
// meant by the first ones.
var nonsense = []struct {
	name, typed string
	number      bool
}{
	{"letters", "a few", false},
	{"no number", "NaN", false},
	{"endless", "1e999", false},
	{"markup", `<b class="slipped">"&'</b>`, false},
	{"very long", strings.Repeat("kozo ", 6000) + "kozo", false},
	{"negative", "-7", true},
	{"huge", "99999999999999", true},
	{"tiny", "0.0000000001", true},
	{"empty", "", true},
	{"half a quotation", `";`, false},
	{"odd letters", "٣ kg \u202e𝟛", false},
	{"nothing in bytes", "7\x00", true},
}

// aForm is a form as a page serves it.
type aForm struct {
	page, method, action string
	files                bool
	sent                 url.Values      // as a browser would send it untouched
	blanks               []string        // all of them
	typed                []string        // those that a person types into
	counts               map[string]bool // those that want a number
	required             map[string]bool
}

// key is the same for forms of one kind.
func (f aForm) key() string {
	return f.method + " " + pattern(f.action) + " " + strings.Join(f.blanks, ",")
}

var someID = regexp.MustCompile(`/[0-9a-z]{16}(/|$)`)

// ownFibre is an address that goes by a name a person gives.
var ownFibre = regexp.MustCompile(`^(/studio/fibres/)(?:[^n/]|n[^e/]|ne[^w/]|new[^/])[^/]*`)

// pattern is an address with its names of records left out.
func pattern(path string) string {
	path, _, _ = strings.Cut(path, "?")
	return ownFibre.ReplaceAllString(someID.ReplaceAllString(path, "/{id}$1"), "$1{name}")
}

// forms reads the forms of a page. The switch of units is on every page and
// has no blanks.
func (s sheet) forms(at string) (list []aForm) {
	s.Find("main form").Each(func(_ int, el *goquery.Selection) {
		f := aForm{page: at, method: strings.ToUpper(el.AttrOr("method", "get")), action: el.AttrOr("action", at), sent: url.Values{}, counts: map[string]bool{}, required: map[string]bool{}}
		if f.method == "DIALOG" { // sends nothing; its script reads it, and its journey tests that
			return
		}
		f.action, _, _ = strings.Cut(f.action, "#")
		f.files = el.AttrOr("enctype", "") == "multipart/form-data"
		el.Find("input, select, textarea").Each(func(_ int, in *goquery.Selection) {
			name := in.AttrOr("name", "")
			if in.Closest("template").Length() > 0 || name == "" {
				return
			}
			kind := in.AttrOr("type", goquery.NodeName(in))
			switch value := in.AttrOr("value", ""); kind {
			case "radio", "checkbox":
				if _, on := in.Attr("checked"); on {
					f.sent.Add(name, value)
				}
				if kind == "radio" && !slices.Contains(f.blanks, name) {
					f.blanks = append(f.blanks, name)
				}
				return
			case "select":
				chosen := in.Find("option[selected]")
				if chosen.Length() == 0 {
					chosen = in.Find("option").First()
				}
				f.sent.Set(name, chosen.AttrOr("value", ""))
			case "textarea":
				f.sent.Set(name, strings.TrimPrefix(in.Text(), "\n"))
			default:
				f.sent.Add(name, value)
			}
			f.blanks = append(f.blanks, name)
			if kind != "hidden" && kind != "select" && kind != "file" {
				f.typed = append(f.typed, name)
			}
			_, unit := in.Attr("data-unit")
			mode := in.AttrOr("inputmode", "")
			f.counts[name] = in.Closest(".by").Length() == 0 && (unit || mode == "decimal" || mode == "numeric") // .by: asked of another kind of thing
			_, f.required[name] = in.Attr("required")
		})
		list = append(list, f)
	})
	return list
}

// crawl reads every page that can be reached, and every kind of form once.
func (a *aStudio) crawl() []aForm {
	found := map[string]aForm{}
	seen, todo := map[string]bool{}, []string{"/", "/welcome", "/people"}
	for len(todo) > 0 {
		path := todo[0]
		todo = todo[1:]
		if seen[pattern(path)] || strings.HasSuffix(path, ".pdf") || strings.HasPrefix(path, "/asset/") {
			continue
		}
		seen[pattern(path)] = true
		page := a.get(path)
		if page.code >= http.StatusInternalServerError {
			a.t.Errorf("%s: status %d", path, page.code)
		}
		for _, f := range page.forms(path) {
			if _, known := found[f.key()]; !known {
				found[f.key()] = f
			}
		}
		page.Find("a[href]").Each(func(_ int, link *goquery.Selection) {
			if to := link.AttrOr("href", ""); strings.HasPrefix(to, "/") {
				to, _, _ = strings.Cut(to, "#")
				todo = append(todo, to)
			}
		})
	}
	return slices.SortedFunc(maps.Values(found), func(a, b aForm) int { return strings.Compare(a.key(), b.key()) })
}

// filledStudio is a studio that has been at work for a while.
func filledStudio(t *testing.T) *aStudio {
	t.Helper()
	file, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	if err := demo.Fill(t.Context(), file.Records(), morning); err != nil {
		t.Fatal(err)
	}
	records, server := over(file, web.Config{Now: func() time.Time { return morning }})
	return &aStudio{t: t, records: records, handler: server.Handler(), cookies: map[string]string{}, lang: "en-GB"}
}

func (a *aStudio) send(f aForm) sheet {
	if f.method == http.MethodGet {
		return a.get(f.action + "?" + f.sent.Encode())
	}
	if !f.files {
		return a.post(f.action, f.sent)
	}
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for name, values := range f.sent {
		for _, v := range values {
			if err := w.WriteField(name, v); err != nil {
				a.t.Fatal(err)
			}
		}
	}
	w.Close()
	r := httptest.NewRequest(f.method, f.action, &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// Nonsense in any one blank of any form of the program is no defect of it: the
// form comes back with all that was typed, spelled out and not run, and with a
// sentence that leads to a blank; or what was typed is legitimately read.
func TestNonsenseInEveryBlank(t *testing.T) {
	t.Parallel()
	a := filledStudio(t)
	forms := a.crawl()
	if len(forms) < 30 {
		t.Errorf("only %d kinds of form are reached", len(forms))
	}
	wrong := 0
	for _, f := range forms {
		if now := f.again(a.get(f.page)); now.sent != nil {
			f.sent = now.sent
		}
		for i, blank := range slices.Concat(f.typed, f.hidden()) {
			for j, n := range nonsense {
				// of a large form, and of the many tries, each blank gets its turn
				if (len(f.blanks) > many || strings.HasPrefix(f.action, "/handbook/formulas/")) && (i+j)%8 != 0 {
					continue
				}
				wrong++
				if to := a.wrong(f, blank, n.name, n.typed, n.number); to != "" { // saved: its revision is another now
					f = a.now(f, to)
				}
			}
		}
	}
	t.Logf("%d forms, %d wrong blanks", len(forms), wrong)
}

// many blanks are more than a form usually has.
const many = 30

// now is a form that was saved, with the hidden blanks as they are afterwards;
// its address may have changed with its name.
func (a *aStudio) now(f aForm, to string) aForm {
	now := f.again(a.get(f.page))
	if now.sent == nil {
		a.get(to).Find("a[href]").EachWithBreak(func(_ int, link *goquery.Selection) bool {
			if at := link.AttrOr("href", ""); pattern(at) == pattern(f.page) {
				now, f.page = f.again(a.get(at)), at
			}
			return now.sent == nil
		})
	}
	if now.sent == nil {
		return f
	}
	f.action = now.action
	for _, hidden := range f.hidden() {
		f.sent[hidden] = now.sent[hidden]
	}
	return f
}

// hidden are the blanks that nobody types into.
func (f aForm) hidden() (list []string) {
	for _, blank := range f.blanks {
		if !slices.Contains(f.typed, blank) {
			list = append(list, blank)
		}
	}
	return list
}

// again is the form as a page has it now.
func (f aForm) again(page sheet) aForm {
	best, most := aForm{}, 0
	for _, g := range page.forms(f.page) {
		same := 0
		for _, blank := range g.blanks {
			if slices.Contains(f.blanks, blank) {
				same++
			}
		}
		if g.method == f.method && pattern(g.action) == pattern(f.action) && same > most {
			best, most = g, same
		}
	}
	return best
}

// wrong sends a form with one blank wrong and looks at what comes back.
// It returns where a saved form leads.
func (a *aStudio) wrong(f aForm, blank, name, typed string, number bool) (to string) {
	t := a.t
	t.Helper()
	sent := maps.Clone(f.sent)
	sent[blank] = []string{typed}
	f.sent = sent
	page := a.send(f)
	complain := func(format string, args ...any) {
		t.Helper()
		t.Errorf("%s: %s in %q: "+format, append([]any{pattern(f.page), name, blank}, args...)...)
	}
	if strings.Contains(page.raw, `<b class="slipped"`) {
		complain("the markup slips into the page")
	}
	switch page.code {
	case http.StatusOK, http.StatusSeeOther:
		if f.counts[blank] && !number {
			complain("status %d, as if a number had been typed", page.code)
		}
		if typed == "" && f.required[blank] && f.method == http.MethodPost {
			complain("status %d, and it must be answered", page.code)
		}
		if name == "markup" && page.code == http.StatusSeeOther {
			if next := a.get(page.to()); next.code >= http.StatusInternalServerError || strings.Contains(next.raw, `<b class="slipped"`) {
				complain("on the next page the markup slips in, status %d", next.code)
			}
		}
	case http.StatusUnprocessableEntity, http.StatusConflict:
		if f.files {
			break // what is sent with a file is looked at where files are read
		}
		a.keeps(f, page, !slices.Contains(f.typed, blank), complain)
	case http.StatusNotFound:
		if slices.Contains(f.typed, blank) {
			complain("status %d, and the form is gone: %s", page.code, page.text("main"))
		}
	case http.StatusRequestEntityTooLarge:
		if len(typed) < 1<<20 {
			complain("status %d for %d bytes", page.code, len(typed))
		}
	default:
		complain("status %d: %s", page.code, page.text("main h1"))
	}
	return page.to()
}

// keeps looks whether a form that was refused has all of it, and says why.
func (a *aStudio) keeps(f aForm, page sheet, hidden bool, complain func(string, ...any)) {
	a.t.Helper()
	again := f.again(page)
	if again.sent == nil {
		if hidden {
			return // nobody typed that
		}
		complain("status %d, and the form is gone: %s", page.code, page.text("main"))
		return
	}
	for _, blank := range f.typed {
		kept, sent := again.sent.Get(blank), strings.ToValidUTF8(f.sent.Get(blank), "\ufffd")
		if kept != sent && !strings.Contains(sent, "\x00") {
			complain("status %d, and %q holds %.60q, sent was %.60q", page.code, blank, kept, sent)
		}
	}
	if page.Find("[aria-invalid=true], .choices.wrong").Length() == 0 && page.Find(".conflict").Length() == 0 && !hidden {
		complain("status %d, and no blank is marked; it says %q", page.code, page.text(".wrong-summary"))
	}
}
