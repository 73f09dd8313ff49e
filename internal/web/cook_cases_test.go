package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// What people ask about raw fibre, each with the answer worked out by hand. Iris
// cut fresh, 80 % of it water, is a fifth of it dry; a pound is 454 g; 22.7 g of
// vinegar stand against a gram of soda ash; water boils at 93.4 °C at 2,000 m.
func TestRawFibreAsked(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	for name, c := range map[string]struct {
		asked  row
		says   map[string]string // text at a place of the page
		silent string
	}{
		"half a pound of fresh iris and tablespoons": {
			row{"fibre": "iris", "stage": "fresh", "amount": "0.5 lb", "handful": "100", "dried": "20", "left": "0", "charge": "1.5 US tbsp"},
			map[string]string{"#figure-dry_plant_g .value": "45.4 g", "#notes-of": "Spoons are not grams: that is anything from 12 to 22 g", "#way-of": "Good sheets"}, ""},
		"a pound by the supplier's sheet": {
			row{"fibre": "kenaf", "amount": "1 lb", "left": "0", "charge": "20"},
			map[string]string{"#figure-alkali_g .value": "90.7 g", "#figure-liquor_l .value": "7.08 L", "#figure-alkali_g_l .value": "12.8 g/L", "#figure-ph_cold .value": "11.4"}, ""},
		"vinegar after a cook": {
			row{"fibre": "corn husk", "amount": "450", "left": "0", "charge": "20"},
			map[string]string{"#figure-vinegar_l .value": "2.04 L", "#rinse-of": "Rinse first"}, ""},
		"soda ash and lime by an old book": {
			row{"fibre": "kozo", "amount": "1000", "left": "0", "charge": "23.4", "lime": "15.6", "water": "20 °C"},
			map[string]string{"#figure-lye_made_g .value": "168 g", "#notes-of": "This is a lye liquor, not a soda liquor", ".cautions": "Rinse for 60 minutes"}, ""},
		"a high studio": {
			row{"fibre": "kozo", "amount": "450", "charge": "20", "altitude": "2000 m"},
			map[string]string{"#figure-boil_c .value": "93.3 °C", "#figure-time_factor .value": "1.62"}, ""},
		"leek by the bag, blended": {
			row{"way": "want", "fibre": "daylily", "sheets": "20", "size": "A4", "grammage": "80", "share": "60"},
			map[string]string{"#figure-sheets .value": "20 sheets", "#way-of": "Fresh plant"}, ""},
		"washing soda crystals": {
			row{"fibre": "iris", "amount": "450", "left": "0", "alkali": "washing soda crystals", "charge": "54"},
			map[string]string{"#figure-soda_ash_equal_g .value": "90 g", "#weigh-of": "tablespoons"}, ""},
	} {
		page := a.cooking(c.asked)
		if page.code != http.StatusOK {
			t.Errorf("%s: status %d: %s", name, page.code, page.text(".wrong-summary"))
			continue
		}
		for at, want := range c.says {
			selector := at
			if id, of := strings.CutSuffix(at, "-of"); of { // all that stands under a heading
				selector = `section[aria-labelledby="` + strings.TrimPrefix(id, "#") + `"]`
			}
			if got := page.says(selector); !strings.Contains(got, want) {
				t.Errorf("%s: %s says %q, want %q", name, at, got, want)
			}
		}
	}
}

// What must not be done is refused at its field with the reason, and nothing
// that was typed is lost.
func TestRawFibreRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	for _, c := range []struct {
		asked     row
		at, wants string
	}{
		{row{"fibre": "kozo", "amount": "450", "alkali": "lye", "charge": "9", "water": "90 °C"}, "water", "never the water on the lye"},
		{row{"fibre": "kozo", "amount": "450", "alkali": "lye", "charge": "20", "dissolve": "0.24 L"}, "dissolve", "10 % by mass"},
		{row{"fibre": "kozo", "amount": "450", "pot": "aluminium"}, "pot", "hydrogen"},
		{row{"fibre": "oleander", "amount": "450"}, "fibre", "Never for fibre"[1:]},
		{row{"fibre": "kozo", "amount": ""}, "amount", "how much"},
		{row{"fibre": "kozo", "amount": "450", "charge": "a pinch"}, "charge", "a share such as 20 %"},
		{row{"fibre": "kozo", "amount": "450", "alkali": "wood-ash lye"}, "strength", "measure the strength"},
		{row{"fibre": "kozo", "amount": "450", "lime": "10", "alkali": "lye", "charge": "9"}, "lime", "beside soda ash only"},
		{row{"fibre": "kozo", "amount": "450", "handful": "100"}, "dried", "two weights"},
		{row{"fibre": "kozo", "way": "want", "sheets": "many"}, "sheets", "whole number"},
		{row{"fibre": "kozo", "amount": "450", "charge": "180"}, "charge", "from 0.1 to 150"},
	} {
		page := a.cooking(c.asked)
		got := page.says("#f-" + c.at + "-error")
		if page.code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(got), strings.ToLower(c.wants)) {
			t.Errorf("%v: status %d, at %s stands %q: %s", c.asked, page.code, c.at, got, page.text(".wrong-summary"))
		}
		back := filled(page)
		for name, typed := range c.asked {
			if back.Get(name) != typed {
				t.Errorf("%v: of %s is left %q", c.asked, name, back.Get(name))
			}
		}
	}
}

