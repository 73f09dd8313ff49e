package web_test

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"vatside/internal/studio"
)

// begun is a studio with one making, and the making.
func begun(t *testing.T) (*aStudio, studio.Making) {
	t.Helper()
	a := newStudio(t)
	plan := a.firstEvening()
	if card := a.post(plan+"/makings", nil); card.code != http.StatusSeeOther {
		t.Fatalf("the making was not begun: %d", card.code)
	}
	list, err := a.records.Makings(t.Context(), studio.MakingFilter{})
	if err != nil || len(list) != 1 {
		t.Fatalf("%d makings, %v", len(list), err)
	}
	return a, list[0]
}

func (a *aStudio) events(id string) []studio.Event {
	a.t.Helper()
	list, err := a.records.Events(a.t.Context(), id)
	if err != nil {
		a.t.Fatal(err)
	}
	return list
}

// A card sent twice is stored once; sent again with another number it makes a
// correction that leaves the first writing readable.
func TestRecordIsCorrectedNotEdited(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	record := "/makings/" + m.ID + "/record"
	form := filled(a.get(record))
	form.Set("post-1-couched", "22")
	form.Set("post-1-kissed", "2")
	form.Set("dry-1-grams", "62.5")
	form.Set("remarks", "Cold vat.\n\nFelts new.")
	for range 2 {
		if s := a.post(record, form); s.code != http.StatusSeeOther {
			t.Fatalf("status %d: %s", s.code, s.text(".wrong-summary"))
		}
	}
	if n := len(a.events(m.ID)); n != 4 { // a post, a weight, two remarks
		t.Fatalf("%d entries, want 4", n)
	}
	again := filled(a.get(record))
	for field, want := range map[string]string{"post-1-couched": "22", "post-1-kissed": "2", "dry-1-grams": "62.5", "dry-1-sheets": "10"} {
		if again.Get(field) != want {
			t.Errorf("coming back %s shows %q, want %q", field, again.Get(field), want)
		}
	}
	if s := a.post(record, again); s.code != http.StatusSeeOther || len(a.events(m.ID)) != 4 {
		t.Errorf("untouched it was sent back with %d, and %d entries stand", s.code, len(a.events(m.ID)))
	}
	again = filled(a.get(record))
	again.Set("dry-1-grams", "65.2")
	page := a.follow(a.post(record, again))
	if got := page.text(".history"); !strings.Contains(got, "weighed 65.2 g") {
		t.Errorf("the history does not say what holds: %s", got)
	}
	if got := page.text(".history s"); !strings.Contains(got, "weighed 62.5 g") {
		t.Errorf("the first writing is gone: %q", got)
	}
}

// What was written down meanwhile is not overwritten by a card opened before.
func TestRecordTellsWhatCameBetween(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	record := "/makings/" + m.ID + "/record"
	late, early := filled(a.get(record)), filled(a.get(record))
	early.Set("good", "18")
	a.post(record, early)
	late.Set("good", "17")
	s := a.post(record, late)
	if s.code != http.StatusConflict || !strings.Contains(s.text(".conflict"), "Good1718 What") {
		t.Fatalf("status %d: %s", s.code, s.text(".conflict"))
	}
	if n := len(a.events(m.ID)); n != 1 {
		t.Errorf("%d entries, want the first only", n)
	}
	if knowing := a.post(record, filled(s)); knowing.code != http.StatusSeeOther {
		t.Errorf("sent again knowingly: %d", knowing.code)
	}
	state, err := a.records.State(t.Context(), m.ID)
	if err != nil || state.Grades.Good != 17 {
		t.Errorf("%d good, %v; want 17", state.Grades.Good, err)
	}
}

// A record that looks odd is kept and flagged with its sum.
func TestOddIsShown(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	record := "/makings/" + m.ID + "/record"
	form := filled(a.get(record))
	form.Set("post-1-couched", "20")
	form.Set("good", "30")
	page := a.follow(a.post(record, form))
	odd := page.text(".warning")
	for _, want := range []string{"More sheets were graded than couched", "30 good + 0 retree + 0 broken + 0 broke = 30; couched 20"} {
		if !strings.Contains(odd, want) {
			t.Errorf("the flag lacks %q: %s", want, odd)
		}
	}
	if got := page.text(".missing"); !strings.Contains(got, "dry weight") || strings.Contains(got, "grades") {
		t.Errorf("missing is %q", got)
	}
}

