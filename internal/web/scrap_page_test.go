package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// Worked by hand from the rows of the fibre table. A sheet of A4, 0.210 × 0.297 m,
// at 100 g/m² weighs 6.237 g; a fifth of the pulp becomes no good sheet.
func TestClothAndWastePaperIntoSheets(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, c := range []struct {
		chapter         string
		form            url.Values
		dry, vat, sheet string
	}{
		// 1000 g less 7 % water are 930 g; 90 % of it are 837 g; a sheet holds
		// 6.237/1.063 = 5.867 g: 837·0.8/5.867 = 114.1.
		{"rags", url.Values{"fibre": {"cotton cloth"}, "amount": {"1 kg"}, "sheet": {"A4"}, "grammage": {"100"}}, "930", "837", "114"},
		// 1000 g less 5.5 % are 945 g; 87 % are 822.15 g; 6.237/1.05 = 5.94 g:
		// 822.15·0.8/5.94 = 110.7. A jug of 1.5 L takes 12 g in 1 L: 945/12 = 78.75.
		{"waste-paper", url.Values{"fibre": {"recycled office paper"}, "amount": {"1 kg"}, "sheet": {"A4"}, "grammage": {"100"}, "jug": {"1.5 L"}}, "945", "822", "110"},
	} {
		page := a.get("/handbook/" + c.chapter + "?" + c.form.Encode())
		sound(t, c.chapter, page)
		for figure, want := range map[string]string{"dry": c.dry, "vat": c.vat, "sheets": c.sheet} {
			if got := page.text("#figure-" + figure + " .number"); got != want {
				t.Errorf("%s: %s is %q, want %s", c.chapter, figure, got, want)
			}
		}
		if got := page.text("#figure-sheets"); !strings.Contains(got, "A4 at 100") || !strings.Contains(got, "nine times in ten") || !strings.Contains(got, "rests on memory") {
			t.Errorf("%s: %s", c.chapter, got)
		}
	}
	page := a.get("/handbook/waste-paper?" + url.Values{"fibre": {"recycled office paper"}, "amount": {"1 kg"}, "sheet": {"A4"}, "grammage": {"100"}, "jug": {"1.5 L"}}.Encode())
	// 945/15 = 63 and 945/8 = 118.1
	if got := page.text(".loads"); !strings.Contains(got, "79 blender loads") || !strings.Contains(got, "between 63 and 119") || !strings.Contains(page.text(".answer .caution"), "Lid on") {
		t.Errorf("blender: %s", got)
	}
}

// What is asked of the chapters stands there, each with what it rests on.
func TestClothAndWastePaperInWords(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for chapter, want := range map[string]map[string][]string{
		"rags": {
			".numbers":                  {"70–95", "cotton cloth", "memory"},
			"#for-burn-a-thread":        {"Take care", "hard bead", "celery", "tweezers", "common practice"},
			"#for-leave-out":            {"5 % polyester", "elastane", "Stretch denim"},
			"#for-wash-out-the-loading": {"70 %", "Modern Paper-Making"},
			"#for-cut":                  {"12–25 mm", "19 mm"},
			"#for-denim":                {"two days"},
		},
		"waste-paper": {
			".numbers":          {"70–92"},
			"#for-soak":         {"25 mm", "overnight"},
			"#for-leave-out":    {"Waxed", "thermal", "yellows"},
			"#for-ink-and-glue": {"60–70", "goggles", "stony"},
			"#for-what-is-lost": {"30–45"},
		},
	} {
		page := a.get("/handbook/" + chapter)
		sound(t, chapter, page)
		for where, words := range want {
			for _, word := range words {
				if got := page.text(where); !strings.Contains(strings.ToLower(got), strings.ToLower(word)) {
					t.Errorf("%s %s: no %q in %q", chapter, where, word, got)
				}
			}
		}
		for i := range page.Find(".promises dd, .numbers dd, .caution").Length() {
			if text := page.Find(".promises dd, .numbers dd, .caution").Eq(i).Text(); !strings.Contains(text, "rests on") {
				t.Errorf("%s: %q rests on nothing", chapter, text)
			}
		}
	}
}

func TestClothRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	good := url.Values{"fibre": {"denim rag"}, "amount": {"2 lb"}, "sheet": {"A4"}, "grammage": {"100"}}
	for field, typed := range map[string]string{"fibre": "basalt", "amount": "much", "sheet": "big", "grammage": "9000"} {
		form := url.Values{}
		for k, v := range good {
			form[k] = v
		}
		form.Set(field, typed)
		page := a.get("/handbook/rags?" + form.Encode())
		if page.code != http.StatusUnprocessableEntity || page.text("#f-"+field+"-error") == "" || page.text(".answer") != "" {
			t.Errorf("%s %s: status %d, %s", field, typed, page.code, page.text(".wrong-summary"))
		}
		if field != "fibre" && page.Find("[name="+field+"]").AttrOr("value", "") != typed {
			t.Errorf("%s: what was typed is lost", field)
		}
	}
}

// Recipes by the spoon, both ways, worked by hand from the bulk densities: soda
// ash 0.55, 0.75, 1.0 g/mL; alum 0.7, 0.9, 1.1. An American tablespoon is
// 14.787 mL. The table rounds to two digits, halves to the even one.
func TestSpoons(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.get("/handbook/units")
	sound(t, "units", page)
	cells := func(product string) []string {
		var out []string
		rows := page.Find("section[aria-labelledby=spoons] tbody tr")
		for i := range rows.Length() {
			if strings.TrimSpace(rows.Eq(i).Find("th").Text()) == product {
				for j := range rows.Eq(i).Find("td").Length() {
					out = append(out, strings.ReplaceAll(strings.TrimSpace(rows.Eq(i).Find("td").Eq(j).Text()), "\u2060", ""))
				}
			}
		}
		return out
	}
	for product, want := range map[string]string{
		"Soda ash":              "11 (8.2–15) 0.89 (0.67–1.2)",
		"Washing soda crystals": "14 (11–16) 0.74 (0.63–0.89)",
		"Alum":                  "14 (10–16) 0.74 (0.61–0.95)",
	} {
		if got := strings.Join(cells(product), " "); got != want {
			t.Errorf("%s: %s, want %s", product, got, want)
		}
	}
	every := page.Find("section[aria-labelledby=spoons] tbody td.num")
	for i := range every.Length() {
		if text := every.Eq(i).Text(); !regexp.MustCompile("^[0-9.]+ \\([0-9.]+–\u2060[0-9.]+\\)$").MatchString(text) || strings.HasPrefix(text, "0 ") {
			t.Errorf("a spoonful of %q", text)
		}
	}
	for _, burns := range []string{"Lye", "Potash lye", "Slaked lime"} {
		if len(cells(burns)) > 0 {
			t.Errorf("%s stands among the spoons", burns)
		}
	}
	for _, c := range []struct{ text, to, answer, between string }{
		{"1.5 US tbsp soda ash", "g", "16.6 g", "12.2–22.2"},            // 22.18 mL: what the iris recipe comes to
		{"20 g soda ash", "US tbsp", "1.8 US tbsp", "1.35–2.46"},        // 20/14.787 = 1.3525
		{"2 metric tbsp alum", "g", "27 g", "21–33"},                    // 30 mL
		{"90 g washing soda crystals", "metric tbsp", "6.67", "5.71–8"}, // 90/15 = 6
	} {
		page := a.get("/handbook/units?" + url.Values{"text": {c.text}, "to": {c.to}}.Encode())
		if got := page.text(".answer"); !strings.Contains(page.text(".answer .number"), strings.ReplaceAll(c.answer, " ", "\u00a0")) && !strings.Contains(page.text(".answer .number"), c.answer) || !strings.Contains(got, c.between) {
			t.Errorf("%s: %s %s", c.text, got, page.text(".wrong-summary"))
		}
	}
	page = a.get("/handbook/units?" + url.Values{"text": {"1 US tbsp lye"}, "to": {"g"}}.Encode())
	if page.code != http.StatusUnprocessableEntity || !strings.Contains(page.text("#f-text-error"), "what burns, is weighed") {
		t.Errorf("a spoon of lye: status %d, %s", page.code, page.text(".wrong-summary"))
	}
}
