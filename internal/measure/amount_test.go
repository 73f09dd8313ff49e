package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"vatside/internal/fault"
)

// 1 US gal = 3785.411784 mL (us-gallon): a tablespoon is 1/256, a cup 1/16.
func TestReadAmount(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		sys  System
		want Amount
	}{
		{"3 Tbsp soda ash", US, Amount{Kind: OfSmallVolume, Value: 44.36029434, Of: "soda ash"}},
		{"3 metric tbsp of soda ash", Metric, Amount{Kind: OfSmallVolume, Value: 45, Of: "soda ash"}},
		{"1 cup", US, Amount{Kind: OfSmallVolume, Value: 236.5882365}},
		{"1½ US cups water", Metric, Amount{Kind: OfSmallVolume, Value: 354.88235475, Of: "water"}},
		{"2 L water", Metric, Amount{Kind: OfSmallVolume, Value: 2000, Of: "water"}},
		{"3 US fl oz", Metric, Amount{Kind: OfSmallVolume, Value: 88.7205886875}},
		{"3 oz soda ash", Metric, Amount{Kind: OfMass, Value: 85.048569375, Of: "soda ash"}},
		{"1 lb 4 oz abaca", Metric, Amount{Kind: OfMass, Value: 566.9904625, Of: "abaca"}},
		{"27 lb wet at 10 %", Metric, Amount{Kind: OfMass, Value: 12246.99399, Wet: true, SolidsLow: 0.1, SolidsHigh: 0.1}},
		{"27 lb wet at 8-15 %", Metric, Amount{Kind: OfMass, Value: 12246.99399, Wet: true, SolidsLow: 0.08, SolidsHigh: 0.15}},
		{"27 lb wet pulp at 8 to 15 % solids", US, Amount{Kind: OfMass, Value: 12246.99399, Of: "pulp", Wet: true, SolidsLow: 0.08, SolidsHigh: 0.15}},
		{"12,2 kg abaca pulp, wet at 12,5 %", Metric, Amount{Kind: OfMass, Value: 12200, Of: "abaca pulp", Wet: true, SolidsLow: 0.125, SolidsHigh: 0.125}},
		{"5 US gal stock at 3 %", Metric, Amount{Kind: OfSmallVolume, Value: 18927.05892, Of: "stock", Wet: true, SolidsLow: 0.03, SolidsHigh: 0.03}},
		{"27 lb wet", Metric, Amount{Kind: OfMass, Value: 12246.99399, Wet: true}},
		{"450", Metric, Amount{Kind: OfMass, Value: 450}},
		{"450 g kozo", US, Amount{Kind: OfMass, Value: 450, Of: "kozo"}},
		{"2 metric tons rag", US, Amount{Kind: OfMass, Value: 2e6, Of: "rag"}},
	} {
		got, err := ReadAmount(c.text, c.sys)
		off := math.Abs(got.Value - c.want.Value)
		got.Value, got.parts = c.want.Value, nil
		if err != nil || off > 1e-6*c.want.Value || fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%q (%s) is %+v (off %g), %v; want %+v", c.text, c.sys, got, off, err, c.want)
		}
	}
	for _, c := range []struct{ text, says string }{
		{"3 Tbsp soda ash", "metric tbsp"}, // a studio on metric units says which
		{"1 cup", "metric cups"},
		{"2 gal stock", "imp gal"},
		{"1 t soda ash", "teaspoon"},
		{"a handful", "not an amount"},
		{"", "not an amount"},
		{"3 handfuls", "no unit"},
		{"450 abaca", "no unit"},
		{"27 lb wet at 15-8 %", "lower end first"},
		{"27 lb wet at 0 %", "between 0 and 100"},
		{"27 lb wet at 120 %", "between 0 and 100"},
		{"27 lb at 8 % moisture", "wet at 10 %"},
		{strings.Repeat("9", 80), "too long"},
	} {
		if got, err := ReadAmount(c.text, Metric); err == nil || !strings.Contains(err.Error(), c.says) || got.Value != 0 {
			t.Errorf("%q: %+v, %v; want it to say %q", c.text, got, err, c.says)
		}
	}
}

func FuzzReadAmount(f *testing.F) {
	for _, s := range []string{"3 Tbsp soda ash", "27 lb wet at 8-15 %", "1 cup", "1 lb 4 oz abaca", "12,2 kg pulp, wet at 12,5 %", "1 t", "5 US gal stock at 3 %", "450", "at 3 %", "3 g at % %"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, us bool) {
		sys := Metric
		if us {
			sys = US
		}
		a, err := ReadAmount(text, sys)
		if err != nil {
			if a.Value != 0 || fault.KindOf(err) != fault.KindInvalid || len(err.Error()) > 400 {
				t.Fatalf("%q: %+v, %v", text, a, err)
			}
			return
		}
		if !Within(a.Value, 0, mostValue) || !isWeighed(a.Kind) || a.SolidsLow > a.SolidsHigh || a.SolidsLow < 0 || a.SolidsHigh > 1 {
			t.Fatalf("%q is read as %+v", text, a)
		}
	})
}

func ExampleReadAmount() {
	a, _ := ReadAmount("27 lb wet at 8-15 %", Metric)
	fmt.Printf("%.0f g, %.0f to %.0f g of it solids\n", a.Value, a.Value*float64(a.SolidsLow), a.Value*float64(a.SolidsHigh))
	// Output: 12247 g, 980 to 1837 g of it solids
}
