package drying

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func TestCapacityIsMonotone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		// Above freezing wet bulbs only: the handbook's two balances do not
		// meet at 0 °C.
		temp := measure.Temperature(rapid.Float64Range(5, 45).Draw(t, "t"))
		rh := rapid.Float64Range(0.10, 0.90).Draw(t, "rh")
		q := rapid.Float64Range(0.001, 5).Draw(t, "q")
		alt := measure.Altitude(rapid.Float64Range(-500, 4000).Draw(t, "alt"))
		if must(WetBulb(temp, measure.RelHumidity(rh), must(AtmosphericPressure(alt)))) < 0 {
			t.Skip("the wet bulb is ice")
		}
		base := must(Capacity(measure.Airflow(q), temp, measure.RelHumidity(rh), alt))
		if damp := must(Capacity(measure.Airflow(q), temp, measure.RelHumidity(rh+0.02), alt)); damp >= base {
			t.Fatalf("damper air carries more: %g, %g", damp, base)
		}
		if more := must(Capacity(measure.Airflow(2*q), temp, measure.RelHumidity(rh), alt)); math.Abs(float64(more/base)-2) > 1e-9 {
			t.Fatalf("double flow carries %g times", more/base)
		}
		if warm := must(Capacity(measure.Airflow(q), temp+1, measure.RelHumidity(rh), alt)); warm <= base {
			t.Fatalf("warmer air at the same humidity carries less: %g, %g", warm, base)
		}
	})
}

func TestHoursAreMonotone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		water := rapid.Float64Range(0.01, 50).Draw(t, "water")
		capacity := rapid.Float64Range(0.01, 10).Draw(t, "capacity")
		eta := rapid.Float64Range(0.05, 1).Draw(t, "eta")
		base := must(HoursAtLeast(measure.Kilograms(water), measure.Rate(capacity)))
		if must(HoursAtLeast(measure.Kilograms(1.1*water), measure.Rate(capacity))) <= base {
			t.Fatal("more water dries no slower")
		}
		if must(HoursAtLeast(measure.Kilograms(water), measure.Rate(1.1*capacity))) >= base {
			t.Fatal("more air dries no faster")
		}
		learned := must(HoursLearned(base, measure.Number(eta)))
		if learned < base || math.Abs(float64(learned)*eta-float64(base)) > 1e-9*float64(base) {
			t.Fatalf("learned %g of bound %g at %g", learned, base, eta)
		}
		if least := measure.Hours(24); must(StackHours(learned, least)) < max(learned, least) {
			t.Fatal("a stack under its parts")
		}
	})
}

func TestWetBulbLiesBetween(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		temp := measure.Temperature(rapid.Float64Range(0, 80).Draw(t, "t"))
		rh := measure.RelHumidity(rapid.Float64Range(0.01, 1).Draw(t, "rh"))
		p := measure.Pressure(rapid.Float64Range(60, 105).Draw(t, "p"))
		wet, dew := must(WetBulb(temp, rh, p)), must(DewPoint(temp, rh))
		if wet > temp+1e-9 || wet < dew-1e-9 {
			t.Fatalf("dew %g, wet %g, dry %g", dew, wet, temp)
		}
	})
	for _, temp := range []measure.Temperature{5, 20, 60} {
		if wet := must(WetBulb(temp, 1, seaLevel)); math.Abs(float64(wet-temp)) > 1e-6 {
			t.Errorf("saturated air of %g °C has wet bulb %g", temp, wet)
		}
	}
}

func TestSaturatedAirDriesNothing(t *testing.T) {
	t.Parallel()
	capacity, err := Capacity(0.1, 20, 1, 0)
	if err != nil || float64(capacity) > 1e-6 {
		t.Fatalf("saturated air carries %g, %v", capacity, err)
	}
	if _, err := HoursAtLeast(1, capacity); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("drying in saturated air: %v", err)
	}
	if _, err := WeatherFactor(20, 1, 0); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("weather factor of saturated air: %v", err)
	}
	if h, err := HoursAtLeast(0, 0); err != nil || h != 0 {
		t.Errorf("no water takes %v, %v", h, err)
	}
}

