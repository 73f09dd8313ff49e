package cli_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"vatside/internal/cli"
	"vatside/internal/plan"
	"vatside/internal/recharge"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// The cases here are questions as papermakers asked them in public. What is
// right was worked out by hand from the numbers they gave: common practice and
// arithmetic, typed from the case, never from this program's output. Inches
// are 25.4 mm, pounds 453.59237 g, short tons 8.896443 kN, all exact or from
// NIST SP 811.

// answer runs a command in this process and reads its JSON.
func answer[A any](t *testing.T, command, request string) A {
	t.Helper()
	var out, errs bytes.Buffer
	p := cli.Program{In: strings.NewReader(request), Out: &out, Err: &errs, Now: time.Now}
	if code := p.Run(t.Context(), []string{command, "-", "--json"}); code != cli.Done {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	var a A
	if err := json.Unmarshal(out.Bytes(), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// near fails unless got is want within so many per cent.
func near(t *testing.T, what string, got, want, pct float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got/want-1) > pct/100 {
		t.Errorf("%s is %.6g, want %.6g within %g %%", what, got, want, pct)
	}
}

// lone is a brief of one fibre; rest is further keys of the request.
func lone(fibre string, grammage float64, long, short float64, rest string) string {
	return fmt.Sprintf(`{"paper": {"furnish": [{"fibre": %q, "share_pct": 100}], "grammage_conditioned_g_m2": %g}, "sheet": {"long_mm": %g, "short_mm": %g}, %s}`,
		fibre, grammage, long, short, rest)
}

// C001: three years of shredded paper, 27 lb wet and 4 lb dry, guessed at
// 1,500 to 2,000 letter sheets.
func TestPailOfWetPulp(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ solids, fibre, sheets float64 }{{8, 2790, 463}, {10, 3040, 504}, {15, 3650, 605}} {
		a := answer[plan.Plan](t, "plan", lone("recycled office paper", 100, 279.4, 215.9, fmt.Sprintf(`"have": {"wet_g": 12247, "solids_pct": [%g, %g], "dry_g": 1814},
			"studio": {"vat_l": 40, "vat_least_l": 0},
			"known": {"moisture_air_dry_pct_wet_basis": 0, "beater_loss_pct": 0, "lost_later_pct": 0, "moisture_conditioned_pct_dry_basis": 0}`, c.solids, c.solids)))
		near(t, fmt.Sprintf("fibre at %g %% solids", c.solids), a.Figures["fibre_in_hand_g"].Value, c.fibre, 2)
		near(t, fmt.Sprintf("sheets at %g %% solids", c.solids), a.Figures["sheets_possible"].Value, c.sheets, 2)
	}
	// Nothing fixed, the solids only guessed: hundreds, and far from the guess.
	f := answer[plan.Plan](t, "plan", lone("recycled office paper", 100, 279.4, 215.9, `"have": {"wet_g": 12247, "solids_pct": [8, 15], "dry_g": 1814}`)).Figures["sheets_possible"]
	if f.Low < 100 || f.High >= 1000 || f.Low >= f.High {
		t.Errorf("sheets possible %.0f, nine times in ten %.0f to %.0f; want hundreds", f.Value, f.Low, f.High)
	}
}

// C003: 825 g of fibre for 65 sheets of 5.5 × 8.5 in would be board of
// 421 g/m². The record is kept and flagged.
func TestBoardThatWasNone(t *testing.T) {
	t.Parallel()
	file, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	s := studio.New(file.Records(), time.Now)
	sheet := plan.Sheet{LongMM: 215.9, ShortMM: 139.7}
	p, err := s.SavePaper(t.Context(), studio.Paper{Name: "first run", Sheet: sheet, Design: plan.Paper{
		GrammageConditioned: 100, Furnish: []plan.Part{{Fibre: "cotton rag", SharePct: 100}}}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.SaveBrief(t.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 60, Sheet: sheet, ConfidencePct: 90})
	if err != nil {
		t.Fatal(err)
	}
	req, pl, err := s.PlanBrief(t.Context(), b)
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.StartMaking(t.Context(), b.ID, req, pl)
	if err != nil {
		t.Fatal(err)
	}
	state, err := s.Record(t.Context(), m.ID,
		studio.NewEvent("post", time.Now(), studio.Post{Post: 1, Pulled: 65}),
		studio.NewEvent("dry", time.Now(), studio.WeighedDry{Sheets: 65, Grams: 825}))
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	for _, odd := range state.Odd {
		if odd.Code == "grammage" && strings.Contains(odd.Sum, "421 g/m²") {
			return
		}
	}
	t.Errorf("not flagged as 421 g/m²: %+v", state.Odd)
}

// C011: a 1.8 L food box as vat for a round sheet of 20 cm; a square of the
// same area, 177.2 mm. At 5 g/L the dip is 20 mm deep.
func TestFoodBoxAsVat(t *testing.T) {
	t.Parallel()
	side := 100 * math.Sqrt(math.Pi)
	a := answer[plan.Plan](t, "plan", lone("abaca", 100, side, side, `"good_sheets": 2, "test_sheets": 0, "studio": {"vat_l": 1.8, "vat_least_l": 1.2},
		"known": {"effective_depth_mm": 20, "shrink_long_pct": 0, "shrink_short_pct": 0, "moisture_conditioned_pct_dry_basis": 0}`))
	near(t, "solids of a sheet", a.Figures["dry_solids_per_sheet_g"].Value, 3.14, 0.5)
	for _, w := range a.Warnings {
		if w.Code == "vat too small" && strings.Contains(w.Text, "takes 35 %") && strings.Contains(w.Text, "12.6 L") {
			return
		}
	}
	t.Errorf("no word of 35 %% and 12.6 L: %+v", a.Warnings)
}

// C015: a vat of 17 × 20 in, 5.5 in deep, at 0.5 %; sheets of 11 × 14 in at
// 100 g/m², the drained water going back.
func TestVatNotToppedUp(t *testing.T) {
	t.Parallel()
	const vat = `{"vat_l": 30.6, "formed_area_m2": 0.09935, "effective_depth_mm": 20, "carried_off_l": 0, "grammage_formed_g_m2": 100, "sheets": 11, "tolerance_pct": 5, "recharge": %s}`
	a := answer[recharge.Answer](t, "vat", fmt.Sprintf(vat, `"none"`))
	near(t, "solids in the vat", a.Figures["first_fill_solids_g"].Value, 153, 0.5)
	near(t, "sheet 4", a.Sheets[3].Grammage, 100-18, 1)
	near(t, "sheet 11", a.Sheets[10].Grammage, 100-49, 1)
	a = answer[recharge.Answer](t, "vat", fmt.Sprintf(vat, `{"every": 1, "solids_g": 9.94, "stock_g_l": 20}`))
	near(t, "stock for each sheet", a.Recharges[0].StockML, 500, 1)
	level := a.Sheets[10].VatL - a.Sheets[0].VatL
	near(t, "rise of the level if nothing is bailed", level, 10*0.50, 1)
}

// C048: the jack broke over 98 sheets of 16.5 g: 25 % solids instead of 35.
func TestBrokenJack(t *testing.T) {
	t.Parallel()
	pressed := func(solids float64) plan.Plan {
		return answer[plan.Plan](t, "plan", lone("cotton rag", 100, 500, 330, fmt.Sprintf(`"good_sheets": 98, "test_sheets": 0,
			"studio": {"dryer": {"places": 98, "airflow_m3_s": 0.005}},
			"known": {"solids_pressed_pct": %g, "lost_later_pct": 0, "kissed_off_pct": 0, "moisture_conditioned_pct_dry_basis": 0}`, solids)))
	}
	well, badly := pressed(35), pressed(25)
	if n := well.Figures["sheets_couched"].Value; n != 98 {
		t.Fatalf("%g sheets, not 98", n)
	}
	near(t, "water after pressing", well.Figures["water_after_press_kg"].Value, 3.0, 1.5)
	near(t, "water without the jack", badly.Figures["water_after_press_kg"].Value, 4.9, 1.5)
	near(t, "their ratio", badly.Figures["water_after_press_kg"].Value/well.Figures["water_after_press_kg"].Value, 1.62, 1)
	near(t, "hours in the dryer, ratio", badly.Figures["drying_hours"].Value/well.Figures["drying_hours"].Value, 1.6, 5)
}

// C057: twenty short tons on sheets of 22 × 30 in and of 11 × 17 in.
func TestTonsAreNoPressure(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ long, short, kpa, psi float64 }{{762, 558.8, 418, 61}, {431.8, 279.4, 214 * 6.894757, 214}} {
		request := lone("cotton rag", 200, c.long, c.short, fmt.Sprintf(`"good_sheets": 20, "studio": {"press": {"force_kn": %g}}, "known": {"shrink_long_pct": 0, "shrink_short_pct": 0}`, 20*8.896443))
		kpa := answer[plan.Plan](t, "plan", request).Figures["press_pressure_kpa"].Value
		near(t, "pressure, kPa", kpa, c.kpa, 0.5)
		var out bytes.Buffer
		p := cli.Program{In: strings.NewReader(request), Out: &out, Err: &out, Now: time.Now}
		p.Run(t.Context(), []string{"plan", "-", "--units", "us"})
		said := regexp.MustCompile(`Pressure on the sheets +([\d.]+) psi`).FindStringSubmatch(out.String())
		if said == nil {
			t.Fatalf("no psi in the table: %s", out.String())
		}
		psi, err := strconv.ParseFloat(said[1], 64)
		if err != nil || math.Round(psi) != c.psi {
			t.Errorf("the table says %s psi, want %g", said[1], c.psi)
		}
	}
}

// C118: 36 copies of 8 sheets are 288 net; 325 are 12.8 % over. That covers,
// 19 times in 20, a loss of 9 % (exact binomial, worked apart from this
// program: 325 sheets give 94.1 %, 326 give 95.8 %).
func TestPressBook(t *testing.T) {
	t.Parallel()
	a := answer[plan.Plan](t, "plan", lone("cotton rag", 120, 304.8, 228.6, `"good_sheets": 288, "confidence_pct": 95, "test_sheets": 0,
		"known": {"lost_later_pct": 9, "kissed_off_pct": 0, "effective_depth_mm": 20, "hand_scatter_pct": 0, "shrink_long_pct": 3, "shrink_short_pct": 3,
		"moisture_conditioned_pct_dry_basis": 7, "solids_couched_pct": 10, "solids_pressed_pct": 33, "beater_loss_pct": 3, "moisture_air_dry_pct_wet_basis": 8}`))
	f := a.Figures["sheets_to_pull"]
	near(t, "sheets to pull", f.Value, 325, 0.5)
	near(t, "over the net 288", 100*(f.Value/288-1), 12.8, 5)
	if !strings.Contains(fmt.Sprint(f.Sum), "288") {
		t.Errorf("the sum does not start from 288: %+v", f.Sum)
	}
}

// K04: a finished A4 that shrinks by so much is formed so large, and the same
// laid fibre becomes so much heavier.
func TestA4ThatShrinks(t *testing.T) {
	t.Parallel()
	formed := func(shrink float64) plan.Plan {
		return answer[plan.Plan](t, "plan", lone("abaca", 100, 297, 210, fmt.Sprintf(`"good_sheets": 20, "known": {"shrink_long_pct": %g, "shrink_short_pct": %g, "effective_depth_mm": 20, "moisture_conditioned_pct_dry_basis": 7}`, shrink, shrink)))
	}
	flat := formed(0).Figures["vat_consistency_g_l"].Value
	for _, c := range []struct{ shrink, short, long, rise float64 }{{2, 214.3, 303.1, 1.041}, {6, 223.4, 316.0, 1.132}, {12, 238.6, 337.5, 1.291}} {
		a := formed(c.shrink)
		near(t, "formed breadth", a.Figures["formed_short_mm"].Value, c.short, 0.03)
		near(t, "formed length", a.Figures["formed_long_mm"].Value, c.long, 0.03)
		near(t, "rise of the grammage", flat/a.Figures["vat_consistency_g_l"].Value, c.rise, 0.1)
	}
}

// K05: 40 L at 0.6 %, A3 at 120 g/m² (14.97 g, 6.2 % of the fibre).
func TestDepletion(t *testing.T) {
	t.Parallel()
	a := answer[recharge.Answer](t, "vat", `{"vat_l": 40, "formed_area_m2": 0.12474, "effective_depth_mm": 20, "carried_off_l": 0, "grammage_formed_g_m2": 120, "sheets": 10, "tolerance_pct": 5}`)
	near(t, "solids in the vat", a.Figures["first_fill_solids_g"].Value, 240, 0.1)
	near(t, "sheet 5 over sheet 1", a.Sheets[4].Grammage/a.Sheets[0].Grammage, 0.77, 0.7)
	near(t, "sheet 10 over sheet 1", a.Sheets[9].Grammage/a.Sheets[0].Grammage, 0.56, 0.7)
}

// K10: 1,000 g of linters at 6 % moisture are 940 g bone-dry.
func TestAirDryIsNotBoneDry(t *testing.T) {
	t.Parallel()
	a := answer[plan.Plan](t, "plan", lone("cotton linters", 100, 297, 210, `"good_sheets": 30, "known": {"moisture_air_dry_pct_wet_basis": 6}`))
	near(t, "bone-dry over weighed", a.Figures["fibre_bone_dry_g"].Value/a.Figures["fibre_air_dry_g"].Value, 0.94, 0.1)
	total := 0.0
	for _, w := range a.Weigh {
		total += w.Grams
	}
	near(t, "what is weighed out", total, a.Figures["fibre_air_dry_g"].Value, 0.2)
}

// The heel: fibre stands in the vat when the last sheet is pulled, and is
// weighed out too. By hand: 4.44 g/L × 60 L, less the filler in it, 261.7 g.
func TestHeelIsWeighedOut(t *testing.T) {
	t.Parallel()
	const rest = `"good_sheets": 20, "studio": {"vat_l": 80, "vat_least_l": %d}, "known": {"effective_depth_mm": 19.4, "shrink_long_pct": 4, "shrink_short_pct": 4,
		"moisture_conditioned_pct_dry_basis": 7, "beater_loss_pct": 3, "lost_later_pct": 10, "moisture_air_dry_pct_wet_basis": 8, "kissed_off_pct": 0, "hand_scatter_pct": 4, "solids_couched_pct": 10, "solids_pressed_pct": 33}`
	with := answer[plan.Plan](t, "plan", lone("cotton rag", 100, 420, 297, fmt.Sprintf(rest, 60)))
	without := answer[plan.Plan](t, "plan", lone("cotton rag", 100, 420, 297, fmt.Sprintf(rest, 0)))
	near(t, "heel", with.Figures["heel_fibre_g"].Value, 4.44*60, 0.3)
	near(t, "fibre more to weigh", with.Figures["fibre_bone_dry_g"].Value-without.Figures["fibre_bone_dry_g"].Value, 4.44*60/0.97, 1)
}
