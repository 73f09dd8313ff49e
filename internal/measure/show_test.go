package measure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestShow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v      float64
		unit   string
		metric string
		us     string
	}{
		{340.194, "g", "340 g", "12 oz"},
		{1101.9, "g", "1100 g", "2.43 lb"},
		{12470, "g", "12.5 kg", "27.5 lb"},
		{11.66, "g", "11.7 g", "0.411 oz"},
		{0.5, "g", "0.5 g", "0.5 g"},
		{1.491, "kg", "1.49 kg", "3.29 lb"},
		{437.5, "mm", "438 mm", "17 1/4 in"}, // 17.22 in
		{215.9, "mm", "216 mm", "8 1/2 in"},
		{304.8, "mm", "305 mm", "12 in"},
		{4.63, "mm", "4.6 mm", "0.18 in"},
		{80, "L", "80 L", "21.1 US gal"},
		{2.5, "L", "2.5 L", "2.64 US qt"},
		{0.25, "L", "0.25 L", "8.45 US fl oz"},
		{236.588, "mL", "237 mL", "8 US fl oz"},
		{709.765, "mL", "710 mL", "3 US cups"},
		{443.3, "kPa", "443 kPa", "64.3 psi"},
		{20, "°C", "20 °C", "68 °F"},
		{-40, "°C", "−40 °C", "−40 °F"},
		{13.78, "°C", "13.8 °C", "56.8 °F"},
		{0.13535, "m²", "0.135 m²", "1.46 sq ft"},
		{0.33, "kg/h", "0.33 kg/h", "0.728 lb/h"},
		{15, "g/L", "15 g/L", "2 oz/US gal"},
		{92.13, "g/m²", "92.1 g/m²", "92.1 g/m²"},
		{60, "kN", "60 kN", "6.74 US tons"},
		{304.8, "m", "305 m", "1000 ft"},
		{0.03, "m³/s", "0.03 m³/s", "63.6 cfm"},
		{64.4, "sheets", "64 sheets", "64 sheets"},
		{1, "sheets", "1 sheet", "1 sheet"},
		{3, "loads", "3 loads", "3 loads"},
		{2, "posts", "2 posts", "2 posts"},
		{9.84, "h", "9.8 h", "9.8 h"},
		{25.6, "h", "26 h", "26 h"},
		{12.4, "min", "12 min", "12 min"},
		{2.46, "days", "2.5 days", "2.5 days"},
		{87.234, "%", "87.2 %", "87.2 %"},
		{0.6219, "", "0.622 ", "0.622 "},
		{12.5, "money", "12.50 money", "12.50 money"},
		{0.00726, "kg/kg", "0.00726 kg/kg", "0.00726 kg/kg"},
		{123456, "%", "123\u202f000 %", "123\u202f000 %"},
		{0, "g", "0 g", "0 g"},
		{-0.01, "°C", "0 °C", "32 °F"},
		{math.NaN(), "g", "– g", "– g"},
		{math.Inf(1), "sheets", "– sheets", "– sheets"},
	} {
		for sys, want := range map[System]string{Metric: c.metric, US: c.us} {
			number, unit := Show(c.v, c.unit, sys)
			if got := number + " " + unit; got != want && !math.IsNaN(c.v) {
				t.Errorf("%g %s in %s: %q, want %q", c.v, c.unit, sys, got, want)
			}
		}
	}
}

func TestShowBand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		low, high float64
		unit      string
		sys       System
		want      string
	}{
		{372.4, 458.9, "g", Metric, "370–460 g"},
		{372.4, 458.9, "g", US, "0.82–1.01 lb"},
		{91.3, 108.2, "g/m²", Metric, "91–108 g/m²"},
		{443, 443, "kPa", Metric, "443 kPa"},
		{61, 68, "sheets", Metric, "61–68 sheets"},
		{431.8, 444.5, "mm", US, "17 to 17 1/2 in"},
		{-5, 3, "°C", Metric, "−5 to 3 °C"},
		{12.3, 47.8, "h", Metric, "10–50 h"},
		{math.NaN(), math.NaN(), "g", Metric, "– g"},
	} {
		numbers, unit := ShowBand(c.low, c.high, c.unit, c.sys)
		if got := numbers + " " + unit; got != c.want {
			t.Errorf("%g to %g %s in %s: %q, want %q", c.low, c.high, c.unit, c.sys, got, c.want)
		}
	}
}

func TestShowDuration(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		m    Minutes
		want string
	}{
		{0, "0 min"}, {7.4, "7.4 min"}, {45.2, "45 min"}, {59.7, "1 h"}, {80, "1 h 20 min"}, {82, "1 h 20 min"},
		{119, "2 h"}, {583, "9 h 45 min"}, {600, "10 h"}, {26*60 + 10, "26 h"}, {60 * 60, "2.5 days"}, {-80, "−1 h 20 min"},
		{Minutes(math.NaN()), "–"}, {Minutes(math.Inf(1)), "–"},
	} {
		if got := ShowDuration(c.m); got != c.want {
			t.Errorf("%g min: %q, want %q", c.m, got, c.want)
		}
	}
}

// A time shown is read back within half the step it is shown in.
func TestShownTimeIsReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := math.Exp(rapid.Float64Range(math.Log(0.1), math.Log(1e6)).Draw(t, "log"))
		half := 360.0
		switch {
		case v < 9.95:
			half = twoFigures(v, Metric)
		case v < 59.5:
			half = 0.5
		case v < 597.5:
			half = 2.5
		case v < 47.5*60:
			half = 30
		}
		text := ShowDuration(Minutes(v))
		if got, err := Parse(OfMinutes, text, Metric); err != nil || math.Abs(got-v) > half*(1+1e-9) {
			t.Fatalf("%g min shown as %s is read as %g, %v", v, text, got, err)
		}
	})
}

