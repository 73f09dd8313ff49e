package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// A person is kept apart and can be erased: the brief stays, without the name.
func TestPersonErased(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	if got := a.get("/people").text("main"); !strings.Contains(got, "Nobody is kept") {
		t.Errorf("an empty studio says %q", got)
	}
	plan := a.firstEvening()
	form := filled(a.get(plan + "/edit"))
	form.Set("person", "Invented Binder")
	if page := a.post(plan, form); page.code != http.StatusSeeOther {
		t.Fatalf("the brief is not saved: %d %s", page.code, page.text("main"))
	}
	page := a.get("/people")
	if got := page.text(".line"); !strings.Contains(got, "Invented Binder") || !strings.Contains(got, "1 brief") {
		t.Fatalf("the person is not listed: %q", got)
	}
	sure := a.get(page.Find(".line a").AttrOr("href", ""))
	if got := sure.text("form"); !strings.Contains(got, "gone for good") {
		t.Errorf("erasing is not asked about: %q", got)
	}
	after := a.follow(a.post(sure.Find("main form").AttrOr("action", ""), nil))
	if got := after.text("main"); strings.Contains(got, "Invented Binder") {
		t.Errorf("the name is still there: %q", got)
	}
	if brief := a.get(plan); brief.code != http.StatusOK || strings.Contains(brief.text("body"), "Invented Binder") {
		t.Errorf("the brief: %d", brief.code)
	}
}
