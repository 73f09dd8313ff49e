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
	end.Set("bag", "50 g")
	made := a.post(at+"/end", end)
	shelf := a.follow(made)
	if got := shelf.says("article"); !strings.Contains(got, "900 g wet, 108 g dry") || !strings.Contains(strings.ToLower(got), "use by") || !strings.Contains(got, "cooked") || !strings.Contains(spaced.Replace(shelf.Find("textarea[name=note]").Text()), "2 bags of 417 g wet, 66.7 g over") {
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

// The chapters of raw fibre say what may hurt with its source, and the studio's
// own numbers stand beside the cautions, in the handbook and at the pot.
func TestChaptersOfRawFibre(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	page := a.get("/handbook/cautions")
	for id, want := range map[string]string{
		"#lye-water": "at most 38 °C", "#eye-alkali": "Rinse for 60 minutes", "#skin-alkali": "Never neutralise on skin", "#pot": "Never aluminium", "#bleach-acid": "chlorine gas",
	} {
		if got := page.says(id); !strings.Contains(got, want) || !strings.Contains(got, "rests on") {
			t.Errorf("%s says %q, want %q and its source", id, got, want)
		}
	}
	if !strings.Contains(page.says(".lead"), "Local rules and licensed practice come first") {
		t.Error("the sentence on local rules is missing")
	}
	form := filled(a.get("/studio/help"))
	form.Set("poison", "Poison centre 000 111")
	form.Set("low", "9")
	form.Set("high", "6")
	if s := a.post("/studio/help", form); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("#f-low-error"), "under the upper") {
		t.Errorf("limits upside down: status %d, %q", s.code, s.text("#f-low-error"))
	}
	form.Set("low", "6.5")
	form.Set("high", "10")
	a.follow(a.post("/studio/help", form))
	if got := a.get("/handbook/cautions").says(".call"); !strings.Contains(got, "000 111") {
		t.Errorf("the studio's own number is not in the handbook: %q", got)
	}
	answer := a.cooking(row{"fibre": "kozo", "amount": "450 g"})
	if got := answer.says(".call"); !strings.Contains(got, "000 111") {
		t.Errorf("nor at the pot: %q", got)
	}
	if got := answer.says("#answer"); !strings.Contains(got, "between pH 6.5 and 10") || strings.Contains(got, "stand in until you have asked") {
		t.Errorf("the drain's own limit is not told: %.300s", got)
	}
	plants := a.get("/handbook/plants").says("article")
	for _, want := range []string{"Identify it for certain", "ask who owns it", "Giant hogweed", "November to February", "Gampi"} {
		if !strings.Contains(plants, want) {
			t.Errorf("the plants lack %q", want)
		}
	}
	a.typedIn(nil, row{"iron": "0.5"})
	keeping := a.get("/handbook/keeping").says("article")
	for _, want := range []string{"0.5, beyond", "not measured", "Cotton pulp", "costs permanence"} {
		if !strings.Contains(keeping, want) {
			t.Errorf("water and keeping lack %q", want)
		}
	}
	if got := a.get("/handbook?find=hogweed").says("main"); !strings.Contains(got, "Giant hogweed") {
		t.Errorf("the search finds no hogweed: %.200s", got)
	}
}
