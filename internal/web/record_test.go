package web_test

import (
	"fmt"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"vatside/internal/plan"
	"vatside/internal/studio"
)

// A number is shown as it is written on a scale, without what binary
// arithmetic leaves over, and goes back exactly where nobody touched it.
func TestNumbersWithoutDust(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	third, tenth, twentieth := 1.0/3, 0.1, 0.2
	dust := tenth + twentieth // 0.30000000000000004 (IEEE 754)
	err := a.records.FinishCard(t.Context(), m.ID, studio.CardEntry{FormID: "by-hand",
		Tests: []studio.TestWeighed{{Sheets: 3, Grams: 26.7 + 5*dust - 1.5, RHPct: 50}},
		Sizes: []studio.DrySize{{LongMM: 290 + third, ShortMM: 205}}, Fibre: &studio.FibreWeighed{Grams: 500 + dust}})
	if err != nil {
		t.Fatal(err)
	}
	before := a.events(m.ID)
	for _, units := range []string{"metric", "us"} {
		a.post("/units", map[string][]string{"units": {units}, "back": {"/"}})
		page := a.get("/makings/" + m.ID + "/record")
		form := filled(page)
		for name := range form {
			if long := regexp.MustCompile(`\.\d{5,}`).FindString(form.Get(name)); long != "" {
				t.Errorf("in %s units %s shows %q", units, name, form.Get(name))
			}
		}
		if units == "metric" && (form.Get("fibre") != "500.3" || form.Get("size-1-long") != "290.3333") {
			t.Errorf("shown are %q of fibre and %q", form.Get("fibre"), form.Get("size-1-long"))
		}
		if s := a.post("/makings/"+m.ID+"/record", form); s.code != http.StatusSeeOther {
			t.Fatalf("status %d: %s", s.code, s.text(".wrong-summary"))
		}
		if after := a.events(m.ID); len(after) != len(before) {
			t.Errorf("untouched, in %s units: %d entries became %d", units, len(before), len(after))
		}
	}
}

// The balance of a run, by arithmetic with pocket calculator (common
// practice): 907 g of fibre less 3.8 L of stock at 21.8 g/L make 65 sheets of
// 5.5 × 8.5 in as heavy as (907 − 82.84) g / 65 / 0.03016 m² = 420 g/m² where
// the fibre is bone-dry and nothing is left in the vat; air-dry fibre and a
// heel take their share from it. Nobody wanted a book paper of that weight.
func TestABalanceThatCannotBe(t *testing.T) {
	t.Parallel()
	a, m := ofSmallSheets(t)
	record := "/makings/" + m.ID + "/record"
	form := filled(a.get(record))
	if got := a.get(record).Find(`[name=fibre]`).AttrOr("placeholder", ""); got != fmt.Sprintf("%.3g", m.Plan.Figures["fibre_air_dry_g"].Value) {
		t.Errorf("the blank stands for %q, the plan weighs out %g g", got, m.Plan.Figures["fibre_air_dry_g"].Value)
	}
	form.Set("fibre", "907")
	form.Set("stock-left", "3.8")
	form.Set("post-1-couched", "65")
	page := a.follow(a.post(record, form))
	odd := page.text("#odd ~ .main .warning")
	found := regexp.MustCompile(`The fibre used makes sheets of about (\d+) g/m², and 100 g/m² were wanted`).FindStringSubmatch(odd)
	if found == nil {
		t.Fatalf("nothing is said of the balance: %q", odd)
	}
	heel, dry := m.Plan.Figures["heel_fibre_g"].Value, m.Plan.Figures["fibre_bone_dry_g"].Value/m.Plan.Figures["fibre_air_dry_g"].Value
	want := (907*dry - heel - 82.84) / 65 / 0.03016
	got, _ := strconv.ParseFloat(found[1], 64)
	if !(got > want-2 && got < want+2 && got > 300 && got < 421) {
		t.Errorf("the sheets are said to weigh %g g/m²; %.1f g/m² by hand, and at most 421", got, want)
	}
	for _, part := range []string{"82.84 g in stock left", "65 sheets", "0.03016 m²"} {
		if !strings.Contains(odd, part) {
			t.Errorf("the sum lacks %q: %s", part, odd)
		}
	}
	// What balances is not flagged: the plan's own weight for its own sheets.
	form = filled(a.get(record))
	form.Set("fibre", "")
	if page = a.follow(a.post(record, form)); page.Find("#odd").Length() != 0 {
		t.Errorf("without a weight of the fibre it is still odd: %s", page.text("#odd ~ .main"))
	}
}

// ofSmallSheets is a studio that makes its stock up to 21.8 g/L and has begun
// 65 half letter sheets of book text.
func ofSmallSheets(t *testing.T) (*aStudio, studio.Making) {
	t.Helper()
	a, ctx := newStudio(t), t.Context()
	profile, err := a.records.Profile(ctx)
	if err != nil {
		t.Fatal(err)
	}
	stock, vat := 21.8, 20.0
	profile.Answered, profile.Kit = true, plan.Studio{StockGL: &stock, VatL: &vat}
	if _, err = a.records.SaveProfile(ctx, profile); err != nil {
		t.Fatal(err)
	}
	text := studio.StartingPapers()[0]
	paper, err := a.records.SavePaper(ctx, studio.Paper{Name: text.Title, Design: text.Design, Sheet: text.Sheet})
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.records.SaveBrief(ctx, studio.Brief{PaperID: paper.ID, GoodSheets: 65, Sheet: plan.Sheet{LongMM: 215.9, ShortMM: 139.7}, ConfidencePct: 90})
	if err != nil {
		t.Fatal(err)
	}
	req, answer, err := a.records.PlanBrief(ctx, b)
	if err != nil {
		t.Fatal(err)
	}
	m, err := a.records.StartMaking(ctx, b.ID, req, answer)
	if err != nil {
		t.Fatal(err)
	}
	return a, m
}
