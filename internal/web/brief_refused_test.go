package web_test

import (
	"net/http"
	"testing"
)

// Everything wrong with a brief is said at once, each at its field, and stays
// typed; nothing is left for the plan to refuse.
func TestBriefRefusedAtTheField(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	form := filled(a.get("/briefs/new"))
	wrong := map[string]string{"good": "20001", "size": "40 m x 2", "trim": "5 mm"}
	for field, typed := range wrong {
		form.Set(field, typed)
	}
	form.Set("edges", "deckle")
	page := a.post("/briefs", form)
	if page.code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d", page.code)
	}
	for field, typed := range wrong {
		if page.text("#f-"+field+"-error") == "" {
			t.Errorf("nothing is said at %s", field)
		}
		if got := page.Find("[name="+field+"]").AttrOr("value", ""); got != typed {
			t.Errorf("%s: kept %q, typed %q", field, got, typed)
		}
	}
}