func TestWeatherFactor(t *testing.T) {
	t.Parallel()
	if f := must(WeatherFactor(20, 0.50, 0)); math.Abs(float64(f)-1) > 1e-12 {
		t.Errorf("the reference room has factor %g", f)
	}
	last := measure.Number(0)
	for rh := measure.RelHumidity(0.2); rh < 0.95; rh += 0.05 {
		f := must(WeatherFactor(20, rh, 0))
		if f <= last {
			t.Errorf("factor %g at %g after %g", f, rh, last)
		}
		last = f
	}
	if h := must(UnforcedHours(48, 2)); h != 96 {
		t.Errorf("48 h in twice as damp weather are %g", h)
	}
}

func TestWaitingTimes(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{Exchange, Board, Loft, Free} {
		low, mid, high, key, err := Unforced(kind)
		if err != nil || !(0 < low && low < mid && mid < high) || key == "" {
			t.Errorf("%s: %g %g %g %q %v", kind, low, mid, high, key, err)
		}
	}
	for _, kind := range []string{Stack, "", "oven", "Loft"} {
		if _, _, _, _, err := Unforced(kind); fault.KindOf(err) != fault.KindInvalid {
			t.Errorf("%q: %v", kind, err)
		}
	}
	low, mid, high, key := StackLeast()
	if !(0 < low && low < mid && mid < high) || key == "" {
		t.Errorf("stack: %g %g %g %q", low, mid, high, key)
	}
	for _, c := range []struct {
		hours measure.Hours
		want  int
	}{{0, 1}, {8, 1}, {16, 1}, {17, 2}, {48, 5}, {72, 8}} {
		if n := must(Changes(c.hours)); n != c.want {
			t.Errorf("%g h want %d changes, got %d", c.hours, c.want, n)
		}
	}
}

func TestLoadsHoldAllSheets(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		sheets := rapid.IntRange(0, 5000).Draw(t, "sheets")
		places := rapid.IntRange(1, 300).Draw(t, "places")
		n := int(must(Loads(measure.Sheets(sheets), places)))
		if n*places < sheets || (n > 0 && (n-1)*places >= sheets) {
			t.Fatalf("%d sheets, %d places: %d loads", sheets, places, n)
		}
	})
}

func TestBlotterWater(t *testing.T) {
	t.Parallel()
	// 36 blotters of 200 g with a tenth of their dry mass of water too much: 720 g.
	if w := must(BlotterWater(36, 200, 0.10)); math.Abs(float64(w)-0.72) > 1e-12 {
		t.Errorf("%g kg, want 0.72", w)
	}
	if w := must(BlotterWater(36, 200, 0)); w != 0 {
		t.Errorf("dry blotters bring %g kg", w)
	}
}

func TestLoftGrowsWithWind(t *testing.T) {
	t.Parallel()
	slow, fast := must(SheetHeatTransfer(0.5, 400)), must(SheetHeatTransfer(2, 400))
	if math.Abs(float64(fast/slow)-2) > 1e-9 { // square root of four
		t.Errorf("four times the wind gives %g times the heat", fast/slow)
	}
	if must(RateInLoft(slow, 20, 0.8, seaLevel)) >= must(RateInLoft(slow, 20, 0.5, seaLevel)) {
		t.Error("damp air dries no slower")
	}
}

