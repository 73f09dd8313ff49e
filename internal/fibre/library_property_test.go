package fibre

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/published"
)

// What a fibre is cooked with, and which fibres cannot do without.
func TestLibraryIsWhole(t *testing.T) {
	t.Parallel()
	all := All()
	if len(all) < 45 {
		t.Errorf("%d fibres, want at least 45", len(all))
	}
	for _, f := range all {
		if f.Translucency == "" || f.Strength == "" || len(f.Dryings) == 0 || len(f.Aliases) == 0 {
			t.Errorf("%s: words are missing", f.Name)
		}
		if strings.ContainsAny(f.Name, ",;+%") {
			t.Errorf("%s cannot be written in a furnish", f.Name)
		}
		if c := f.Cook; c != nil && (c.With == "" || !c.Alkali.Known() || !c.Hours.Known()) {
			t.Errorf("%s: a cook without alkali or hours: %+v", f.Name, *c)
		}
		if f.MustCook() != (f.Raw && f.Cook != nil) || f.Raw && f.Cook == nil && !strings.HasPrefix(f.Preparation, "Ret ") {
			t.Errorf("%s is raw and neither cooked nor retted", f.Name)
		}
		if f.MustCook() && !slices.ContainsFunc(f.Cautions, func(c string) bool { return strings.Contains(c, "alkali") }) {
			t.Errorf("%s is cooked in alkali and does not warn of it", f.Name)
		}
		usual, _ := f.HoursFor(Usual)
		if Cockles(f, measure.Hours(usual.Mid)) && !f.HoldFlat {
			t.Errorf("%s cockles at its usual beat and carries no caution to dry it held", f.Name)
		}
		for _, q := range quantities {
			v := f.Of(q.Key)
			low, mid, high := v.Low, v.Mid, v.High
			if strings.HasPrefix(q.Unit, "%") {
				low, mid, high = low*100, mid*100, high*100
			}
			if v.Known() && (low < q.low || low > mid || mid > high || high > q.high+1e-9) {
				t.Errorf("%s, %s: %g %g %g is not in order within %g-%g %s", f.Name, q.Key, low, mid, high, q.low, q.high, q.Unit)
			}
			if v.Known() && v.Grade == source.Memory && q.Key != "price" && q.Key != "shrink_tau" && (high-low)/mid < 0.015 {
				t.Errorf("%s, %s: a remembered number with hardly a band: %g-%g", f.Name, q.Key, low, high)
			}
		}
	}
}

// The counts in the page of the model are those of the table.
func TestPageCountsGrades(t *testing.T) {
	t.Parallel()
	grades := []string{"paper", "handbook", "secondary", "practice", "memory"}
	values, hours, known := map[string]int{}, map[string]int{}, map[string][2]int{}
	all := All()
	for _, f := range all {
		for _, q := range Quantities() {
			v := f.Of(q.Key)
			if !v.Known() {
				continue
			}
			values[v.Grade.String()]++
			n := known[q.Key]
			n[0]++
			if v.Grade != source.Memory {
				n[1]++
			}
			known[q.Key] = n
		}
		for _, u := range f.Uses() {
			hours[u.Hours.Grade.String()]++
		}
	}
	var want strings.Builder
	fmt.Fprintf(&want, "| grade | numbers of %d fibres | hours of beating |\n| --- | --- | --- |\n", len(all))
	for _, g := range grades {
		fmt.Fprintf(&want, "| %s | %d | %d |\n", g, values[g], hours[g])
	}
	fmt.Fprintf(&want, "\n| quantity | known | of these not from memory |\n| --- | --- | --- |\n")
	for _, q := range Quantities() {
		fmt.Fprintf(&want, "| %s | %d | %d |\n", q.Name, known[q.Key][0], known[q.Key][1])
	}
	page, err := os.ReadFile("../../docs/models/fibre.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), want.String()) {
		t.Errorf("docs/models/fibre.md does not count as the table does:\n%s", want.String())
	}
}

