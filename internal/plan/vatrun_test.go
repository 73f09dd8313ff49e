package plan_test

import (
	"encoding/json"
	"math"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

func vatRequest(t testing.TB, text string) plan.VatRequest {
	t.Helper()
	var r plan.VatRequest
	if err := json.Unmarshal([]byte(text), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// The check values of the command contract: an 80 L vat without a recharge.
func TestVatThins(t *testing.T) {
	t.Parallel()
	a, err := plan.RunVat(vatRequest(t, `{"vat_l": 80, "formed_area_m2": 0.126, "effective_depth_mm": 19.4, "carried_off_l": 0.21, "grammage_formed_g_m2": 100, "sheets": 30, "tolerance_pct": 5, "recharge": "none"}`))
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]float64{1: 100, 4: 91.8, 10: 77.2, 20: 57.5, 30: 42.5} {
		if got := a.Sheets[n-1].Grammage; math.Abs(got-want) > 0.05 {
			t.Errorf("sheet %d weighs %.3f g/m², want %.1f", n, got, want)
		}
	}
}

// The same contract: sheets in a row within tolerance, by vat and tolerance.
func TestSheetsInTolerance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ vat, tolerance, want float64 }{{30, 5, 2}, {80, 5, 4}, {200, 5, 9}, {30, 10, 3}, {80, 10, 8}, {200, 10, 18}} {
		r := vatRequest(t, `{"formed_area_m2": 0.126, "effective_depth_mm": 19.4, "carried_off_l": 0.21, "grammage_formed_g_m2": 100, "sheets": 5, "recharge": "none"}`)
		r.VatL, r.TolerancePct = c.vat, c.tolerance
		a, err := plan.RunVat(r)
		if err != nil {
			t.Fatal(err)
		}
		if a.SheetsInTolerance.Value != c.want {
			t.Errorf("%g L at %g %%: %g sheets, want %g", c.vat, c.tolerance, a.SheetsInTolerance.Value, c.want)
		}
	}
}

// A plan's recharges, run through the vat, keep the mean of every round within
// 1 % of the target and each sheet within the swing the table states.
func TestPlansRechargesHold(t *testing.T) {
	t.Parallel()
	p, err := plan.Make(worked(t), belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	k := int(p.Figures["sheets_per_recharge"].Value)
	area := 0.4375 * 0.309375
	target := p.Figures["dry_solids_per_sheet_g"].Value / area
	fill := p.Figures["vat_first_fill_g"].Value
	a, err := plan.RunVat(plan.VatRequest{VatL: 80, FormedAreaM2: area, EffectiveDepth: 19.4, CarriedOffL: 11.658 * 9 / 1000, GrammageFormed: target, Sheets: 63, TolerancePct: 8,
		Recharge: plan.RechargePlan{Word: "table", Table: p.Vat.Recharges}, FirstFillSolids: &fill})
	if err != nil {
		t.Fatal(err)
	}
	for from := 0; from < 63; from += k {
		sum := 0.0
		for i := from; i < from+k; i++ {
			g := a.Sheets[i].Grammage / target
			sum += g
			if math.Abs(g-1) > 0.045 { // the vat's own swing in a round of three, 3.2 %, and more when run down
				t.Errorf("sheet %d is %.3f of target", i+1, g)
			}
		}
		if m := sum / float64(k); math.Abs(m-1) > 0.01 {
			t.Errorf("sheets %d to %d average %.4f of target", from+1, from+k, m)
		}
	}
	for _, r := range p.Vat.Recharges {
		t.Logf("before %d: %.2f g, %.0f mL, off %.2f L, level %.1f, %.1f → %.1f", r.BeforeSheet, r.SolidsG, r.StockML, r.WaterOffL, r.VatL, r.GrammageBefore, r.GrammageAfter)
	}
}
