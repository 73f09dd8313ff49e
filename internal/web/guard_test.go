package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

func TestHeaders(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, path := range []string{"/welcome", "/nowhere", "/gallery"} {
		page := a.get(path)
		policy := page.head.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "base-uri 'none'"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: the policy %q lacks %s", path, policy, want)
			}
		}
		if strings.Contains(policy, "unsafe") {
			t.Errorf("%s: the policy allows something unsafe: %s", path, policy)
		}
		if got := page.head.Get("X-Content-Type-Options"); got != "nosniff" {
			t.Errorf("%s: X-Content-Type-Options %q", path, got)
		}
		if got := page.head.Get("Referrer-Policy"); got != "same-origin" {
			t.Errorf("%s: Referrer-Policy %q", path, got)
		}
		if n := page.Find("style, [style], script:not([src]), [onclick], [onload]").Length(); n > 0 {
			t.Errorf("%s: %d styles or scripts stand in the page, which the policy forbids", path, n)
		}
	}
}

func TestForeignNamesAreRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for host, want := range map[string]int{
		"localhost:8017": 200, "127.0.0.1:8017": 200, "[::1]:8017": 200, "LOCALHOST:8017": 200,
		"studio.invalid": 421, "studio.invalid:8017": 421, "localhost:8018": 421, "localhost": 421, "127.0.0.1.studio.invalid:8017": 421,
	} {
		r := httptest.NewRequest("GET", "/welcome", nil)
		r.Host = host
		page := a.do(r)
		if page.code != want {
			t.Errorf("asked as %s: status %d, want %d", host, page.code, want)
		}
		if want == 421 && !strings.Contains(page.raw, "http://localhost:8017/") {
			t.Errorf("asked as %s: the refusal does not say where the program is: %q", host, page.raw)
		}
	}
}

func TestForeignFormsAreRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	send := func(header, value string) sheet {
		r := httptest.NewRequest("POST", "/welcome", strings.NewReader(filled(a.get("/welcome")).Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(header, value)
		return a.do(r)
	}
	if page := send("Sec-Fetch-Site", "cross-site"); page.code != http.StatusForbidden {
		t.Errorf("a form from another site: status %d, want 403", page.code)
	}
	if page := send("Origin", "http://studio.invalid"); page.code != http.StatusForbidden {
		t.Errorf("a form of a foreign origin: status %d, want 403", page.code)
	}
	if p, err := a.records.Profile(t.Context()); err != nil || p.Answered {
		t.Errorf("a foreign form was taken: answered %v, fault %v", p.Answered, err)
	}
	if page := send("Origin", "http://localhost:8017"); page.code != http.StatusSeeOther {
		t.Errorf("the program's own form by an old browser: status %d, want 303", page.code)
	}
}

func TestTooLongAForm(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	form := url.Values{"remarks": {strings.Repeat("x", 1<<21)}}
	if page := a.post("/briefs", form); page.code != http.StatusRequestEntityTooLarge || !strings.Contains(page.text(".lead"), "more than the program takes") {
		t.Errorf("two megabytes of remarks: status %d: %s", page.code, page.text(".lead"))
	}
}

func TestMissing(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	for _, path := range []string{"/nowhere", "/briefs/zzz", "/briefs/zzz/edit", "/briefs/zzz/sums/sheets_to_pull", "/makings/zzz/card.pdf"} {
		page := a.get(path)
		if page.code != http.StatusNotFound {
			t.Errorf("%s: status %d, want 404", path, page.code)
		}
		if page.Find("main h1").Length() != 1 || page.text("main .lead") == "" {
			t.Errorf("%s: no sentence says what is not here", path)
		}
	}
}

// The way back after switching units never leaves the program.
func TestUnitsGoBackInside(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for back, want := range map[string]string{
		"/briefs/new": "/briefs/new", "//studio.invalid/": "/", "http://studio.invalid/": "/", `/\studio.invalid`: "/", "": "/",
	} {
		if got := a.post("/units", url.Values{"units": {"us"}, "back": {back}}).to(); got != want {
			t.Errorf("back to %q leads to %q, want %q", back, got, want)
		}
	}
}
