package ask_test

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"vatside/internal/ask"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/source"
	"vatside/internal/testkit/arithmetic"
)

// Sentences are retold in US units one quantity at a time: none may hold a range
// whose first number has no unit, or a difference in degrees.
var (
	splitRange = regexp.MustCompile(`\d (?:to|and|or) \d[\d.,]* (?:mL|mm|kg|kPa|°C|g/L|L|g)(?:[^\w/]|$)`)
	difference = regexp.MustCompile(`\b(?:by|warms|cools|warmer|cooler|hotter|colder|rises|falls)\b[^.;:]*°C`)
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

// Lime beyond what soda ash takes up is in the liquor too: 10 g of soda ash and
// 130 g of lime are 7.5 g of lye and 123 g of lime, by molar masses 105.99,
// 74.09 and 40.00; they take up 3.51 mol of acid.
func TestLimeThatIsLeftCounts(t *testing.T) {
	t.Parallel()
	a := cook(t, `{"dry_g": 1000, "alkali": "soda ash", "alkali_pct": 1, "lime_pct": 13, "liquor_l_per_kg": 10}`)
	alone := cook(t, `{"dry_g": 1000, "alkali": "slaked lime", "alkali_pct": 12.3, "liquor_l_per_kg": 10}`)
	for key, want := range map[string][2]float64{
		"lye_made_g": {7.55, 0.01}, "alkali_g_l": {13.06, 0.05}, "citric_g": {3.51 * 192.123 / 3, 1}, "vinegar_l": {3.51 * 60.052 / 50, 0.02},
	} {
		if got := a.Figures[key]; math.Abs(got.Value-want[0]) > want[1] {
			t.Errorf("%s is %v, want %v within %v", key, got.Value, want[0], want[1])
		}
	}
	if ph := a.Figures["ph_cold"].Value; ph < alone.Figures["ph_cold"].Value {
		t.Errorf("pH %v with lye beside the lime, %v of lime alone", ph, alone.Figures["ph_cold"].Value)
	}
	if a.Figures["rinse_changes"].Value < alone.Figures["rinse_changes"].Value {
		t.Error("lime that is left needs no rinsing")
	}
	if said := fmt.Sprint(a.Notes, a.Cautions, a.Waste); !strings.Contains(said, "grains") || !strings.Contains(said, "no safe strength") || !strings.Contains(said, "100 kg a month") {
		t.Errorf("not treated as lime and lye: %s", said)
	}
}

// A prediction that may be read over a line is told the line: soda ash at
// 12.8 g/L is predicted at 11.38, and 11.5 is the line in the UK.
func TestWasteLinesOfACook(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]string{
		cookRequest: {"waste-uk"},
		`{"dry_g": 450, "alkali": "wood-ash lye", "alkali_pct": 0.5, "strength_g_l": 30}`: {"waste-corrosive", "waste-month", "waste-uk"},
	} {
		codes := map[string]bool{}
		for _, c := range cook(t, text).Waste {
			codes[c.Code] = true
		}
		for _, code := range want {
			if !codes[code] {
				t.Errorf("%s: %s is not told", text, code)
			}
		}
	}
}

// Lye that is dissolved in more water than the pot holds is dissolved in the
// liquor; potash lye says whose heat was reckoned with.
func TestHowWarmLyeMakesItsWater(t *testing.T) {
	t.Parallel()
	const lye = `{"dry_g": 450, "alkali": "lye", "alkali_pct": 9%s}`
	much, none := cook(t, fmt.Sprintf(lye, `, "dissolve_l": 500`)), cook(t, fmt.Sprintf(lye, ""))
	if much.Figures["lye_reaches_c"].Value != none.Figures["lye_reaches_c"].Value {
		t.Errorf("%v °C in 500 L of a 7 L liquor, %v in the liquor", much.Figures["lye_reaches_c"].Value, none.Figures["lye_reaches_c"].Value)
	}
	if f := none.Figures["lye_reaches_c"]; f.Basis != source.Memory || f.Low >= f.Value || f.High <= f.Value {
		t.Errorf("%+v is not told as remembered", f)
	}
	if said := fmt.Sprint(cook(t, `{"dry_g": 450, "alkali": "potash lye", "alkali_pct": 12}`).Notes); !strings.Contains(said, "heat of lye") {
		t.Error("potash lye is warmed by lye's heat without a word")
	}
	if hot := cook(t, `{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "altitude_m": -430}`).Figures; hot["boil_c"].Value <= 100 || math.Abs(hot["ph_boil"].Value-10.35) > 0.15 {
		t.Errorf("below the sea: %v °C, pH %v", hot["boil_c"].Value, hot["ph_boil"].Value)
	}
}

// refused reports a refusal that names neither a key of the request nor what was typed as one.
func refused(t *testing.T, text []byte, err error) {
	t.Helper()
	var typed, known map[string]any
	if json.Unmarshal(text, &typed) != nil {
		return // no object: nothing to name
	}
	full, _ := json.Marshal(ask.CookRequest{LimePct: new(float64), StrengthGL: new(float64), LiquorLPerKg: new(float64), AltitudeM: new(float64),
		SimmerC: new(float64), WaterC: new(float64), DissolveL: new(float64), PotL: new(float64), Pot: "x", Fibre: "x"})
	if err := json.Unmarshal(full, &known); err != nil {
		t.Fatal(err)
	}
	for _, f := range fault.All(err) {
		_, isKnown := known[f.Field]
		if !isKnown && !strings.Contains(string(text), strings.Trim(f.Field, `"`)) {
			t.Errorf("%s: refused at %q, which is no key: %s", text, f.Field, f.Text)
		}
	}
}