// Five pounds of pulp are 181, 408 or 2,087 g of fibre, by how wet they are; a
// bundle of a kilogram keeps its day and its place.
func TestPoundsWetAndDry(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for typed, want := range map[string]string{"5 lb wet at 8 %": "181 g dry", "5 lb wet at 18 %": "408 g dry"} {
		if got := a.get(a.put(url.Values{"what": {"kozo"}, "form": {"cooked"}, "amount": {typed}})).says("h1"); !strings.Contains(got, want) {
			t.Errorf("%s is told as %q, want %q", typed, got, want)
		}
	}
	if l := a.lot(a.put(url.Values{"what": {"kozo"}, "amount": {"5 lb"}, "moisture": {"8"}})); !near(l.AmountG*(1-*l.MoisturePct/100), 2087) {
		t.Errorf("air-dry: %g g", l.AmountG)
	}
	bundle := a.get(a.put(url.Values{"what": {"straw"}, "amount": {"1 kg"}, "since": {"2029-10-04"}, "note": {"cut behind the mill, nodes off"}}))
	if got := bundle.says("article"); !strings.Contains(got, "4 October 2029") || bundle.Find("textarea[name=note]").Text() != "cut behind the mill, nodes off" {
		t.Errorf("the bundle's day and place: %.300s", got)
	}
}

// An entry is put right by another and struck out by one; what was first written
// stays readable.
func TestCookLogPutRight(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	cook := a.begun(a.cooking(row{"fibre": "kozo", "amount": "450"}), nil).to()
	a.wrote(cook, row{"kind": "test", "at": "13:00", "passed": "yes"})
	a.wrote(cook, row{"kind": "simmer", "at": "11:00"})
	a.wrote(cook, row{"kind": "reading", "at": "11:30", "temp": "12 °C"})
	if got := a.get(cook).says(".lead"); !strings.Contains(got, "parted after 2 h") {
		t.Errorf("out of order: %q", got)
	}
	right := a.get(cook).Find(`.history a[href*="corrects="]`).First().AttrOr("href", "")
	form := posted(a.get(strings.TrimSuffix(right, "#entry")), `form[action$="/entries"]`)
	form.Set("at", "10:30")
	a.follow(a.post(cook+"/entries", form))
	page := a.get(cook)
	if got := page.says(".lead") + page.says(".history"); !strings.Contains(got, "parted after 2.5 h") || !strings.Contains(got, "First written:") {
		t.Errorf("put right: %q", got)
	}
	last := page.Find(`.history a[href*="corrects="]`).Eq(1).AttrOr("href", "")
	form = posted(a.get(strings.TrimSuffix(last, "#entry")), `form[action$="/entries"]`)
	form.Set("do", "strike")
	a.follow(a.post(cook+"/entries", form))
	if got := a.get(cook).says(".struck"); !strings.Contains(got, "struck out") {
		t.Errorf("struck out: %q", got)
	}
	form = posted(a.get(cook), `form[action$="/entries"]`)
	form.Set("kind", "reading")
	form.Set("ph", "15")
	form.Set("text", "kept")
	if s := a.post(cook+"/entries", form); s.code != http.StatusUnprocessableEntity || s.text("#f-ph-error") == "" || s.text("textarea[name=text]") != "kept" {
		t.Errorf("pH 15: status %d, %q", s.code, s.text("#f-ph-error"))
	}
	if s := a.get("/cooks/none"); s.code != http.StatusNotFound {
		t.Errorf("a cook that is not there: status %d", s.code)
	}
	if got := a.get("/cooks").says("article"); !strings.Contains(got, "Kozo") {
		t.Errorf("the list: %q", got)
	}
}

// A US reader asks and is told in their units, the sentences of caution too; what
// was typed in the other units is still meant so.
func TestCookInUSUnits(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	a.post("/units", url.Values{"units": {"us"}, "back": {"/cooks/new"}})
	page := a.cooking(row{"fibre": "kozo", "amount": "16", "left": "0", "alkali": "lye", "charge": "9", "altitude": "5249 ft"})
	for at, want := range map[string]string{"#figure-pot_dry_g .value": "1 lb", "#figure-boil_c .value": "202", ".cautions": "lukewarm"} {
		if got := page.says(at); !strings.Contains(got, want) {
			t.Errorf("%s says %q, want %q", at, got, want)
		}
	}
	if got := page.says("#order") + page.says("ol.numbered"); strings.Contains(got, "°C") || !strings.Contains(got, "100.4 °F") {
		t.Errorf("the order of the work: %q", got)
	}
	typed := filled(a.get("/cooks/new"))
	typed.Set("system", "metric")
	typed.Set("fibre", "kozo")
	typed.Set("amount", "453.6")
	typed.Set("left", "0")
	if got := a.get("/cooks/new?" + typed.Encode()).says("#figure-pot_dry_g .value"); got != "1 lb" {
		t.Errorf("453.6, typed while grams stood beside it, is %q", got)
	}
	pdf := a.get(a.begun(page, nil).to() + "/card.pdf")
	if pdf.code != http.StatusOK {
		t.Errorf("the card: status %d", pdf.code)
	}
}
