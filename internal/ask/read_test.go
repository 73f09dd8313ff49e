package ask_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"vatside/internal/ask"
	"vatside/internal/fault"
	"vatside/internal/plan"
)

// contract is the plan request of the command contract.
func contract(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile("testdata/plan.json")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

const vatRequest = `{"vat_l": 80, "formed_area_m2": 0.126, "effective_depth_mm": 19.4, "carried_off_l": 0.21, "grammage_formed_g_m2": 100, "sheets": 30, "tolerance_pct": 5, "recharge": "none"}`

func TestContractRequestIsRead(t *testing.T) {
	t.Parallel()
	got, err := ask.Plan.Read(contract(t))
	if err != nil {
		t.Fatal(err)
	}
	var want plan.Request
	if err := json.Unmarshal(contract(t), &want); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Each fault names its key and says what would be right.
func TestFaultsOfAPlanRequest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, from, to, field, says string }{
		{"unknown", `"good_sheets"`, `"good_sheet"`, "good_sheet", "did you mean good_sheets?"},
		{"unit", `"vat_l"`, `"vat_ml"`, "studio.vat_ml", "use vat_l, in L"},
		{"unit within", `"rated_dry_g"`, `"rated_dry_kg"`, "studio.beater.rated_dry_kg", "use rated_dry_g, in g"},
		{"place", `"good_sheets": 50`, `"good_sheets": 50, "jug_ml": 900`, "jug_ml", "belongs under studio"},
		{"case", `"paper"`, `"Paper"`, "Paper", "did you mean paper?"},
		{"text", `"grammage_conditioned_g_m2": 100`, `"grammage_conditioned_g_m2": "100"`, "paper.grammage_conditioned_g_m2", `Give a number in g/m2, such as 100; this is the text "100"`},
		{"null", `"good_sheets": 50`, `"good_sheets": null`, "good_sheets", "leave the key out"},
		{"missing", `"grammage_conditioned_g_m2": 100,`, ``, "paper.grammage_conditioned_g_m2", "missing: give a number in g/m2, such as 100"},
		{"twice", `"felts": 24`, `"felts": 24, "felts": 25`, "studio.felts", "given twice"},
		{"too large", `"vat_l": 80`, `"vat_l": 1e999`, "studio.vat_l", "too large"},
		{"not whole", `"good_sheets": 50`, `"good_sheets": 50.5`, "good_sheets", "Give a whole number, such as 50; this says 50.5"},
		{"list", `"moulds": []`, `"moulds": {}`, "studio.moulds", "Give a list"},
		{"object", `"press": {"force_kn": 60}`, `"press": 60`, "studio.press", "Give an object"},
		{"word", `"western"`, `"eastern"`, "paper.forming", "western, several dips, poured"},
		{"drying", `"drying": "stack"`, `"drying": "oven"`, "paper.drying", "stack, exchange, board, loft, free"},
		{"shares", `"share_pct": 30`, `"share_pct": 20`, "paper.furnish", "must add up to 100 %; these add up to 90 %"},
		{"fibre", `"abaca"`, `"abacca"`, "paper.furnish[1].fibre", "did you mean abaca"},
		{"range", `"vat_l": 80`, `"vat_l": 8000`, "studio.vat_l", "from 0.2 to 5000 L"},
		{"pin", `"shrink_long_pct": 4`, `"shrink_long_pct": "4"`, "known.shrink_long_pct", "Give a number, or an object"},
		{"coefficient", `"shrink_long_pct"`, `"shrink_pct"`, "known.shrink_pct", "did you mean shrink_long_pct?"},
		{"grade", `"shrink_long_pct": 4`, `"shrink_long_pct": {"value": 4, "grade": "sure"}`, "known.shrink_long_pct.grade", "measured"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			text := strings.Replace(string(contract(t)), c.from, c.to, 1)
			if text == string(contract(t)) {
				t.Fatalf("the request does not hold %s", c.from)
			}
			_, err := ask.Plan.Read([]byte(text))
			for _, f := range fault.All(err) {
				if f.Field == c.field && strings.Contains(f.Text, c.says) {
					return
				}
			}
			t.Errorf("want %s: … %s …; got %v", c.field, c.says, err)
		})
	}
}