// Every corner of the ranges is answered, or refused at a key of the request.
func TestCornersOfACook(t *testing.T) {
	t.Parallel()
	for _, alkali := range cooking.AlkaliNames() {
		for corner := range 1 << 4 {
			at := func(bit int, low, high string) string {
				if corner&(1<<bit) == 0 {
					return low
				}
				return high
			}
			text := fmt.Sprintf(`{"alkali": %q, "dry_g": %s, "alkali_pct": %s, "liquor_l_per_kg": %s, "altitude_m": %s, "pot_l": %s`,
				alkali, at(0, "0.1", "100000"), at(1, "0.1", "150"), at(2, "1", "200"), at(3, "-430", "5000"), at(2, "10000", "0.1"))
			switch alkali {
			case cooking.WoodAshLye:
				text += `, "strength_g_l": ` + at(3, "0.1", "500")
			case cooking.SodaAsh, cooking.Monohydrate, cooking.WashingSoda:
				text += `, "lime_pct": ` + at(3, "0.1", "150")
			default:
				text += `, "simmer_c": ` + at(3, "60", "100")
			}
			if _, err := ask.Cook.Read([]byte(text + "}")); err != nil {
				refused(t, []byte(text+"}"), err)
			}
		}
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
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 15, "lime_pct": 10, "water_c": 80}`, "water_c", "thrown out"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "water_c": 20}`, "water_c", "leave it out"},
		{`{"dry_g": 450, "alkali": "slaked lime", "alkali_pct": 20, "dissolve_l": 2}`, "dissolve_l", "leave it out"},
		{`{"dry_g": 999999, "alkali": "soda ash", "alkali_pct": 20}`, "dry_g", "100000"},
		{`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 10, "lime_pct": 140, "liquor_l_per_kg": 2}`, "liquor_l_per_kg", "more water"},
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
		for _, said := range append(append(a.Notes, a.Order...), a.After...) {
			if splitRange.MatchString(said) || difference.MatchString(said) {
				t.Errorf("%s: it cannot be told in US units one quantity at a time: %q", name, said)
			}
		}
		if len(a.Cautions) < 6 || len(a.Order) < 3 || len(a.EndTests) < 4 || len(a.Recipes) < 8 || len(a.Waste) < 4 || a.Figures["ph_cold"].Value < 11 {
			t.Errorf("%s: %d cautions, %v", name, len(a.Cautions), a.Figures["ph_cold"].Value)
		}
	}
}

// Every recipe of the table is shown to somebody: those of a fibre beside it,
// of no fibre by the plant's own name, of any plant beside every raw one.
func TestEveryRecipeIsShown(t *testing.T) {
	t.Parallel()
	shown := map[string]bool{}
	for _, r := range cooking.Recipes() {
		a := cook(t, fmt.Sprintf(`{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "fibre": %q}`, r.Plant))
		for _, s := range a.Recipes {
			shown[s.Plant+s.Part+s.Alkali+s.Source+s.Note] = true
		}
		if !shown[r.Plant+r.Part+r.Alkali+r.Source.Title+r.Note] {
			t.Errorf("%+v is not shown", r)
		}
	}
	has := func(text string) bool {
		return slices.ContainsFunc(cook(t, text).Recipes, func(r ask.CookRecipe) bool { return r.Plant == cooking.AnyPlant })
	}
	if !has(cookRequest) || !has(strings.Replace(cookRequest, "{", `{"fibre": "kozo", `, 1)) || has(strings.Replace(cookRequest, "{", `{"fibre": "cotton rag", `, 1)) {
		t.Error("recipes of any plant stand beside raw ones, and not beside rag")
	}
}

// A fibre whose sap foams wants a pot twice its liquor, others two thirds full.
func TestPotOfSapThatFoams(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]float64{"yucca": 2, "iris leaf": 1.5} {
		a := cook(t, fmt.Sprintf(`{"dry_g": 1000, "alkali": "soda ash", "alkali_pct": 20, "liquor_l_per_kg": 10, "fibre": %q}`, name))
		if got := a.Figures["pot_l"]; math.Abs(got.Value-10*want) > 0.01 {
			t.Errorf("%s: %v L, want %v", name, got.Value, 10*want)
		}
	}
}

func FuzzCook(f *testing.F) {
	for _, s := range []string{cookRequest, `{"dry_g": 1, "alkali": "wood-ash lye", "alkali_pct": 1, "strength_g_l": 0.1}`, `{"dry_g": 1e6, "alkali": "lye", "alkali_pct": 150, "liquor_l_per_kg": 200}`, `{"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "lime_pct": 9, "altitude_m": -400, "water_c": 20}`, `{}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := ask.Cook.Read(text)
		if err != nil {
			refused(t, text, err)
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