func TestDensityBandProperties(t *testing.T) {
	t.Parallel()
	for _, f := range All() {
		last := 0.0
		for h := measure.Hours(0); h <= MostHours; h += 0.25 {
			v, err := DensityBand(f, h)
			if err != nil {
				t.Fatal(err)
			}
			if v.Mid < last || v.Low > v.Mid || v.Mid > v.High || v.Mid < f.Density.Low-1e-12 || v.Mid > f.Density.High+1e-12 || !v.Known() {
				t.Fatalf("%s at %g h: %+v after %g", f.Name, float64(h), v, last)
			}
			last = v.Mid
		}
		usual, _ := f.HoursFor(Usual)
		if v, _ := DensityBand(f, measure.Hours(usual.Mid)); math.Abs(v.Mid-f.Density.Mid) > 1e-12 {
			t.Errorf("%s at its usual beat: %g, the table has %g", f.Name, v.Mid, f.Density.Mid)
		}
		if v, _ := DensityBand(f, 0); math.Abs(v.Mid-f.Density.Low) > 1e-12 {
			t.Errorf("%s unbeaten: %g, the table has %g", f.Name, v.Mid, f.Density.Low)
		}
	}
}

func TestDensityBandEdges(t *testing.T) {
	t.Parallel()
	f, _ := Get("abaca")
	for _, h := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -0.001, 24.001} {
		if v, err := DensityBand(f, measure.Hours(h)); err == nil || v.Known() || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "24") {
			t.Errorf("at %g h: %+v, %v", h, v, err)
		}
		if !Cockles(f, measure.Hours(h)) {
			t.Errorf("at %g h a sheet is said to lie flat", h)
		}
	}
	if _, err := DensityBand(Fibre{Name: "string"}, 1); err == nil || fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("a fibre without density: %v", err)
	}
}

// A pin: the curve follows the remembered ranges within its own band.
func TestDensityRangesPin(t *testing.T) {
	t.Parallel()
	for _, r := range published.File(t, "testdata/density-ranges.csv")[1:] {
		f, ok := Get(r[0])
		if !ok {
			t.Fatalf("%s is not in the table", r[0])
		}
		h := (published.Number(t, r[1]) + published.Number(t, r[2])) / 2
		v, err := DensityBand(f, measure.Hours(h))
		if err != nil {
			t.Fatal(err)
		}
		if low, high := published.Number(t, r[3]), published.Number(t, r[4]); v.Mid < low*(1-densityBand) || v.Mid > high*(1+densityBand) {
			t.Errorf("%s at %g h: %.3f, remembered %g-%g", f.Name, h, v.Mid, low, high)
		}
	}
}

// Linen and other pulps that shrink much must dry under pressure or they
// cockle; rag in the loft and bamboo lie flat.
func TestCockles(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]bool{
		"linen rag": true, "flax": true, "hemp": true, "abaca": true, "uncooked flax": true, "cooked flax tow": true,
		"cotton rag": false, "cotton linters": false, "bamboo": false, "kozo": false, "mitsumata": false, "esparto": false,
	} {
		f, _ := Get(name)
		usual, _ := f.HoursFor(Usual)
		if Cockles(f, measure.Hours(usual.Mid)) != want {
			t.Errorf("%s at its usual beat: cockles %v", name, !want)
		}
	}
	for _, name := range []string{"cotton rag", "cotton linters", "bamboo"} {
		if f, _ := Get(name); Cockles(f, MostHours) {
			t.Errorf("%s is said to cockle", name)
		}
	}
	all := All()
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(all).Draw(t, "fibre")
		a := measure.Hours(rapid.Float64Range(0, float64(MostHours)).Draw(t, "a"))
		b := measure.Hours(rapid.Float64Range(float64(a), float64(MostHours)).Draw(t, "b"))
		if Cockles(f, a) && !Cockles(f, b) {
			t.Fatalf("%s cockles at %g h and not at %g h", f.Name, float64(a), float64(b))
		}
	})
}
