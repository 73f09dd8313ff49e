package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"vatside/internal/studio"
)

// read writes a reading down through the page and returns the page after it.
func (a *aStudio) read(at string, typed map[string]string) sheet {
	a.t.Helper()
	form := filled(a.get(at))
	for name, text := range typed {
		form.Set(name, text)
	}
	return a.follow(a.post(at, form))
}

// Before a reading the page asks for one; after one it says in words how much
// longer, between what it lies nine times in ten, and what that rests on.
func TestBeatingSaysHowMuchLonger(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	at := "/makings/" + m.ID + "/beating"
	page := a.get(at)
	if got := page.text("h1"); page.code != http.StatusOK || got != "Take a first reading." {
		t.Fatalf("status %d: %q", page.code, got)
	}
	page = a.read(at, map[string]string{"hours": "45 min", "value": "6", "scale": "drain_seconds", "target": "12"})
	if got := page.text("h1"); !regexp.MustCompile(`^About \d.* more from the last reading\.$`).MatchString(got) {
		t.Errorf("how much longer: %q", got)
	}
	if got := page.text(".lead"); !strings.HasPrefix(got, "Nine times in ten between ") && !strings.HasPrefix(got, "At least ") {
		t.Errorf("how sure: %q", got)
	}
	if got := page.text(".opening .note"); !strings.Contains(got, "To beat to: 12 s") || !strings.Contains(got, "more on what was expected") {
		t.Errorf("goal and ground: %q", got)
	}
	if got := page.text("table"); !strings.Contains(got, "45 min") {
		t.Errorf("the readings: %q", got)
	}
	if got := filled(page).Get("target"); got != "12" {
		t.Errorf("the target was not kept: %q", got)
	}
	page = a.read(at+"?target=12", map[string]string{"hours": "2", "value": "13"})
	if got := page.text("h1"); got != "It is there, or within minutes of it." {
		t.Errorf("past the target: %q", got)
	}
}

// Two runs of one test that lie more than 4 % apart are flagged, those nearer
// are not; the earliest reading stands first, however they were written.
func TestRunsThatLieApart(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	at := "/makings/" + m.ID + "/beating"
	a.read(at, map[string]string{"hours": "1", "value": "10", "scale": "drain_seconds"})
	page := a.read(at, map[string]string{"hours": "1", "value": "10.3"})
	if got := page.text("table"); strings.Contains(got, "differ") {
		t.Errorf("3 %% apart: %q", got)
	}
	page = a.read(at, map[string]string{"hours": "1", "value": "10.9"})
	if got := page.text("table"); !strings.Contains(got, "differ by more than 4") {
		t.Errorf("9 %% apart: %q", got)
	}
	page = a.read(at, map[string]string{"hours": "30 min", "value": "8"})
	if got := page.text("tbody tr:first-child"); !strings.HasPrefix(got, "30 min") {
		t.Errorf("the first line is %q", got)
	}
}

// What cannot be meant is refused at its field, and what was typed stays; the
// roll alone is a reading too, and loads stay apart.
func TestReadingsRefused(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	at := "/makings/" + m.ID + "/beating"
	for _, c := range []struct{ field, typed, says string }{
		{"hours", "", "how long"},
		{"hours", "a while", ""},
		{"hours", "40", "between 0 and 24"},
		{"value", "slow", "number"},
		{"value", "", "where the roll stands"},
		{"load", "none", "whole number"},
		{"water", "90", "between 1 and 60"},
		{"stock", "30", "g/l"},
	} {
		form := filled(a.get(at))
		for name, text := range map[string]string{"hours": "1", "value": "10", "scale": "drain_seconds"} {
			form.Set(name, text)
		}
		form.Set(c.field, c.typed)
		s := a.post(at, form)
		if got := strings.ToLower(s.text("#f-" + c.field + "-error")); s.code != http.StatusUnprocessableEntity || got == "" || !strings.Contains(got, c.says) {
			t.Errorf("%s %q: status %d, at the field stands %q: %s", c.field, c.typed, s.code, got, s.text(".wrong-summary"))
		}
		for name := range form {
			if back := filled(s).Get(name); name != "entry" && back != form.Get(name) {
				t.Errorf("%s %q: of %s is left %q, was %q", c.field, c.typed, name, back, form.Get(name))
			}
		}
	}
	if n := len(a.events(m.ID)); n != 0 {
		t.Errorf("%d entries were made of what was refused", n)
	}
	if s := a.get(at + "?target=slow"); s.code != http.StatusUnprocessableEntity || s.text("#f-target-error") == "" {
		t.Errorf("a target that is none: status %d", s.code)
	}
	page := a.read(at, map[string]string{"hours": "20 min", "roll": "down, brushing", "load": "2"})
	if got := page.text("section:has(#roll)"); !strings.Contains(got, "20 min") || !strings.Contains(got, "down, brushing") || !strings.Contains(page.text(".strip-end"), "load 2") {
		t.Errorf("the roll: %q, %q", got, page.text(".strip-end"))
	}
	if got := a.get(at + "?load=1").Find("#roll").Length(); got != 0 {
		t.Error("the first load shows the roll of the second")
	}
}

// A reading sent twice counts once.
func TestReadingSentTwice(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	at := "/makings/" + m.ID + "/beating"
	form := filled(a.get(at))
	for name, text := range map[string]string{"hours": "1", "value": "10", "scale": "drain_seconds"} {
		form.Set(name, text)
	}
	a.follow(a.post(at, form))
	second := a.post(at, form)
	if second.code != http.StatusSeeOther || len(a.events(m.ID)) != 1 {
		t.Errorf("status %d, %d entries", second.code, len(a.events(m.ID)))
	}
	form.Set("value", "11")
	if s := a.post(at, form); s.code != http.StatusConflict || len(a.events(m.ID)) != 1 {
		t.Errorf("with another value: status %d, %d entries", s.code, len(a.events(m.ID)))
	}
}

// What a making saw of density and pick-up is told with its unit.
func TestLessonsHaveUnits(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	form := filled(a.get("/makings/" + m.ID + "/record"))
	form.Set("dry-1-grams", "62.5")
	a.follow(a.post("/makings/"+m.ID+"/record", form))
	if _, err := a.records.Record(t.Context(), m.ID, studio.NewEvent("c", morning, studio.Caliper{ThicknessMM: []float64{0.17, 0.18}})); err != nil {
		t.Fatal(err)
	}
	lesson := regexp.MustCompile(`Density of the dry sheet: this making says [\d.]+.g/cm³\. It was reckoned with [\d.]+.g/cm³ \([\d.]+–[\d.]+.g/cm³`)
	if got := a.get("/makings/" + m.ID).text(".lesson"); !lesson.MatchString(got) {
		t.Errorf("the lesson reads %q", got)
	}
	if got := a.get("/knows").text("main"); !regexp.MustCompile(`[\d.]+.g/cm³`).MatchString(got) {
		t.Error("the page of what is known says the density without its unit")
	}
}