func TestSeveralFaultsAtOnce(t *testing.T) {
	t.Parallel()
	_, err := ask.Plan.Read([]byte(`{"paper": {"furnish": [{"fibre": "abacca", "share_pct": "70"}], "grammage_conditioned_g_m2": 1}, "sheet": {"long_mm": 420}, "good": 3}`))
	var got []string
	for _, f := range fault.All(err) {
		got = append(got, f.Field)
	}
	want := []string{"paper.furnish[0].share_pct", "sheet.short_mm", "good", "paper.furnish[0].fibre", "paper.grammage_conditioned_g_m2", "good_sheets"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}

func TestTextThatIsNoRequest(t *testing.T) {
	t.Parallel()
	for text, says := range map[string]string{
		"": "no request", " \n": "no request", "[]": "one JSON object", "3": "one JSON object", `{"a":1} {"b":2}`: "nothing after it",
		vatRequest + "x": "nothing after it", "{": "ends too early", "{\n\n\"a\" 1}": "line 3", `{"vat_l": NaN}`: "not JSON", "{\"a\": \"\xff\"}": "UTF-8",
		strings.Repeat(`{"a":`, 5000): "nested", strings.Repeat(" ", ask.Most) + "{}": "1 MB", `{"vat_l": 01}`: "not JSON",
	} {
		_, err := ask.Vat.Read([]byte(text))
		if err == nil || !strings.Contains(err.Error(), says) || fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%.40q: %v, want … %s …", text, err, says)
		}
	}
}

func TestRechargeInFourWays(t *testing.T) {
	t.Parallel()
	for recharge, wrong := range map[string]string{
		`"none"`: "", `"advised"`: "", `{"every": 3, "solids_g": 35, "stock_g_l": 30}`: "", `[{"before_sheet": 4, "stock_ml": 1166, "solids_g": 35}]`: "",
		`"sometimes"`: "recharge", `7`: "recharge", `{"every": 3, "solids_g": 35}`: "recharge.stock_g_l", `[{"stock_ml": 5}]`: "recharge[0].before_sheet",
		`{"every": 3, "solids_g": 35, "stock_g_l": 30, "jugs": 1}`: "recharge.jugs", `[{"before_sheet": "4"}]`: "recharge[0].before_sheet",
	} {
		_, err := ask.Vat.Read([]byte(strings.Replace(vatRequest, `"none"`, recharge, 1)))
		switch {
		case wrong == "" && err != nil:
			t.Errorf("%s: %v", recharge, err)
		case wrong != "" && (err == nil || fault.All(err)[0].Field != wrong):
			t.Errorf("%s: %v, want a fault of %s", recharge, err, wrong)
		}
	}
}

// Whatever comes in, it is read or refused with faults that name what is
// wrong, and what is read comes back the same when it is written and read again.
func FuzzRead(f *testing.F) {
	f.Add(contract(f))
	f.Add([]byte(vatRequest))
	f.Add([]byte(`{"paper":{"furnish":[{"fibre":"abaca","share_pct":100}],"grammage_conditioned_g_m2":1e2},"sheet":{"long_mm":420,"short_mm":297},"good_sheets":5e1,"known":{"shrink_long_pct":{"value":4,"grade":"measured"}}}`))
	f.Add([]byte(`{"a":{"a":1,"a":2},"\u0000":[[]],"vat_l":-0}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		tryRead(t, ask.Plan.Read, b)
		tryRead(t, ask.Vat.Read, b)
	})
}

func tryRead[R any](t *testing.T, read func([]byte) (R, error), b []byte) {
	t.Helper()
	first, err := read(b)
	if err != nil {
		for _, one := range fault.All(err) {
			if one.Text == "" || one.Kind != fault.KindInvalid && one.Kind != fault.KindOutOfRange {
				t.Fatalf("%v of kind %v", one, one.Kind)
			}
		}
		return
	}
	text, err := json.Marshal(first)
	if err != nil {
		t.Fatal(err)
	}
	again, err := read(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	same, err := json.Marshal(again)
	if err != nil || string(same) != string(text) {
		t.Fatalf("%s became %s, %v", text, same, err)
	}
}
