package web_test

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// spaced reads narrow and no-break spaces as spaces.
var spaced = strings.NewReplacer("\u00a0", " ", "\u202f", " ")

func (s sheet) says(selector string) string { return spaced.Replace(s.text(selector)) }

// cooking asks the page of raw fibre.
func (a *aStudio) cooking(change row) sheet {
	a.t.Helper()
	form := filled(a.get("/cooks/new"))
	for k, v := range change {
		form.Set(k, v)
	}
	return a.get("/cooks/new?" + form.Encode())
}

// begun begins the cook that a page answers with, me being present.
func (a *aStudio) begun(s sheet, change row) sheet {
	a.t.Helper()
	form := posted(s, `form[action="/cooks"]`)
	form.Set("heed-1", "yes")
	for k, v := range change {
		form.Set(k, v)
	}
	return a.post("/cooks", form)
}

// posted is one form of a page as a browser would send it.
func posted(s sheet, selector string) url.Values {
	s.t.Helper()
	one := s.Find(selector).First().Clone()
	if one.Length() == 0 {
		s.t.Fatalf("there is no %s: %s", selector, s.text("main"))
	}
	main := s.Find("main").First()
	main.PrependSelection(one)
	return filled(s)
}

// From a bag of iris leaves to a lot of cooked fibre: what it makes, what goes
// into the pot, the log, the shelf, and what it taught.
func TestIrisLeavesToTheShelf(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	lot := a.put(url.Values{"what": {"iris leaf"}, "amount": {"500 g"}, "moisture": {"10"}})
	way := a.get(lot).Find(`a[href^="/cooks/new?lot="]`).AttrOr("href", "")
	ask := a.get(way)
	if got := ask.Find("[name=fibre]").AttrOr("value", ""); got != "iris leaf" {
		t.Fatalf("the lot's fibre is not filled in: %q", got)
	}
	form := filled(ask)
	form.Set("alkali", "soda ash")
	form.Set("charge", "20")
	answer := a.get("/cooks/new?" + form.Encode())
	if answer.code != http.StatusOK {
		t.Fatalf("status %d: %s", answer.code, answer.text(".wrong-summary"))
	}
	// 500 g with 10 % water is 450 g dry: 90 g of soda ash, 7.02 L, 12.8 g/L
	for id, want := range map[string]string{"pot_dry_g": "450 g", "alkali_g": "90 g", "liquor_l": "7.02 L", "alkali_g_l": "12.8 g/L"} {
		if got := answer.says("#figure-" + id + " .value"); got != want {
			t.Errorf("%s is %q, want %q", id, got, want)
		}
	}
	if s := a.post("/cooks", posted(answer, `form[action="/cooks"]`)); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text(".present"), "ticks that the cautions were read") {
		t.Errorf("begun without a tick: status %d, %q", s.code, s.text(".present"))
	}
	cook := a.begun(a.get("/cooks/new?"+form.Encode()), row{"who-2": "KB", "heed-2": "yes", "place": "behind the mill", "permission": "the miller"})
	page := a.follow(cook)
	if got := page.says("article"); !strings.Contains(got, "me, KB") || !strings.Contains(got, "behind the mill") {
		t.Errorf("the cook does not say who was present and where it grew: %.400s", got)
	}
	if got := a.get(lot).says("article"); !strings.Contains(got, "500 g into the pot") {
		t.Errorf("the raw lot did not go down: %.300s", got)
	}
	at := cook.to()
	a.wrote(at, row{"kind": "simmer", "at": "10:00"})
	a.wrote(at, row{"kind": "reading", "at": "10:30", "temp": "98 °C"})
	a.wrote(at, row{"kind": "test", "at": "11:00", "passed": "no"})
	a.wrote(at, row{"kind": "test", "at": "13:00", "passed": "yes"})
	a.wrote(at, row{"kind": "rinse", "at": "14:00", "litres": "7 L", "ph": "8"})
	end := posted(a.get(at+"?do=end"), `form[action$="/end"]`)
	end.Set("wet", "900 g")
	end.Set("handful", "100")
	end.Set("dried", "12")
	end.Set("left", "0")
	end.Set("kept", "drained")
	made := a.post(at+"/end", end)
	shelf := a.follow(made)
	if got := shelf.says("article"); !strings.Contains(got, "900 g wet, 108 g dry") || !strings.Contains(strings.ToLower(got), "use by") || !strings.Contains(got, "cooked") {
		t.Errorf("the cooked lot: %.400s", got)
	}
	for _, paper := range []string{"a4", "letter"} {
		pdf := a.get(at + "/card.pdf?paper=" + paper)
		if pdf.code != http.StatusOK || !strings.HasPrefix(pdf.raw, "%PDF") {
			t.Errorf("cook card on %s: status %d", paper, pdf.code)
		}
		if dir := os.Getenv("VATSIDE_PICTURES"); dir != "" {
			_ = os.WriteFile(filepath.Join(dir, "cook-"+paper+".pdf"), []byte(pdf.raw), 0o600)
		}
	}
	next := a.cooking(row{"fibre": "iris leaf", "amount": "450 g", "left": "0", "alkali": "soda ash", "charge": "20"})
	if got := next.says("article"); !strings.Contains(got, "You saw 24 %") || !strings.Contains(got, "You saw 3 h at 98 °C") {
		t.Errorf("what was seen is not in the next cook's figures: %.600s", got)
	}
}

// wrote writes an entry in a cook's log.
func (a *aStudio) wrote(cook string, entry row) sheet {
	a.t.Helper()
	form := posted(a.get(cook), `form[action$="/entries"]`)
	for k, v := range entry {
		form.Set(k, v)
	}
	s := a.post(cook+"/entries", form)
	if s.code != http.StatusSeeOther {
		a.t.Fatalf("%v: status %d: %s", entry, s.code, s.text(".wrong-summary"))
	}
	return s
}