func TestBadNumbersAreFaults(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e9, 1e9} {
		for name, err := range map[string]error{
			"altitude":          failure(AtmosphericPressure(measure.Altitude(x))),
			"saturation":        failure(SaturationPressure(measure.Temperature(x))),
			"ratio t":           failure(HumidityRatio(measure.Temperature(x), 0.5, seaLevel)),
			"ratio rh":          failure(HumidityRatio(20, measure.RelHumidity(x), seaLevel)),
			"ratio p":           failure(HumidityRatio(20, 0.5, measure.Pressure(x))),
			"dew t":             failure(DewPoint(measure.Temperature(x), 0.5)),
			"dew rh":            failure(DewPoint(20, measure.RelHumidity(x))),
			"wet t":             failure(WetBulb(measure.Temperature(x), 0.5, seaLevel)),
			"wet rh":            failure(WetBulb(20, measure.RelHumidity(x), seaLevel)),
			"wet p":             failure(WetBulb(20, 0.5, measure.Pressure(x))),
			"density":           failure(MoistAirDensity(measure.Temperature(x), 0.5, seaLevel)),
			"uptake":            failure(Uptake(20, 0.5, measure.Pressure(x))),
			"capacity q":        failure(Capacity(measure.Airflow(x), 20, 0.5, 0)),
			"capacity t":        failure(Capacity(1, measure.Temperature(x), 0.5, 0)),
			"capacity rh":       failure(Capacity(1, 20, measure.RelHumidity(x), 0)),
			"capacity altitude": failure(Capacity(1, 20, 0.5, measure.Altitude(x))),
			"hours water":       failure(HoursAtLeast(measure.Kilograms(x), 1)),
			"hours capacity":    failure(HoursAtLeast(1, measure.Rate(x))),
			"learned bound":     failure(HoursLearned(measure.Hours(x), 0.5)),
			"learned share":     failure(HoursLearned(10, measure.Number(x))),
			"loads":             failure(Loads(measure.Sheets(x), 10)),
			"blotter each":      failure(BlotterWater(4, measure.Mass(x), 0.1)),
			"blotter moisture":  failure(BlotterWater(4, 200, measure.MoistureDry(x))),
			"stack":             failure(StackHours(measure.Hours(x), 24)),
			"weather t":         failure(WeatherFactor(measure.Temperature(x), 0.5, 0)),
			"weather rh":        failure(WeatherFactor(20, measure.RelHumidity(x), 0)),
			"unforced hours":    failure(UnforcedHours(measure.Hours(x), 1)),
			"unforced weather":  failure(UnforcedHours(48, measure.Number(x))),
			"changes":           failure(Changes(measure.Hours(x))),
			"wind":              failure(SheetHeatTransfer(AirSpeed(x), 400)),
			"length":            failure(SheetHeatTransfer(1, measure.Length(x))),
			"loft":              failure(RateInLoft(HeatTransfer(x), 20, 0.5, seaLevel)),
		} {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"no places":     failure(Loads(10, 0)),
		"no share":      failure(HoursLearned(10, 0)),
		"over one":      failure(HoursLearned(10, 1.01)),
		"just too cold": failure(SaturationPressure(-60.01)),
		"just too hot":  failure(SaturationPressure(100.01)),
		"no humidity":   failure(WetBulb(20, 0, seaLevel)),
		"one board":     failure(Places(1, 4)),
	} {
		if fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v", name, err)
		}
	}
}

var errNumber = errors.New("a number came with the fault")

// failure drops the value of a result and keeps its error; a value beside an
// error must be zero.
func failure[T ~float64 | ~int](v T, err error) error {
	if err != nil && v != 0 {
		return errNumber
	}
	return err
}

// must returns the value of a result that cannot fail in the test's range.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func ExampleHoursAtLeast() {
	// 1.6 kg of water in a stack with 0.03 m³/s of air of 20 °C and 50 %.
	capacity, _ := Capacity(0.03, 20, 0.50, 0)
	bound, _ := HoursAtLeast(1.6, capacity)
	hours, _ := HoursLearned(bound, 0.5)
	fmt.Printf("at least %.0f h, likely %.0f h\n", float64(bound), float64(hours))
	// Output: at least 5 h, likely 10 h
}

func ExampleWeatherFactor() {
	f, _ := WeatherFactor(15, 0.80, 0)
	fmt.Printf("%.0f times as long\n", float64(f))
	// Output: 3 times as long
}
