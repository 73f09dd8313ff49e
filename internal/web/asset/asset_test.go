package asset

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"vatside/internal/typeface"
)

func TestEveryEntryIsServed(t *testing.T) {
	t.Parallel()
	names, err := Names()
	if err != nil {
		t.Fatal(err)
	}
	types := map[string]string{".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".ttf": "font/ttf"}
	hashed := regexp.MustCompile(`^/asset/[\w-]+\.[A-Z0-9]{8}\.(js|css|ttf)$`)
	for _, name := range names {
		url := URL(name)
		if !hashed.MatchString(url) {
			t.Errorf("%s: the address %s does not carry a hash", name, url)
		}
		rec := get(url)
		if rec.Code != http.StatusOK {
			t.Fatalf("%s answers %d", url, rec.Code)
		}
		if got := rec.Header().Get("Cache-Control"); !strings.Contains(got, "immutable") {
			t.Errorf("%s: Cache-Control is %q", url, got)
		}
		if got, want := rec.Header().Get("Content-Type"), types[name[strings.LastIndex(name, "."):]]; got != want {
			t.Errorf("%s: Content-Type is %q, want %q", url, got, want)
		}
	}
	if len(names) < len(entries)+len(typeface.Files()) {
		t.Errorf("served: %v; expected the entries and every weight of the typeface", names)
	}
}

// The style refers to the fonts by their hashed addresses, and these hold the
// font, not something else.
func TestStyleNamesTheFonts(t *testing.T) {
	t.Parallel()
	style := get(URL("vatside.css")).Body.String()
	for file, want := range typeface.Files() {
		url := URL(file)
		if !strings.Contains(style, url) {
			t.Errorf("the style does not name %s", url)
		}
		if !bytes.Equal(get(url).Body.Bytes(), want) {
			t.Errorf("%s does not hold %s", url, file)
		}
	}
	if !strings.Contains(style, typeface.Family) {
		t.Errorf("the style does not name the family %q", typeface.Family)
	}
}

// few are the entries of a made-up set of sources.
var few = []string{"ts/main.ts", "css/vatside.css"}

func TestHashFollowsContent(t *testing.T) {
	t.Parallel()
	name := func(text string) string {
		b, err := build(fstest.MapFS{
			"ts/main.ts":          {Data: []byte(`import { say } from "./part/say"; say();`)},
			"ts/part/say.ts":      {Data: []byte(`export function say(): void { document.title = "` + text + `"; }`)},
			"css/vatside.css":     {Data: []byte(`@import "./part/colour.css";`)},
			"css/part/colour.css": {Data: []byte(`body { color: black }`)},
		}, few)
		if err != nil {
			t.Fatal(err)
		}
		if got := string(b.content[b.hashed["main.js"]]); !strings.Contains(got, text) || strings.Contains(got, ": void") {
			t.Errorf("the bundle is %q", got)
		}
		if got := string(b.content[b.hashed["vatside.css"]]); !strings.Contains(got, "color:") {
			t.Errorf("the style is %q", got)
		}
		return b.hashed["main.js"]
	}
	wet := name("wet")
	if again := name("wet"); again != wet {
		t.Error("the same content has two names")
	}
	if name("dry") == wet {
		t.Error("different content has one name")
	}
}

func TestBrokenSourcesAreNamed(t *testing.T) {
	t.Parallel()
	for what, c := range map[string]struct{ script, style, want string }{
		"syntax":         {"let = ;", "", "ts/main.ts:1"},
		"missing import": {`import "./nowhere";`, "", "nowhere"},
		"bare import":    {`import "react";`, "", "react"},
		"missing font":   {"", `@font-face { src: url("font/None.ttf") }`, "None.ttf"},
		"outside":        {`import "../../go.mod";`, "", "go.mod"},
		"style warning":  {"", `a { color: red`, "css/vatside.css:1"},
	} {
		_, err := build(fstest.MapFS{
			"ts/main.ts":      {Data: []byte(c.script)},
			"css/vatside.css": {Data: []byte(c.style)},
		}, few)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error that names %s", what, err, c.want)
		}
	}
}

func TestUnknownFile(t *testing.T) {
	t.Parallel()
	for _, path := range []string{"/asset/", "/asset/main.js", "/asset/main.AAAAAAAA.js", "/asset/../go.mod", "/asset/ts/main.ts"} {
		if rec := get(path); rec.Code != http.StatusNotFound {
			t.Errorf("%s answers %d, want 404", path, rec.Code)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("URL of a file that is not bundled did not panic")
		}
	}()
	URL("other.js")
}

func get(path string) *httptest.ResponseRecorder {
	rec := httptest.NewRecorder()
	Handler().ServeHTTP(rec, httptest.NewRequest(http.MethodGet, path, nil))
	return rec
}

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		if _, err := build(sources, entries); err != nil {
			b.Fatal(err)
		}
	}
}
