package web_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"vatside/internal/studio"
	vatpage "vatside/internal/web/page/vat"
)

// sent sends entries as a device does, and hears the answer.
func (a *aStudio) sent(making, body string) (sheet, vatpage.Answer, vatpage.View) {
	a.t.Helper()
	r := httptest.NewRequest("POST", "/makings/"+making+"/vat/events", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	got := a.do(r)
	var answer vatpage.Answer
	var view vatpage.View
	if got.code == http.StatusOK {
		if err := json.Unmarshal([]byte(got.raw), &answer); err != nil {
			a.t.Fatal(err)
		}
		if err := json.Unmarshal(answer.View, &view); err != nil {
			a.t.Fatal(err)
		}
	}
	return got, answer, view
}

func pulled(id string, at time.Time) string {
	return fmt.Sprintf(`{"id": %q, "kind": "post", "body": {"post": 1, "pulled": 1, "kissed_off": 0}, "at": %d}`, id, at.UnixMilli())
}

// Entries are stored once however often they are sent, one that cannot be kept
// is refused by itself, and the answer says where the run stands.
func TestVatTakesEntries(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	list := func(entries ...string) string { return `{"events": [` + strings.Join(entries, ", ") + `]}` }
	two := list(pulled("vat-a", morning), pulled("vat-b", morning.Add(time.Second)))
	for range 3 {
		_, answer, view := a.sent(m.ID, two)
		if len(answer.Stored) != 2 || len(answer.Refused) != 0 || view.Couched != 2 || len(view.Has) != 2 || answer.Now != morning.UnixMilli() {
			t.Errorf("answered %+v, %+v", answer, view)
		}
	}
	wrong := `{"id": "vat-c", "kind": "post", "body": {"post": 0, "pulled": 1, "kissed_off": 0}, "at": 1}`
	_, answer, view := a.sent(m.ID, list(wrong, pulled("vat-d", morning.Add(2*time.Second))))
	if len(answer.Stored) != 1 || answer.Stored[0] != "vat-d" || len(answer.Refused) != 1 || answer.Refused[0].ID != "vat-c" || answer.Refused[0].Text == "" || view.Couched != 3 {
		t.Errorf("answered %+v, %+v", answer, view)
	}
	back := fmt.Sprintf(`{"id": "vat-e", "kind": "correction", "body": {"void": true}, "at": %d, "corrects": "vat-d"}`, morning.Add(3*time.Second).UnixMilli())
	if _, answer, view := a.sent(m.ID, list(back)); len(answer.Stored) != 1 || view.Couched != 2 || len(view.Noted) != 2 {
		t.Errorf("taken back: %+v, %+v", answer, view)
	}
	if got := a.events(m.ID); len(got) != 4 {
		t.Errorf("%d entries are stored", len(got))
	}
}

// What is no list of entries is refused as a whole, and so is a making that is
// not there; nothing is stored then.
func TestVatRefusesOtherThings(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	one := pulled("vat-a", morning)
	many := strings.Repeat(one+",", 500) + one
	for name, body := range map[string]string{"empty": "", "no list": `{"events": 3}`, "more than entries": `{"events": [` + one + `], "then": 1}`, "twice": `{"events": []} {"events": []}`, "too many": `{"events": [` + many + `]}`} {
		if got, _, _ := a.sent(m.ID, body); got.code != http.StatusUnprocessableEntity && got.code != http.StatusBadRequest {
			t.Errorf("%s: status %d", name, got.code)
		}
	}
	if got, _, _ := a.sent("nowhere", `{"events": [`+one+`]}`); got.code != http.StatusNotFound {
		t.Errorf("of no making: status %d", got.code)
	}
	if got := a.events(m.ID); len(got) != 0 {
		t.Errorf("stored: %+v", got)
	}
}

// The page says without a script how to do without it.
func TestVatPage(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	page := a.get("/makings/" + m.ID + "/vat")
	if got := page.Find("noscript").Text(); !strings.Contains(got, "Counting here needs a script. The card does not") {
		t.Errorf("without a script the page says %q", got)
	}
	for _, dialog := range []string{"spoilt", "weigh", "tub", "more"} {
		if page.Find(`[data-open="`+dialog+`"]`).Length() != 1 || page.Find(`dialog[data-dialog="`+dialog+`"] h2`).Length() != 1 {
			t.Errorf("%s is not there, or has no title", dialog)
		}
	}
	var view vatpage.View
	if err := json.Unmarshal([]byte(page.Find("[data-vat]").AttrOr("data-view", "")), &view); err != nil || view.Making != m.ID || view.Wanted == 0 {
		t.Errorf("the page begins with %+v, %v", view, err)
	}
}

// A device that shows a run hears of every entry, from wherever it came.
func TestVatStreams(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	ctx, leave := context.WithTimeout(t.Context(), 30*time.Second)
	defer leave()
	heard := &listener{ResponseRecorder: httptest.NewRecorder(), told: make(chan string, 10)}
	done := make(chan struct{})
	go func() {
		defer close(done)
		r := httptest.NewRequestWithContext(ctx, "GET", "/makings/"+m.ID+"/vat/stream", nil)
		r.Host = own
		a.handler.ServeHTTP(heard, r)
	}()
	next := func(couched string) {
		t.Helper()
		select {
		case text := <-heard.told:
			if !strings.HasPrefix(text, "data: {") || !strings.Contains(text, `"couched":`+couched+`,`) {
				t.Errorf("heard %.200q, not of %s sheets", text, couched)
			}
		case <-ctx.Done():
			t.Fatal("nothing is heard")
		}
	}
	next("0")
	if _, err := a.records.Record(t.Context(), m.ID, studio.NewEvent("from-elsewhere", morning, studio.Post{Post: 1, Pulled: 5})); err != nil {
		t.Fatal(err)
	}
	next("5")
	leave()
	<-done
}

// listener hands on what is written, as it is written.
type listener struct {
	*httptest.ResponseRecorder
	told chan string
}

func (l *listener) Write(b []byte) (int, error) {
	l.told <- string(b)
	return len(b), nil
}