// A making is found by its tag, however it is typed.
func TestFindByTag(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	if s := a.get("/makings?tag=" + strings.ToLower(strings.ReplaceAll(m.Tag, "-", ""))); s.to() != "/makings/"+m.ID {
		t.Errorf("status %d, to %q", s.code, s.to())
	}
	if s := a.get("/makings?tag=zz9"); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text(".error"), "letter, a digit") {
		t.Errorf("status %d: %q", s.code, s.text(".error"))
	}
	for _, page := range []string{"/makings/none", "/makings/none/record", "/papers/none", "/papers/none/edit"} {
		if s := a.get(page); s.code != http.StatusNotFound {
			t.Errorf("%s: status %d", page, s.code)
		}
	}
}

// What was learned stands beside the handbook, and a making left out for a
// reason no longer moves the number.
func TestKnows(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	record := "/makings/" + m.ID + "/record"
	form := filled(a.get(record))
	form.Set("size-1-long", "288")
	form.Set("size-1-short", "204")
	page := a.follow(a.post(record, form))
	if got := page.text(".lesson"); !strings.Contains(got, "Drying shrinkage") || !strings.Contains(got, "is now reckoned with") {
		t.Errorf("the making taught %q", got)
	}
	if page.Find("[data-saved]").Length() != 1 {
		t.Error("the page does not name the form that was saved")
	}
	number := a.get("/knows").Find(".number-band").First()
	id, _ := number.Find(`[name="id"]`).Attr("value")
	using := func() string {
		return strings.Join(strings.Fields(a.get("/knows").Find(".number-band").First().Find(".three b").Last().Text()), " ")
	}
	learned := using()
	if s := a.post("/knows/leave", map[string][]string{"id": {id}, "reason": {""}}); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text(".error"), "say why") && !strings.Contains(s.text(".error"), "Say why") {
		t.Errorf("left out without a reason: %d, %q", s.code, s.text(".error"))
	}
	s := a.follow(a.post("/knows/leave", map[string][]string{"id": {id}, "reason": {"measured damp"}}))
	if !strings.Contains(s.text(".leave"), "measured damp") || using() == learned {
		t.Errorf("left out, it is still %q: %s", using(), s.text(".number-band .leave"))
	}
	a.post("/knows/leave", map[string][]string{"id": {id}, "act": {"back"}})
	if got := using(); got != learned {
		t.Errorf("taken in again it is %q, was %q", got, learned)
	}
}

// What a making taught of the sheet stands in sentences; the times by hand
// stand together in one table, in minutes, and what was written down dozens of
// times is summed up.
func TestTimesByHandTogether(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	record := "/makings/" + m.ID + "/record"
	form := filled(a.get(record))
	form.Set("size-1-long", "288")
	form.Set("size-1-short", "204")
	for i := range m.Plan.Steps {
		form.Set(fmt.Sprintf("minutes-%d", i+1), "25")
	}
	page := a.follow(a.post(record, form))
	table := page.Find("#taught ~ .main details table")
	if n := table.Find("tbody tr").Length(); n != len(m.Plan.Steps) {
		t.Errorf("%d lines of time by hand, want the %d steps", n, len(m.Plan.Steps))
	}
	for i, step := range m.Plan.Steps {
		cells := strings.Fields(table.Find("tbody tr").Eq(i).Find("td").Text())
		// The handbook's factor is 1, so what was reckoned before is the usual time.
		want := []string{"25", "min" + strconv.FormatFloat(step.UsualMin, 'f', 0, 64)}
		if len(cells) < 2 || cells[0] != want[0] || cells[1] != want[1] {
			t.Errorf("%s: the line says %q, want 25 min and %g min", step.Name, cells, step.UsualMin)
		}
	}
	if got := page.Find(".lesson").Text(); strings.Contains(got, "ime by hand") || !strings.Contains(got, "Drying shrinkage") {
		t.Errorf("the lessons are %q", got)
	}
	if got := page.text(".history > li summary"); !strings.Contains(got, fmt.Sprintf("Time by hand of %d steps", len(m.Plan.Steps))) {
		t.Errorf("the minutes are not summed up: %q", got)
	}
	known := a.get("/knows")
	if n := known.Find(".number-row").Length(); n != len(m.Plan.Steps) || known.Find("details .number-row").Length() != n {
		t.Errorf("%d steps in the folded table of times, want %d", n, len(m.Plan.Steps))
	}
	if got := known.text(".number-row:first-of-type td"); !strings.Contains(got, "25 min "+m.Tag) {
		t.Errorf("the first step says %q", got)
	}
}
