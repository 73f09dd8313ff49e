package plan_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

// worked is the worked making of docs/models/plan.md, all coefficients fixed.
func worked(t testing.TB) plan.Request {
	t.Helper()
	b, err := os.ReadFile("testdata/worked_request.json")
	if err != nil {
		t.Fatal(err)
	}
	var r plan.Request
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// The numbers of the command contract, worked by hand there: counts exact,
// all else within half a per cent.
func TestWorkedMaking(t *testing.T) {
	t.Parallel()
	p, err := plan.Make(worked(t), belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]float64{
		"formed_long_mm": 437.5, "formed_short_mm": 309.4, "conditioned_mass_per_sheet_g": 12.47, "dry_solids_per_sheet_g": 11.66,
		"fibre_per_sheet_g": 11.45, "fibre_in_sheets_g": 721.5, "vat_consistency_g_l": 4.440, "vat_first_fill_g": 366.6,
		"recharge_solids_g": 34.97, "recharge_stock_ml": 1166, "level_stock_g_l": 111.1, "level_rise_l": 17.9, "heel_fibre_g": 261.7,
		"fibre_bone_dry_g": 1014, "fibre_air_dry_g": 1102, "press_pressure_kpa": 443, "water_after_press_kg": 1.491,
	} {
		f, ok := p.Figures[key]
		if !ok {
			t.Errorf("%s is missing", key)
			continue
		}
		if math.Abs(f.Value/want-1) > 0.005 {
			t.Errorf("%s = %.5g, want %.5g", key, f.Value, want)
		}
		if f.Low != f.Value || f.High != f.Value {
			t.Errorf("%s has a band %g–%g though nothing uncertain enters it", key, f.Low, f.High)
		}
	}
	for key, want := range map[string]float64{"sheets_to_pull": 63, "sheets_per_recharge": 3, "beater_loads": 2} {
		if got := p.Figures[key].Value; got != want {
			t.Errorf("%s = %g, want %g", key, got, want)
		}
	}
	for key, f := range p.Figures {
		t.Logf("%-30s %10.4f [%g %g] %s %s", key, f.Value, f.Low, f.High, f.Unit, f.Basis)
	}
}
