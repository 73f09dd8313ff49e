package web_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"vatside/internal/studio"
)

// ofRun writes a run down: sheets one by one, fed as the plan says, three of six
// weighed hot, at what the plan expects of a sheet times share.
func (a *aStudio) ofRun(m studio.Making, sheets int, share func(n int) float64) {
	a.t.Helper()
	every, stock := int(m.Plan.Figures["sheets_per_recharge"].Value), m.Plan.Figures["recharge_stock_ml"].Value
	each := m.Plan.Figures["dry_solids_per_sheet_g"].Value
	var events []studio.Event
	note := func(b studio.Body) {
		n := len(events)
		events = append(events, studio.NewEvent(fmt.Sprintf("run-%d", n), morning.Add(time.Duration(n)*time.Second-time.Hour), b))
	}
	for n := 1; n <= sheets; n++ {
		if n > 1 && (n-1)%every == 0 {
			note(studio.Recharge{AfterSheet: new(n - 1), StockML: stock})
			note(studio.VatChanged{WaterL: -stock / 1000})
		}
		note(studio.Post{Post: 1 + (n-1)/20, Pulled: 1})
		if n == 3 || n%6 == 0 {
			note(studio.TestWeighed{Sheets: 3, From: n - 2, BoneDry: true, Sure: true, Grams: 3 * each * share(n)})
		}
	}
	if _, err := a.records.Record(a.t.Context(), m.ID, events...); err != nil {
		a.t.Fatal(err)
	}
}

func asMeant(int) float64 { return 1 }

// A run looked back on tells every sheet with its band, what happened after it
// and each weighing, in pictures and in numbers alike.
func TestRunLookedBackOn(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	at := "/makings/" + m.ID + "/run"
	if got := a.get(at).text("h1"); got != "No sheet has been couched yet" {
		t.Errorf("before the first sheet: %q", got)
	}
	if a.get("/makings/"+m.ID).Find(`a[href="`+at+`"]`).Length() != 0 {
		t.Error("a run that was not begun is offered")
	}
	a.ofRun(m, 24, asMeant)
	page := a.get(at)
	if got := page.text("h1"); page.code != 200 || got != "No drift beyond chance" {
		t.Fatalf("status %d: %q", page.code, got)
	}
	if got := page.text(".lead"); !strings.Contains(got, "in 100 sheets weigh within") || !strings.Contains(got, "100 g/m² wanted") {
		t.Errorf("in short: %q", got)
	}
	sheets := page.Find(`table:contains("Nine times in ten")`)
	if n := sheets.Find("tbody tr:not(.row-note)").Length(); n != 24 {
		t.Errorf("%d sheets in numbers, want 24", n)
	}
	third := sheets.Find("tbody tr").FilterFunction(func(_ int, s *goquery.Selection) bool { return s.Find("th").Text() == "3" }).Next().Text()
	if !strings.Contains(third, "Sheets 1–3 weighed") || !strings.Contains(third, "bone-dry") {
		t.Errorf("after the third sheet: %q", third)
	}
	if got := sheets.Text(); !strings.Contains(got, "of stock") || !strings.Contains(got, "of water off") {
		t.Error("what was poured does not stand between the sheets")
	}
	charts := page.Find(".chart")
	if charts.Length() != 3 || charts.First().Find(".chart-dot, .chart-out").Length() != 24 || charts.First().Find(".chart-area").Length() != 1 {
		t.Errorf("%d charts, the first of %d sheets", charts.Length(), charts.First().Find(".chart-dot, .chart-out").Length())
	}
	if n := page.Find(".chart-mark title").FilterFunction(func(_ int, s *goquery.Selection) bool { return strings.HasPrefix(s.Text(), "Post ") }).Length(); n != 2 {
		t.Errorf("%d posts are marked, want 2", n)
	}
	if n := charts.Last().Find(".chart-dot, .chart-out").Length(); n != 5 {
		t.Errorf("%d weighings are gathered, want 5", n)
	}
	if a.get("/makings/"+m.ID).Find(`a[href="`+at+`"]`).Length() != 1 || a.get("/makings/"+m.ID).Find(`a[href="/makings/`+m.ID+`/vat"]`).Length() != 1 {
		t.Error("the making's page does not lead to the run, or to the vat")
	}
	runs := a.get("/papers/" + m.PaperID + "/makings").text(`table:contains("Within tolerance")`)
	if !strings.Contains(runs, m.Tag) || !strings.Contains(runs, "(±8") || !strings.Contains(runs, "no drift beyond chance") {
		t.Errorf("beside the other makings: %q", runs)
	}
	a.lang = "en-US,en;q=0.9"
	a.post("/units", map[string][]string{"system": {"us"}, "back": {at}})
	if got := a.get(at).text(".lead"); !strings.Contains(got, "wanted") || strings.Contains(got, "%!") {
		t.Errorf("in US units: %q", got)
	}
}

