package web_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/cookery"
	"vatside/internal/keeping"
	"vatside/internal/photo"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/web"
)

// a studio is the real program over a file of its own, and a reader of its
// pages.
type aStudio struct {
	t       *testing.T
	records *studio.Service
	handler http.Handler
	cookies map[string]string
	lang    string
}

const own = "localhost:8017" // the address the program answers to

var morning = time.Date(2030, 5, 3, 9, 30, 0, 0, time.UTC)

func newStudio(t *testing.T) *aStudio {
	t.Helper()
	s, server := start(t, web.Config{Now: func() time.Time { return morning }, Gallery: true})
	return &aStudio{t: t, records: s, handler: server.Handler(), cookies: map[string]string{}, lang: "en-GB"}
}

func start(t testing.TB, c web.Config) (*studio.Service, *web.Server) {
	t.Helper()
	file, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	return over(file, c)
}

// over is the program over a file.
func over(file *store.Store, c web.Config) (*studio.Service, *web.Server) {
	c.Studio = studio.New(file.Records(), c.Now)
	c.Cooks = cookery.New(file.Cooks(), c.Now)
	if c.Photos == nil {
		c.Photos = photo.In(file.Path() + ".photos")
	}
	c.Copies = keeping.New(file, func(ctx context.Context, path string) (keeping.Inside, error) {
		g, err := store.Look(ctx, path)
		return keeping.Inside{Papers: g.Papers, Makings: g.Makings, Last: g.Last}, err
	}, file.Path()+".photos", c.Now)
	return c.Studio, web.New(c)
}

// sheet is a page as it was answered.
type sheet struct {
	*goquery.Document
	t    *testing.T
	code int
	head http.Header
	raw  string
}

func (a *aStudio) get(path string) sheet { return a.do(httptest.NewRequest("GET", path, nil)) }

func (a *aStudio) post(path string, form url.Values) sheet {
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

func (a *aStudio) do(r *http.Request) sheet {
	a.t.Helper()
	if r.Host == "example.com" { // what httptest fills in
		r.Host = own
	}
	r.Header.Set("Accept-Language", a.lang)
	for name, value := range a.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	a.handler.ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		if c.MaxAge < 0 {
			delete(a.cookies, c.Name)
		} else {
			a.cookies[c.Name] = c.Value
		}
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(w.Body.String()))
	if err != nil {
		a.t.Fatal(err)
	}
	return sheet{doc, a.t, w.Code, w.Header(), w.Body.String()}
}

// to is where the answer sends the reader.
func (s sheet) to() string { return s.head.Get("Location") }

func (s sheet) text(selector string) string {
	return strings.Join(strings.Fields(s.Find(selector).Text()), " ")
}

// follow goes on to where the answer sends the reader.
func (a *aStudio) follow(s sheet) sheet {
	a.t.Helper()
	if s.code != http.StatusSeeOther {
		a.t.Fatalf("status %d, not a way on: %s", s.code, s.text("main"))
	}
	return a.get(s.to())
}

// firstEvening answers the questions as they stand and returns the address of
// the plan.
func (a *aStudio) firstEvening() string {
	a.t.Helper()
	answer := a.post("/welcome", filled(a.get("/welcome")))
	if answer.code != http.StatusSeeOther {
		a.t.Fatalf("first evening: status %d: %s", answer.code, answer.text(".wrong-summary"))
	}
	return answer.to()
}

// filled is a page's main form as a browser would send it.
func filled(s sheet) url.Values {
	form := url.Values{}
	s.Find("main form").First().Find("input, select, textarea").Each(func(_ int, in *goquery.Selection) {
		if in.Closest("template").Length() > 0 {
			return // not of the form until a script adds it
		}
		name, _ := in.Attr("name")
		value, _ := in.Attr("value")
		switch kind, _ := in.Attr("type"); {
		case kind == "radio" || kind == "checkbox":
			if _, on := in.Attr("checked"); on {
				form.Set(name, value)
			}
		case goquery.NodeName(in) == "select":
			chosen := in.Find("option[selected]")
			if chosen.Length() == 0 {
				chosen = in.Find("option").First()
			}
			form.Set(name, chosen.AttrOr("value", ""))
		case goquery.NodeName(in) == "textarea":
			form.Set(name, in.Text())
		case goquery.NodeName(in) == "input" && kind == "hidden":
			form.Add(name, value) // the rows of a list have one name
		default:
			form.Set(name, value)
		}
	})
	return form
}

// TestServeByHand serves an empty studio for looking at, where the variable
// names an address such as 127.0.0.1:8017.
func TestServeByHand(t *testing.T) {
	addr := os.Getenv("VATSIDE_TRY")
	if addr == "" {
		t.Skip("only where VATSIDE_TRY names an address to listen on")
	}
	_, server := start(t, web.Config{Listen: addr, Now: time.Now, Gallery: true})
	srv := &http.Server{Addr: addr, Handler: server.Handler(), ReadHeaderTimeout: 5 * time.Second}
	t.Fatal(srv.ListenAndServe())
}
