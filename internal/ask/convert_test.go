package ask_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"vatside/internal/ask"
	"vatside/internal/fault"
	"vatside/internal/furnish"
	"vatside/internal/testkit/arithmetic"
)

func TestSchemasOfConvert(t *testing.T) {
	t.Parallel()
	request, answer := compiled(t, ask.Convert.Schemas)
	for text, good := range map[string]bool{
		`{"value": 24, "from": "lb bond", "to": "g/m2"}`:                       true,
		`{"text": "27 lb wet at 10 %", "to": "g"}`:                             true,
		`{"text": "22 x 30 in", "to": "mm"}`:                                   true,
		`{"text": "3 Tbsp soda ash", "to": "g"}`:                               true,
		`{"value": 3, "from": "fl oz", "to": "g", "product": "Soda ash"}`:      true,
		`{"value": 3, "from": "fl oz", "to": "g", "density_g_ml": 0.8}`:        true,
		`{"value": 24, "to": "g/m2"}`:                                          false,
		`{"value": 24, "from": "lb bond"}`:                                     false,
		`{"to": "g/m2"}`:                                                       false,
		`{"value": "24", "from": "lb bond", "to": "g/m2"}`:                     false,
		`{"value": 24, "from": "lb bond", "to": "g/m2", "text": "24 lb bond"}`: false,
		`{"value": 24, "from": "lb bond", "to": "g/m2", "basis": "bond"}`:      false,
	} {
		if err := request.Validate(instance(t, []byte(text))); (err == nil) != good {
			t.Errorf("%s: the schema says %v", text, err)
		}
		r, err := ask.Convert.Read([]byte(text))
		if (err == nil) != good {
			t.Errorf("%s is read with %v", text, err)
		}
		if !good || err != nil {
			continue
		}
		a, err := r.Answer()
		if err != nil {
			t.Fatal(err)
		}
		valid(t, text, answer, a)
		for _, l := range a.Sum {
			got, err := arithmetic.Eval(l.Working)
			number, _, _ := strings.Cut(l.Result, " ")
			want, err2 := arithmetic.Eval(number)
			if err != nil || err2 != nil || math.Abs(got.Is-want.Is) > got.Slack+want.Slack || l.Source == "" || l.Grade == "" {
				t.Errorf("%s: %+v comes to %g", text, l, got.Is)
			}
		}
	}
}

func TestRangesOfConvertAgree(t *testing.T) {
	t.Parallel()
	tryRanges(t, 2, ask.Convert.Schemas, ask.Convert.Read)
}

func TestFaultsOfAConvertRequest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, field, says string }{
		{`{"value": 20, "from": "lb", "to": "g/m2"}`, "from", "which basis"},
		{`{"from": "lb", "to": "g/m2"}`, "value", "missing"},
		{`{"value": 8, "from": "pt", "to": "g/m2"}`, "from", "thickness"},
		{`{"value": 3, "from": "fl oz", "to": "g"}`, "density_g_ml", "density"},
		{`{"value": 3, "from": "fl oz", "to": "g", "product": "lye"}`, "product", "weigh it"},
		{`{"value": 25, "from": "psi vacuum", "to": "kPa"}`, "value", "one atmosphere"},
		{`{"text": "2 reams", "to": "sheets"}`, "text", "480 or 500"},
		{`{"text": "2 gsm", "to": "furlongs"}`, "to", "not a unit"},
		{`{"value": 2, "from": "lb", "to": "g", "text": "2 lb"}`, "text", "either"},
		{`{"value": 2, "from": "lb", "two": "g", "to": "g"}`, "two", "no such key"},
		{`{"value": 2, "from": "lb", "to": ""}`, "to", "missing"},
		{`{"value": 2, "from": "US cups", "to": "g", "density_g_ml": 99}`, "density_g_ml", "between 0.01 and 25 g/mL"},
		{`{"value": 2, "from": "US cups", "to": "g", "density_gml": 1}`, "density_gml", "did you mean density_g_ml?"},
	} {
		_, err := ask.Convert.Read([]byte(c.text))
		found := false
		for _, f := range fault.All(err) {
			found = found || f.Field == c.field && strings.Contains(f.Text, c.says)
		}
		if !found {
			t.Errorf("%s: %v; want a fault at %s that says %q", c.text, err, c.field, c.says)
		}
	}
}

// Three fluid ounces of soda ash are 49 to 89 g (0.55–1.0 g/mL, memory): a
// band that the answer does not hide.
func TestSpoonsHaveABand(t *testing.T) {
	t.Parallel()
	r, err := ask.Convert.Read([]byte(`{"value": 3, "from": "US fl oz", "to": "g", "product": "soda ash"}`))
	if err != nil {
		t.Fatal(err)
	}
	a, err := r.Answer()
	if err != nil || math.Round(a.Low) != 49 || math.Round(a.High) != 89 || a.Basis.String() != "memory" || len(a.Notes) != 1 {
		t.Errorf("%+v, %v", a, err)
	}
}

// An additive brings its bulk along: two tablespoons of chalk, 29.57 mL at the
// ends of the table of additives.
func TestAdditivesBringTheirBulk(t *testing.T) {
	t.Parallel()
	chalk, _ := furnish.GetAdditive("chalk")
	a, err := ask.ConvertRequest{Text: "2 US tbsp chalk", To: "g"}.Answer()
	if err != nil || math.Abs(a.Low-29.57353*chalk.Bulk.Low) > 1e-3 || math.Abs(a.Value-29.57353*chalk.Bulk.Mid) > 1e-3 || math.Abs(a.High-29.57353*chalk.Bulk.High) > 1e-3 || a.Basis != chalk.Bulk.Grade {
		t.Errorf("%+v, %v; the bulk is %+v", a, err, chalk.Bulk)
	}
}

func FuzzConvert(f *testing.F) {
	for _, s := range []string{`{"value": 24, "from": "lb bond", "to": "g/m2"}`, `{"text": "27 lb wet at 10 %", "to": "g"}`, `{"to": 3}`, `[]`, `{"value": 1e400, "from": "g", "to": "kg"}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := ask.Convert.Read(text)
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

func ExampleConvertRequest_Answer() {
	r, err := ask.Convert.Read([]byte(`{"text": "27 lb wet at 10 %", "to": "kg"}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	a, _ := r.Answer()
	fmt.Printf("%.2f %s bone-dry, %.2f wet\n", a.Value, a.Unit, *a.Wet)
	for _, l := range a.Sum {
		fmt.Println(l.Working, "=", l.Result)
	}
	// Output:
	// 1.22 kg bone-dry, 12.25 wet
	// 27 × 453.5924 = 12246.99 g
	// 12246.99 × 0.1 = 1224.699 g
	// 1224.699 / 1000 = 1.224699 kg
}