// Sheets that come a fifth lighter from the middle on are told, with where it
// began; a weighing that cannot be is set aside and named.
func TestRunThatDrifted(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	a.ofRun(m, 30, func(n int) float64 {
		if n > 12 {
			return 5.0 / 6
		}
		return 1
	})
	page := a.get("/makings/" + m.ID + "/run")
	if got := page.text("h1"); got != "From sheet 16 on the sheets ran lighter than expected" {
		t.Errorf("drifted: %q", got)
	}
	a.write(m.ID, "odd", studio.TestWeighed{Sheets: 1, From: 30, BoneDry: true, Grams: 300})
	page = a.get("/makings/" + m.ID + "/run")
	if got := page.text("h1"); !strings.HasSuffix(got, "but for what was set aside") {
		t.Errorf("set aside: %q", got)
	}
	if got := page.text(".opening .note"); !strings.Contains(got, "Sheet 30 weighed 300 g, bone-dry") || !strings.Contains(got, "out of all reason") {
		t.Errorf("set aside: %q", got)
	}
}

// What is noted at the vat stands in the making's history in words.
func TestHistoryTellsOfTheVat(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	a.write(m.ID, "vat", studio.Post{Post: 1, Pulled: 9}, studio.VatChanged{StockOffL: 0.5, WaterL: -1.5, AidML: 20, LevelL: new(61.0), TempC: new(18.0), HeelL: new(12.0)},
		studio.VatStrained{TakenL: 1, Grams: 4.2, Sure: true}, studio.TestWeighed{Sheets: 3, From: 4, Grams: 18, BoneDry: true, Sure: true},
		studio.TestWeighed{Sheets: 3, Grams: 19, RHPct: 50}, studio.WeighedAtParting{Post: 1, Sheets: 9, Grams: 160, Sure: true})
	got := a.get("/makings/" + m.ID).text(".history")
	for _, want := range []string{
		"0.5 L taken off with its fibre, 1.5 L of water off, 20 mL of formation aid, level read, 61 L, vat at 18 °C, 12 L kept from the vat",
		"1 L of the vat strained, 4.2 g dry, asked about and right", "Sheets 4–6 weighed 18 g, bone-dry, asked about and right",
		"Test sheets: 3 sheets weighed 19 g at 50 % humidity", "At parting, post 1: 9 sheets weighed 160 g, asked about and right",
	} {
		if !strings.Contains(strings.ReplaceAll(got, "\u00a0", " "), want) {
			t.Errorf("%q is missing: %q", want, got)
		}
	}
}

// From the bench one comes to the vat of a making that is not all couched; a
// closed one leads nowhere.
func TestWayToTheVat(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	link := `a[href="/makings/` + m.ID + `/vat"]`
	if a.get("/").Find(link).Length() != 1 {
		t.Error("a making to be begun does not lead to the vat")
	}
	a.write(m.ID, "x", studio.Post{Post: 1, Pulled: 1})
	if a.get("/").Find(link).Length() != 1 {
		t.Error("a making at the vat does not lead there")
	}
	a.write(m.ID, "y", studio.Closed{})
	if a.get("/").Find(link).Length()+a.get("/makings/"+m.ID).Find(link).Length() != 0 {
		t.Error("a closed making leads to the vat")
	}
}
