package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/plan"
	sheets "vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/trouble"
)

// Every fibre has its page, and every number on it says what it rests on.
func TestFibresOfTheHandbook(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, f := range fibre.All() {
		page := a.get("/handbook/fibres/" + url.PathEscape(f.Name))
		sound(t, f.Name, page)
		for i := range page.Find(".numbers dd").Length() {
			if text := page.Find(".numbers dd").Eq(i).Text(); !strings.Contains(text, "rests on") || strings.Contains(text, "NaN") {
				t.Errorf("%s: %q", f.Name, text)
			}
		}
		if len(f.Cautions) != page.Find(".opening .caution").Length() {
			t.Errorf("%s: cautions are missing", f.Name)
		}
	}
	page := a.get("/handbook/fibres/abaca")
	// 3 + 25·(1 − exp(−4/4.5)) = 17.7 %, worked by hand from the row of the table.
	if got := page.text("table"); !strings.Contains(got, "17.7") || !strings.Contains(got, "8") {
		t.Errorf("shrinkage: %s", got)
	}
	if got := page.text(".numbers"); !strings.Contains(got, "0.7 g/cm³") || !strings.Contains(got, "0.6–1.05 g/cm³") {
		t.Errorf("density: %s", got)
	}
	a.cookies["units"] = "us"
	if got := a.get("/handbook/fibres/abaca").text(".numbers"); !strings.Contains(got, "0.197 in") { // 5 mm
		t.Errorf("length: %s", got)
	}
	if page := a.get("/handbook/fibres/unobtainium"); page.code != http.StatusNotFound {
		t.Errorf("a fibre that is none: status %d", page.code)
	}
	if page := a.get("/handbook/fibres?find=manila"); !strings.Contains(page.text(".found"), "Abaca") || strings.Contains(page.text(".found"), "Gampi") {
		t.Errorf("manila finds %s", page.text(".found"))
	}
}

func TestAdditivesUnitsAndSizes(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get("/handbook/additives")
	sound(t, "additives", page)
	if n := page.Find(".entry-of").Length(); n != len(furnish.Additives()) {
		t.Errorf("%d additives, want %d", n, len(furnish.Additives()))
	}
	if got := page.text("#akd"); !strings.Contains(got, "Not with alum") {
		t.Errorf("AKD and alum: %s", got)
	}
	page = a.get("/handbook/units")
	sound(t, "units", page)
	// 65 lb of 500 sheets of 20 × 26 in; a pound is 453.59237 g and an inch 25.4 mm
	// by definition: 65·453.592 / (500·0.508·0.6604) = 175.8 g/m².
	page = a.get("/handbook/units?" + url.Values{"text": {"65 lb cover"}, "to": {"g/m2"}}.Encode())
	if got := page.text(".answer .number"); !strings.HasPrefix(got, "176") || page.Find(".working").Length() == 0 {
		t.Errorf("65 lb cover is %q", got)
	}
	for field, form := range map[string]url.Values{"text": {"text": {"65"}, "to": {"g"}}, "to": {"text": {"65 g"}, "to": {"furlongs"}}} {
		page = a.get("/handbook/units?" + form.Encode())
		if page.code != http.StatusUnprocessableEntity || page.text("#f-"+field+"-error") == "" || page.Find("[name="+field+"]").AttrOr("value", "") != form.Get(field) {
			t.Errorf("%v: status %d, %q", form, page.code, page.text(".wrong-summary"))
		}
	}
	page = a.get("/handbook/papers")
	sound(t, "sizes", page)
	if page.Find(".terms dt").Length() != len(sheets.NamedSizes()) {
		t.Error("sizes are missing")
	}
}

func TestFaultsOfTheHandbook(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get("/handbook/faults")
	sound(t, "faults", page)
	if n := page.Find(".fault").Length(); n != len(trouble.Symptoms()) {
		t.Errorf("%d faults, want %d", n, len(trouble.Symptoms()))
	}
	page = a.get("/handbook/faults?find=" + url.QueryEscape("one corner is thick"))
	if page.Find(".fault").Length() != 1 || !strings.Contains(page.text(".fault"), "Test") || !strings.Contains(page.text(".fault"), "rests on") {
		t.Errorf("one thick corner: %.300s", page.text("main"))
	}
	if page = a.get("/handbook/faults?find=zeppelin"); page.code != http.StatusUnprocessableEntity || page.text("#f-find-error") == "" {
		t.Errorf("what is no fault: status %d", page.code)
	}
}

// One search finds in the new chapters too.
func TestSearchOfTheChapters(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for asked, want := range map[string]string{"manila hemp": "Abaca", "tororo": "Neri", "watermark": "Pulp clings to the watermark wires", "bristol": "basis", "A4": "A4"} {
		if got := a.get("/handbook?find=" + url.QueryEscape(asked)).text("main"); !strings.Contains(strings.ToLower(got), strings.ToLower(want)) {
			t.Errorf("%q does not find %s: %.300s", asked, want, got)
		}
	}
}

// A making of long kozo on a coarse mould, sheets that stuck: the making's own
// page leads to the causes, likely ones first, with the reason from its facts.
func TestTroubleOfAMaking(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	m.Request.Paper.Furnish = []plan.Part{{Fibre: "kozo", SharePct: 100}}
	m.Request.Studio.Moulds = []plan.Mould{{Name: "A4", LongMM: 320, ShortMM: 230, MeshCM: new(8.0)}}
	m.Plan.Mould = "A4"
	m, err := a.records.StartMaking(t.Context(), m.BriefID, m.Request, m.Plan)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range []studio.Body{studio.Post{Post: 1, Pulled: 2, KissedOff: 2}, studio.Post{Post: 1, Pulled: 12}} {
		if _, err := a.records.Record(t.Context(), m.ID, studio.NewEvent("e"+string(rune('0'+i)), morning.Add(time.Duration(i)*time.Minute), b)); err != nil {
			t.Fatal(err)
		}
	}
	trouble := "/makings/" + m.ID + "/trouble"
	if a.get("/makings/"+m.ID).Find(`a[href="`+trouble+`"]`).Length() != 1 {
		t.Error("the making does not lead to it")
	}
	sound(t, "not asked yet", a.get(trouble))
	page := a.get(trouble + "?symptom=" + url.QueryEscape("stuck to the mould"))
	sound(t, "asked", page)
	likely := page.Find("[aria-labelledby=voice-for]").Text()
	for _, want := range []string{"The face has 8 wires to the cm, and long fibre (kozo)", "cover cloth", "No formation aid was used", "Test", "Change"} {
		if !strings.Contains(likely, want) {
			t.Errorf("likely here lacks %q: %.600s", want, likely)
		}
	}
	page = a.get(trouble + "?symptom=first-sheets")
	if got := page.text("[aria-labelledby=count]"); !strings.Contains(got, "2 warm-up sheets at the start of each run") {
		t.Errorf("count with: %q", got)
	}
	page = a.get(trouble + "?symptom=zeppelin")
	if page.code != http.StatusUnprocessableEntity || page.text("#f-symptom-error") == "" || page.Find("[name=symptom]").AttrOr("value", "") != "zeppelin" {
		t.Errorf("what is no fault: status %d", page.code)
	}
	if page = a.get("/makings/none/trouble"); page.code != http.StatusNotFound {
		t.Errorf("no making: status %d", page.code)
	}
}
