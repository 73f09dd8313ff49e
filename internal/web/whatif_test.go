package web_test

import (
	"net/http"
	"strings"
	"testing"

	"vatside/internal/studio"
)

// promised is a studio with named equipment, a sheet of A4 promised, and the
// address of its plan.
func promised(t *testing.T) (*aStudio, string) {
	t.Helper()
	a := newStudio(t)
	saved := a.typedIn(map[string][]row{
		"vat":    {{"name": "big vat", "holds": "80"}},
		"mould":  {{"name": "A4 wove", "size": "305 x 216"}, {"name": "small", "size": "150 x 110"}},
		"beater": {{"name": "Hollander", "kind": "beater", "rated": "700", "water": "30"}, {"name": "blender", "kind": "blender", "rated": "20", "water": "1.5"}},
		"press":  {{"name": "jack", "force": "60 kN"}},
		"dryer":  {{"name": "stack", "places": "24", "airflow": "0.035"}},
	}, nil)
	if saved.code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", saved.code, saved.text(".wrong-summary"))
	}
	p := studio.StartingPapers()[2] // calligraphy, of cotton rag
	p.Sheet.LongMM, p.Sheet.ShortMM = 297, 210
	paper, err := a.records.SavePaper(t.Context(), studio.Paper{Name: "Quill", Design: p.Design, Sheet: p.Sheet})
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.records.SaveBrief(t.Context(), studio.Brief{PaperID: paper.ID, GoodSheets: 40, Sheet: p.Sheet, ConfidencePct: 90})
	if err != nil {
		t.Fatal(err)
	}
	return a, "/briefs/" + b.ID
}

// What is out of order changes the plan, and what changes is told; nothing of it
// is kept.
func TestWhatIfOutOfOrder(t *testing.T) {
	t.Parallel()
	a, brief := promised(t)
	plain := a.get(brief)
	if n := plain.Find(`#what-if [name="without"]`).Length(); n != 7 || plain.Find("#what-if[open]").Length() != 0 || plain.Find(".answer-of").Length() != 0 {
		t.Fatalf("%d things can be asked about: %s", n, plain.text("#what-if"))
	}
	if got := plain.text("#what-if label:nth-child(1)"); !strings.HasSuffix(got, "in this plan") {
		t.Errorf("what the plan rests on stands first, not %q", got)
	}
	was := asJSON(t, a.kit())
	for without, says := range map[string][]string{
		"Hollander":                   {"Taken instead: blender.", "Beater loads", "more"},
		"hollander":                   {"Without Hollander", "Taken instead: blender."},
		"Hollander&without=blender":   {"Without Hollander and blender", "No beater of yours is left"},
		"blender":                     {"Nothing changes"},
		"A4+wove":                     {"It cannot be made", "No mould gives 297 × 210 mm", "small"},
		"A4+wove&without=small":       {"No mould of yours is left. It wants one of", "inside the deckle"},
		"jack":                        {"No press of yours is left.", "Without a press sheets come much wetter", "Drying"},
		"big+vat":                     {"No vat of yours is left. What follows reckons with a usual one."},
		"stack&without=no+such+thing": {"Without stack", "No dryer of yours is left"},
	} {
		s := a.get(brief + "?without=" + without)
		got := strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s.text(".answer-of"))
		if s.code != http.StatusOK || s.Find("#what-if[open]").Length() != 1 || s.text(".promise") != plain.text(".promise") {
			t.Errorf("%s: status %d", without, s.code)
		}
		for _, part := range says {
			if !strings.Contains(got, part) {
				t.Errorf("without %s the page lacks %q: %s", without, part, got)
			}
		}
	}
	if s := a.get(brief + "?without=no+such+thing"); s.code != http.StatusOK || s.Find(".answer-of").Length() != 0 {
		t.Errorf("without what is not there: %d, %s", s.code, s.text(".answer-of"))
	}
	if now := asJSON(t, a.kit()); now != was {
		t.Errorf("asking changed the studio: %s", now)
	}
}

// Only what changes is in the table, both ways.
func TestWhatIfTellsChangesOnly(t *testing.T) {
	t.Parallel()
	a, brief := promised(t)
	s := a.get(brief + "?without=Hollander")
	if n := s.Find(".answer-of tbody tr:not(.row-note)").Length(); n == 0 || strings.Contains(s.text(".answer-of table"), "the same") {
		t.Errorf("%d rows: %s", n, s.text(".answer-of table"))
	}
	if got := s.text(".answer-of table"); strings.Contains(got, "Formed") || !strings.Contains(got, "At the beater") {
		t.Errorf("a beater changes: %s", got)
	}
}

// What is out of order already is not asked about, nor what has no name; without
// names there is nothing to ask.
func TestWhatIfAsksOfNamedThings(t *testing.T) {
	t.Parallel()
	a, brief := promised(t)
	form := filled(a.get("/studio"))
	form.Set("beater-2-state", "out")
	form.Set("press-1-name", "")
	if s := a.post("/studio", form); s.code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", s.code, s.text(".wrong-summary"))
	}
	if got := a.get(brief).text("#what-if"); strings.Contains(got, "blender") || strings.Contains(got, "jack") || !strings.Contains(got, "Hollander") {
		t.Errorf("asked about: %s", got)
	}
	if got := a.get(brief + "?without=Hollander").text(".answer-of"); !strings.Contains(got, "No beater of yours is left") {
		t.Errorf("the last one that was in order: %s", got)
	}
	b := newStudio(t)
	if n := b.get(b.firstEvening()).Find("#what-if").Length(); n != 0 {
		t.Error("a studio without names is asked about them")
	}
}
