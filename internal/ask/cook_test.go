package ask_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"vatside/internal/ask"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/testkit/arithmetic"
)

const cookRequest = `{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "liquor_l_per_kg": 15.6, "altitude_m": 0}`

func cook(t *testing.T, text string) ask.CookAnswer {
	t.Helper()
	r, err := ask.Cook.Read([]byte(text))
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	a, err := r.Answer()
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return a
}

func TestSchemasOfCook(t *testing.T) {
	t.Parallel()
	request, answer := compiled(t, ask.Cook.Schemas)
	for text, good := range map[string]bool{
		cookRequest: true,
		`{"dry_g": 450, "alkali": "wood-ash lye", "alkali_pct": 26, "strength_g_l": 40}`:                                true,
		`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 23, "lime_pct": 15}`:                                        true,
		`{"dry_g": 450, "alkali": "lye", "alkali_pct": 9, "water_c": 20, "dissolve_l": 2, "fibre": "kozo"}`:             true,
		`{"dry_g": 450, "alkali": "slaked lime", "alkali_pct": 20, "pot": "enamel", "pot_l": 5, "simmer_c": 90}`:        true,
		`{"dry_g": 450, "alkali": "washing soda crystals", "alkali_pct": 54, "fibre": "iris leaf", "altitude_m": 2500}`: true,
		`{"alkali": "soda ash", "alkali_pct": 20}`:                                                                      false,
		`{"dry_g": 450, "alkali_pct": 20}`:                                                                              false,
		`{"dry_g": 450, "alkali": "soda ash"}`:                                                                          false,
		`{"dry_g": "450", "alkali": "soda ash", "alkali_pct": 20}`:                                                      false,
		`{"dry_g": 450, "alkali": "baking soda", "alkali_pct": 20}`:                                                     false,
		`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "dry_kg": 1}`:                                           false,
	} {
		if err := request.Validate(instance(t, []byte(text))); (err == nil) != good {
			t.Errorf("%s: the schema says %v", text, err)
		}
		if _, err := ask.Cook.Read([]byte(text)); (err == nil) != good {
			t.Errorf("%s is read with %v", text, err)
		}
		if !good {
			continue
		}
		a := cook(t, text)
		valid(t, text, answer, a)
		for key, f := range a.Figures {
			for _, l := range f.Sum {
				if err := arithmetic.Agree(l.Working, l.Result); err != nil || l.Source == "" {
					t.Errorf("%s, %s: %+v: %v", text, key, l, err)
				}
			}
			if f.Low > f.Value || f.High < f.Value || f.Unit == "" && key != "ph_cold" && key != "ph_boil" && key != "time_factor" && key != "rinse_changes" {
				t.Errorf("%s: %s is %+v", text, key, f)
			}
		}
	}
}

func TestRangesOfCookAgree(t *testing.T) {
	t.Parallel()
	tryRanges(t, 9, ask.Cook.Schemas, ask.Cook.Read)
}

// The figures of the documented request, worked by hand or read in
// published/alkali-solution-ph.csv.
func TestCookFigures(t *testing.T) {
	t.Parallel()
	a := cook(t, cookRequest)
	for key, want := range map[string][2]float64{
		"alkali_g": {90, 1e-9}, "liquor_l": {7.02, 1e-9}, "alkali_g_l": {12.82, 0.005}, "ph_cold": {11.38, 0.06}, "ph_boil": {10.35, 0.15}, "boil_c": {100, 0.05},
		"time_factor": {1, 0.005}, "pot_l": {10.53, 0.01}, "rinse_changes": {5, 0}, "rinse_l": {33.75, 1e-9}, "vinegar_l": {2.04, 0.01}, "citric_g": {108.8, 0.2}, "waste_l": {40.77, 0.01},
	} {
		if got, known := a.Figures[key]; !known || math.Abs(got.Value-want[0]) > want[1] {
			t.Errorf("%s is %v, want %v within %v", key, got.Value, want[0], want[1])
		}
	}
	for height, want := range map[int][2]float64{1000: {96.7, 1.27}, 2000: {93.3, 1.61}, 3000: {90.0, 2.06}} {
		a := cook(t, strings.Replace(cookRequest, `"altitude_m": 0`, fmt.Sprintf(`"altitude_m": %d`, height), 1))
		boil, factor := a.Figures["boil_c"], a.Figures["time_factor"]
		if math.Abs(boil.Value-want[0]) > 0.06 || math.Abs(factor.Value-want[1]) > 0.02 || factor.Low >= factor.Value || factor.High <= factor.Value {
			t.Errorf("%d m: %v °C, %v (%v–%v), want %v", height, boil.Value, factor.Value, factor.Low, factor.High, want)
		}
	}
	one, two := cook(t, cookRequest), cook(t, cookRequest)
	b1, _ := json.Marshal(one)
	b2, _ := json.Marshal(two)
	if string(b1) != string(b2) {
		t.Error("the same request has two answers")
	}
}