// shownAs is what one unit can be read back as, and the largest miss its
// rounding may make, in its own unit.
var shownAs = map[string]struct {
	kind Kind
	miss func(v float64, sys System) float64
}{
	"g": {OfMass, threeFigures}, "L": {OfVolume, threeFigures}, "mL": {OfSmallVolume, threeFigures},
	"kPa": {OfPressure, threeFigures}, "kN": {OfForce, threeFigures}, "m²": {OfArea, threeFigures}, "kg/h": {OfRate, threeFigures},
	"g/L": {OfConsistency, threeFigures}, "g/m²": {OfGrammage, threeFigures}, "m": {OfAltitude, threeFigures},
	"m³/s": {OfAirflow, threeFigures}, "%": {OfPercent, threeFigures}, "": {OfNumber, threeFigures},
	"°C": {OfTemperature, func(_ float64, sys System) float64 {
		if sys == US {
			return 0.05 * 5 / 9
		}
		return 0.05
	}},
	"mm": {OfLength, func(v float64, sys System) float64 {
		switch {
		case sys == US && v >= 25.4/4:
			return 25.4 / 32
		case sys == Metric && v >= 9.95:
			return 0.5
		}
		return twoFigures(v, sys)
	}},
	"h":   {OfHours, timeMiss},
	"min": {OfMinutes, timeMiss},
}

func threeFigures(v float64, _ System) float64 { return 0.005 * math.Abs(v) }

func twoFigures(v float64, _ System) float64 { return 0.05 * math.Abs(v) }

func timeMiss(v float64, sys System) float64 {
	if v >= 9.95 {
		return 0.5
	}
	return twoFigures(v, sys)
}

func TestShownIsReadBack(t *testing.T) {
	t.Parallel()
	for unit, back := range shownAs {
		for _, sys := range []System{Metric, US} {
			t.Run(fmt.Sprintf("%s %s", back.kind, sys), func(t *testing.T) {
				t.Parallel()
				rapid.Check(t, func(t *rapid.T) {
					v := math.Exp(rapid.Float64Range(math.Log(0.02), math.Log(50000)).Draw(t, "log"))
					number, shown := Show(v, unit, sys)
					got, err := Parse(back.kind, number+" "+shown, sys)
					if err != nil {
						t.Fatalf("%g %s shown as %s %s is not read: %v", v, unit, number, shown, err)
					}
					if miss := math.Abs(got - v); miss > back.miss(v, sys)*(1+1e-9)+1e-12 {
						t.Fatalf("%g %s shown as %s %s is read as %g", v, unit, number, shown, got)
					}
					// Switching systems changes nothing: text with its unit
					// means the same to both.
					other := US
					if sys == US {
						other = Metric
					}
					if again, err := Parse(back.kind, number+" "+shown, other); err != nil || again != got {
						t.Fatalf("%s %s is %g in %s and %g in %s, %v", number, shown, got, sys, again, other, err)
					}
				})
			})
		}
	}
}

// At most three significant digits are shown of a measured quantity.
func TestNoFalsePrecision(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := math.Exp(rapid.Float64Range(-8, 14).Draw(t, "log"))
		unit := rapid.SampledFrom([]string{"g", "kg", "L", "mL", "kPa", "m²", "kg/h", "g/L", "g/m²", "%", "", "kN"}).Draw(t, "unit")
		sys := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		number, _ := Show(v, unit, sys)
		figures := strings.Trim(strings.NewReplacer(".", "", thinSpace, "").Replace(number), "0")
		if len(figures) > 3 {
			t.Fatalf("%g %s is shown as %s", v, unit, number)
		}
	})
}

// The ends of a band lie in the order of its values and near them.
func TestBandKeepsItsEnds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(1, 5000).Draw(t, "low")
		width := rapid.Float64Range(0.02, 1).Draw(t, "width") * low
		numbers, unit := ShowBand(low, low+width, "g/m²", Metric)
		a, b, both := strings.Cut(numbers, "–")
		if !both {
			b = a
		}
		x, e1 := Parse(OfGrammage, a+" "+unit, Metric)
		y, e2 := Parse(OfGrammage, b+" "+unit, Metric)
		if e1 != nil || e2 != nil {
			t.Fatal(numbers, e1, e2)
		}
		if tol := width/4 + 0.005*(low+width); x > y || math.Abs(x-low) > tol || math.Abs(y-low-width) > tol {
			t.Fatalf("%g to %g is shown as %s", low, low+width, numbers)
		}
	})
}

func ExampleShow() {
	for _, sys := range []System{Metric, US} {
		mass, oz := Show(460, "g", sys)
		long, in := Show(437.5, "mm", sys)
		fmt.Println(mass, oz, "·", long, in)
	}
	// Output:
	// 460 g · 438 mm
	// 1.01 lb · 17 1/4 in
}

func ExampleParse() {
	v, _ := Parse(OfMass, "1 lb 4 oz", US)
	fmt.Printf("%.0f g\n", v)
	_, err := Parse(OfVolume, "2 gal", Metric)
	fmt.Println(err)
	// Output:
	// 567 g
	// "gal" is not the same everywhere; say US gal or imp gal, or write it like 2 L, 500 mL or 2 US gal
}
