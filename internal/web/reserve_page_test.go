package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"vatside/internal/plan"
	"vatside/internal/studio"
)

// dosed is the reserve page of book text with chalk and what else is added.
func (a *aStudio) dosed(added ...plan.Additive) sheet {
	a.t.Helper()
	p := a.aPaper(func(p *studio.Paper) { p.Design.Additives = added })
	page := a.get("/papers/" + p.ID + "/reserve")
	if page.code != http.StatusOK {
		a.t.Fatalf("status %d: %s", page.code, page.text("main"))
	}
	return page
}

// Worked by hand. The table keeps 50, 65 or 80 % of the chalk; with a retention
// aid 65, 80 or 95 %. 2 % of the paper are 0.02/0.98 = 2.0408 % of the fibre.
func TestReserveTowardTwoPerCent(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for _, c := range []struct {
		added              []plan.Additive
		now, nowBand       string
		needed, neededBand string
		verdict            string
	}{
		// 0.05·0.65 = 0.0325, of 1.0325: 3.15 %; 0.025/1.025 = 2.44; 0.04/1.04 = 3.85.
		// 2.0408/0.65 = 3.14; /0.8 = 2.55; /0.5 = 4.08.
		{[]plan.Additive{{Kind: "calcium carbonate", DosePct: 5}}, "3.1", "2.4–3.8", "3.1", "2.6–4.1", "even where little stays, and can take up about 0.63 mol"},
		// 0.035·0.65 = 0.02275: 2.22 %; 0.0175: 1.72; 0.028: 2.72.
		{[]plan.Additive{{Kind: "chalk", DosePct: 3.5}}, "2.2", "1.7–2.7", "3.1", "2.6–4.1", "not where little stays. 4.1 % on dry fibre, 41 g to a kilogram"},
		{[]plan.Additive{{Kind: "chalk", DosePct: 1}}, "0.6", "0.5–0.8", "3.1", "2.6–4.1", "does not come to 2 %"},
		// With a retention aid 2.0408/0.8 = 2.55; /0.95 = 2.15; /0.65 = 3.14;
		// 0.05·0.8 = 0.04: 3.85; 0.0325: 3.15; 0.0475: 4.53.
		{[]plan.Additive{{Kind: "chalk", DosePct: 5}, {Kind: "retention powder", DosePct: 0.1}}, "3.8", "3.1–4.5", "2.6", "2.1–3.1", "even where little stays"},
		{nil, "", "", "3.1", "2.6–4.1", "There is no chalk in it"},
	} {
		page := a.dosed(c.added...)
		sound(t, "reserve", page)
		for what, want := range map[string]string{"#figure-now .number": c.now, "#figure-needed .number": c.needed, "#figure-now .sure": c.nowBand, "#figure-needed .sure": c.neededBand, ".verdict": c.verdict} {
			if got := ungluedText(page, what); !strings.Contains(got, want) || want == "" && got != "" {
				t.Errorf("%v: %s is %q, want %q", c.added, what, got, want)
			}
		}
	}
}

// What the standard asks besides is listed as not measured, with what the
// registry holds of it.
func TestReserveListsTheRest(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	page := a.dosed(plan.Additive{Kind: "calcium carbonate", DosePct: 5}, plan.Additive{Kind: "rosin size", DosePct: 1})
	got := page.text("section[aria-labelledby=besides]")
	for _, want := range []string{"Not measured here", "pH of the cold extract", "7.5 to 10", "Kappa number", "at most 5", "at least 350", "Tear", "a second-hand report", "Final report on the policy on permanent papers"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %s", want, got)
		}
	}
	if mind := page.text("section[aria-labelledby=mind]"); !strings.Contains(mind, "too alkaline") || !strings.Contains(mind, "lignin") || !strings.Contains(mind, "wants alum and an acid stock") {
		t.Errorf("to mind: %s", mind)
	}
	// 6·40 − 70 = 170 mN
	p := a.aPaper(func(p *studio.Paper) { p.Design.GrammageConditioned = 40 })
	if got := a.get("/papers/" + p.ID + "/reserve").text("section[aria-labelledby=besides]"); !strings.Contains(got, "at least 170") {
		t.Errorf("a light paper: %s", got)
	}
	if page := a.get("/papers/none/reserve"); page.code != http.StatusNotFound {
		t.Errorf("a paper that is none: status %d", page.code)
	}
}

// A seller of paper asks how much chalk for 2 % where 60 % stays: recipes print
// 3.3 %, 15 g on 450 g of fibre; of the paper as a whole it is 3.4 %, 15.3 g.
func TestReserveAsSellersAsk(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	p := a.aPaper(nil)
	page := a.get("/papers/" + p.ID + "/reserve?dose=3.3&kept=60")
	// 0.033·0.6 = 0.0198, of 1.0198: 1.94 %
	if got := ungluedText(page, "main"); page.text("#figure-now .number") != "1.9" || page.text("#figure-needed .number") != "3.4" || !strings.Contains(got, "does not come to 2 %. 3.4 % on dry fibre, 34 g to a kilogram, is enough.") {
		t.Errorf("3.3 %% where 60 %% stays: %s", page.text("section[aria-labelledby=chalk]"))
	}
	for field, typed := range map[string]string{"dose": "400", "kept": "most"} {
		form := url.Values{"dose": {"3"}}
		form.Set(field, typed)
		page := a.get("/papers/" + p.ID + "/reserve?" + form.Encode())
		if page.code != http.StatusUnprocessableEntity || page.text("#f-"+field+"-error") == "" || page.Find("[name="+field+"]").AttrOr("value", "") != typed || page.text(".verdict") != "" {
			t.Errorf("%s %s: status %d, %s", field, typed, page.code, page.text(".wrong-summary"))
		}
	}
	tries := map[string]struct {
		typed row
		want  string
	}{
		"furnish.ReserveDose": {row{"wanted": "2", "retained": "60"}, "3.4"},
		// "10 % size" of a 5 % emulsion on 450 g: 45 mL, 2.25 g that act, 0.5 %.
		"furnish.SolutionOnFibre":  {row{"fibre": "450", "s": "0.1"}, "45"},
		"furnish.ActiveInSolution": {row{"v": "45", "c": "50"}, "2.25"},
		"furnish.DoseFromSolution": {row{"s": "0.1", "c": "50"}, "0.5"},
	}
	for name, try := range tries {
		address := "/handbook/formulas/" + name
		form := url.Values{"system": {"metric"}}
		fields := a.get(address).Find(".tried [name]")
		for i := range fields.Length() {
			field := fields.Eq(i).AttrOr("name", "")
			if try.typed[field] == "" {
				t.Fatalf("%s asks for %q", name, field)
			}
			form.Set(field, try.typed[field])
		}
		page = a.get(address + "?" + form.Encode())
		if got := page.text(".answer .number"); !strings.HasPrefix(got, try.want) {
			t.Errorf("%s: %q, want %s; %s", name, got, try.want, page.text(".wrong-summary"))
		}
	}
}

// ungluedText is the text of a page with the narrow space before per cents as a
// usual one.
func ungluedText(page sheet, where string) string {
	return strings.ReplaceAll(page.text(where), "\u202f", " ")
}
