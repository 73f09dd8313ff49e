package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/testkit/arithmetic"
)

// Each working comes to the result printed beside it, and the last to the
// value.
func checkSteps(t interface {
	Fatalf(string, ...any)
}, c Converted) {
	for i, s := range c.Steps {
		got, err := arithmetic.Eval(s.Working)
		number, _, _ := strings.Cut(s.Result, " ")
		want, err2 := arithmetic.Eval(number)
		if err != nil || err2 != nil || math.Abs(got.Is-want.Is) > got.Slack+want.Slack+1e-12 {
			t.Fatalf("%q comes to %g, not to %s: %v, %v", s.Working, got.Is, s.Result, err, err2)
		}
		if i == len(c.Steps)-1 && c.Side == 0 && math.Abs(want.Is-c.Value) > want.Slack+1e-9*math.Abs(c.Value) {
			t.Fatalf("the sum ends with %s, the value is %g", s.Result, c.Value)
		}
	}
}

// There and back is where one was, whatever the units, and every working
// re-evaluates.
func TestConvertThereAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(kindsConverted).Draw(t, "kind")
		of := slices.DeleteFunc(slices.Clone(units), func(u unit) bool { return u.kind != kind || u.most > 0 })
		a, b := rapid.SampledFrom(of).Draw(t, "from"), rapid.SampledFrom(of).Draw(t, "to")
		v := rapid.Float64Range(0.01, 500).Draw(t, "value")
		there, err := Convert(v, a.name, b.name, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkSteps(t, there)
		if there.Value < 0 && !fields[kind].negative {
			t.Fatalf("%g %s is %g %s", v, a.name, there.Value, b.name)
		}
		back, err := Convert(there.Value, b.name, a.name, nil)
		if err != nil || math.Abs(back.Value-v) > 1e-9*v+1e-9 {
			t.Fatalf("%g %s is %g %s is %g %s, %v", v, a.name, there.Value, b.name, back.Value, a.name, err)
		}
	})
}

// A volume weighed and measured again by the same density is the same volume;
// a range of densities turns its ends round.
func TestDensityThereAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v, d := rapid.Float64Range(0.1, 1000).Draw(t, "mL"), rapid.Float64Range(0.05, 20).Draw(t, "density")
		mass, err1 := Convert(v, "mL", "g", &Span{d, d, d})
		back, err2 := Convert(mass.Value, "g", "mL", &Span{d, d, d})
		if err1 != nil || err2 != nil || math.Abs(mass.Value-v*d) > 1e-9*v*d || math.Abs(back.Value-v) > 1e-9*v {
			t.Fatalf("%g mL at %g is %g g is %g mL; %v, %v", v, d, mass.Value, back.Value, err1, err2)
		}
		wide, err := Convert(v, "g", "mL", &Span{d, 1.5 * d, 2 * d})
		if err != nil || wide.Low > wide.Value || wide.Value > wide.High || math.Abs(wide.High-2*wide.Low) > 1e-9*wide.High {
			t.Fatalf("%+v, %v", wide, err)
		}
	})
}

func TestConvertText(t *testing.T) {
	t.Parallel()
	soda := &Span{0.55, 0.775, 1}
	for _, c := range []struct {
		text, to         string
		density          *Span
		value, low, high float64
	}{
		{"27 lb wet at 10 %", "g", nil, 1224.699399, 1224.699399, 1224.699399}, // 27 · 453.59237 · 0.1
		{"27 lb wet at 8-15 %", "kg", nil, 1.408404, 0.979759519, 1.837049099},
		{"27 lb wet", "kg", nil, 12.24699399, 12.24699399, 12.24699399},
		{"5 US gal stock at 3 %", "g", &Span{1, 1, 1}, 567.8117676, 567.8117676, 567.8117676},
		{"3 fl oz", "g", soda, 68.75845873, 48.79632387, 88.72059}, // 49–89 g
		{"1 lb 4 oz", "g", nil, 566.9904625, 566.9904625, 566.9904625},
		{"24 lb bond", "g/m2", nil, 90.2335289, 90.2335289, 90.2335289},
		{"8½\"", "mm", nil, 215.9, 215.9, 215.9},
		{"22 x 30 in", "mm", nil, 558.8, 558.8, 558.8},
		{"22 x 30 in", "m2", nil, 0.4258056, 0.4258056, 0.4258056},
		{"22 x 30 in", "sq in", nil, 660, 660, 660},
		{"1:20", "h", nil, 4.0 / 3, 4.0 / 3, 4.0 / 3},
		{"-40 °F", "C", nil, -40, -40, -40},
		{"3 reams of 480", "sheets", nil, 1440, 1440, 1440},
		{"25 inHg vacuum", "kPa", nil, 84.659725, 84.659725, 84.659725},
	} {
		got, err := ConvertText(c.text, c.to, c.density)
		if err != nil {
			t.Errorf("%s in %s: %v", c.text, c.to, err)
			continue
		}
		for _, pair := range [][2]float64{{got.Value, c.value}, {got.Low, c.low}, {got.High, c.high}} {
			if math.Abs(pair[0]-pair[1]) > 1e-6*math.Abs(pair[1]) {
				t.Errorf("%s is %g (%g–%g) %s, want %g (%g–%g)", c.text, got.Value, got.Low, got.High, got.Unit, c.value, c.low, c.high)
			}
		}
		checkSteps(t, got)
	}
	both, _ := ConvertText("22 x 30 in", "in", nil)
	if both.Value != 22 || both.Side != 30 {
		t.Errorf("22 x 30 in is %g by %g in", both.Value, both.Side)
	}
	wet, _ := ConvertText("27 lb wet at 10 %", "lb", nil)
	if wet.Wet == nil || math.Abs(*wet.Wet-27) > 1e-9 || math.Abs(wet.Value-2.7) > 1e-9 {
		t.Errorf("27 lb at 10 %%: %+v", wet)
	}
}

func TestConvertRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		value           float64
		from, to, field string
		says            string
	}{
		{20, "lb", "g/m2", "from", "which basis"},
		{20, "#", "g/m2", "from", "which basis"},
		{75, "gsm", "lb", "to", "which basis"},
		{8, "pt", "g", "from", "thickness"},
		{8, "pt", "g/m2", "from", "thickness"},
		{8, "points", "kg", "from", "thickness"},
		{3, "fl oz", "g", "density_g_ml", "density"},
		{3, "oz", "mL", "density_g_ml", "density"},
		{25, "psi vacuum", "kPa", "value", "one atmosphere"},
		{30, "inHg vacuum", "psi", "value", "one atmosphere"},
		{2, "ream", "sheets", "from", "480 or 500"},
		{2, "quires", "sheets", "from", "24 or 25"},
		{2, "g", "in", "to", "mass"},
		{2, "furlong", "in", "from", "not a unit"},
		{2, "", "in", "from", "give a unit"},
		{-2, "g", "kg", "value", "below zero"},
		{math.NaN(), "g", "kg", "value", "between"},
		{math.Inf(1), "g", "kg", "value", "between"},
		{2e12, "g", "kg", "value", "between"},
	} {
		got, err := Convert(c.value, c.from, c.to, nil)
		all := fault.All(err)
		if len(all) != 1 || all[0].Field != c.field || !strings.Contains(all[0].Text, c.says) || got.Value != 0 {
			t.Errorf("%g %s in %s: %g, %v; want a fault at %s that says %q", c.value, c.from, c.to, got.Value, err, c.field, c.says)
		}
	}
	if _, err := ConvertText("27 lb wet at 10 %", "mL", &Span{1, 1, 1}); err == nil || !strings.Contains(err.Error(), "a share of the mass") {
		t.Errorf("a volume of bone-dry fibre: %v", err)
	}
	for text, says := range map[string]string{
		"60 lb": "which basis", "60": "no unit", "8 pt": "thickness", "a handful": "not a grammage", "": "nothing is written", "1,500 gsm": "1.500 or 1500",
	} {
		if _, err := ConvertText(text, "g/m2", nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

// A word that means two things elsewhere is taken as US and said.
func TestConvertSaysWhatItTook(t *testing.T) {
	t.Parallel()
	for _, word := range []string{"gal", "pint", "fl oz", "cup", "tbsp", "tsp", "ton"} {
		to := "mL"
		if word == "ton" {
			to = "kg"
		}
		if c, err := Convert(2, word, to, nil); err != nil || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "taken as US") {
			t.Errorf("%s: %q, %v", word, c.Notes, err)
		}
	}
	if c, err := Convert(2, "US gal", "L", nil); err != nil || len(c.Notes) > 0 {
		t.Errorf("US gal: %q, %v", c.Notes, err)
	}
}

func FuzzConvertText(f *testing.F) {
	for _, s := range [][2]string{{"27 lb wet at 10 %", "g"}, {"22 x 30 in", "m2"}, {"3 Tbsp soda ash", "g"}, {"2 reams of 480", "sheets"}, {"60 lb text", "g/m2"},
		{"1:20", "h"}, {"-40 F", "C"}, {"25 psi vacuum", "kPa"}, {"1 lb 4 oz", "kg"}, {"8 pt", "mm"}, {"x", "in"}, {"1 t", "g"}} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, text, to string) {
		c, err := ConvertText(text, to, &Span{0.55, 0.775, 1})
		if err != nil {
			for _, one := range fault.All(err) {
				if one.Kind == fault.KindInternal || len(one.Text) > 400 {
					t.Fatalf("%q in %q: %v", text, to, err)
				}
			}
			return
		}
		if !Finite(c.Value) || c.Low > c.Value+1e-9*math.Abs(c.Value) || c.High < c.Value-1e-9*math.Abs(c.Value) || c.Unit == "" || len(c.Steps) == 0 {
			t.Fatalf("%q in %q is %+v", text, to, c)
		}
	})
}

func ExampleConvert() {
	c, _ := Convert(24, "lb bond", "g/m2", nil)
	fmt.Printf("%.1f %s\n%s\n", c.Value, c.Unit, c.Steps[0].Working)
	_, err := Convert(20, "lb", "g/m2", nil)
	fmt.Println(err)
	// Output:
	// 90.2 g/m²
	// 24 × (453.59237 / (500 × 17 × 22 × 0.00064516))
	// from: pounds alone do not give a grammage: pounds of which basis? The ream's size and count are missing; write it like 90 g/m2, 90 gsm, 60 lb text or 24 lb bond
}