func TestSodaAshAndLimeIsLye(t *testing.T) {
	t.Parallel()
	// 15 g/L of soda ash and 10 g/L of lime: 10.8 g/L of lye, pH over 13
	a := cook(t, `{"dry_g": 1000, "alkali": "soda ash", "alkali_pct": 15, "lime_pct": 10, "liquor_l_per_kg": 10}`)
	if v := a.Figures["lye_made_g"].Value; math.Abs(v-108) > 0.5 {
		t.Errorf("%v g of lye, want 108", v)
	}
	if ph := a.Figures["ph_cold"].Value; ph < 13 {
		t.Errorf("pH %v, want over 13", ph)
	}
	said := fmt.Sprint(a.Notes, a.Cautions, a.Order)
	if !strings.Contains(said, "make lye") || !strings.Contains(said, "60 minutes") || !strings.Contains(said, "it is lye") {
		t.Errorf("it is not said to be lye: %s", said)
	}
}

func TestFaultsOfACookRequest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, field, says string }{
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 20, "water_c": 90}`, "water_c", "thrown out"},
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 20, "water_c": 90, "pot": "aluminium"}`, "water_c", "thrown out"},
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 20, "dissolve_l": 0.2366}`, "dissolve_l", "10 %"},
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 20, "liquor_l_per_kg": 1.6}`, "alkali_pct", "10 %"},
		{`{"dry_g": 450, "alkali": "potash lye", "alkali_pct": 20, "water_c": 60}`, "water_c", "38 °C"},
		{`{"dry_g": 450, "alkali": "wood-ash lye", "alkali_pct": 20}`, "strength_g_l", "measure"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "strength_g_l": 20}`, "strength_g_l", "weigh soda ash"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "pot": "aluminium"}`, "pot", "hydrogen"},
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 9, "lime_pct": 10}`, "lime_pct", "beside soda ash"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "fibre": "moonlight"}`, "fibre", ""},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 100, "liquor_l_per_kg": 2}`, "liquor_l_per_kg", "more water"},
		{`{"dry_g": 450, "alkali": "lye", "alkali_pct": 30, "liquor_l_per_kg": 2.5}`, "alkali_pct", "10 %"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 400}`, "alkali_pct", "from 0.1 to 150 %"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "altitude_ft": 20}`, "altitude_ft", "altitude_m"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "liquor": 7}`, "liquor", "liquor_l_per_kg"},
		{`{"dry_lb": 1, "alkali": "soda ash", "alkali_pct": 20}`, "dry_lb", "use dry_g"},
		{`{"alkali": "soda ash", "alkali_pct": 20}`, "dry_g", "in g"},
	} {
		_, err := ask.Cook.Read([]byte(c.text))
		found := false
		for _, f := range fault.All(err) {
			found = found || f.Field == c.field && strings.Contains(f.Text, c.says)
		}
		if !found {
			t.Errorf("%s: %v; want a fault at %s that says %q", c.text, err, c.field, c.says)
		}
	}
}

// Each alkali of the shelf is answered, with recipes where a fibre is named.
func TestEveryAlkaliIsAnswered(t *testing.T) {
	t.Parallel()
	for _, name := range cooking.AlkaliNames() {
		extra := ""
		if name == cooking.WoodAshLye {
			extra = `, "strength_g_l": 30`
		}
		a := cook(t, fmt.Sprintf(`{"dry_g": 450, "alkali": %q, "alkali_pct": 12, "fibre": "kozo"%s}`, name, extra))
		if len(a.Cautions) < 6 || len(a.Order) < 3 || len(a.EndTests) < 4 || len(a.Recipes) < 8 || len(a.Waste) < 4 || a.Figures["ph_cold"].Value < 11 {
			t.Errorf("%s: %d cautions, %v", name, len(a.Cautions), a.Figures["ph_cold"].Value)
		}
	}
}

func FuzzCook(f *testing.F) {
	for _, s := range []string{cookRequest, `{"dry_g": 1, "alkali": "wood-ash lye", "alkali_pct": 1, "strength_g_l": 0.1}`, `{"dry_g": 1e6, "alkali": "lye", "alkali_pct": 150, "liquor_l_per_kg": 200}`, `{}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := ask.Cook.Read(text)
		if err != nil {
			return
		}
		a, err := r.Answer()
		if err != nil {
			t.Fatalf("%q is read but not answered: %v", text, err)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}
