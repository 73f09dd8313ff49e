package drying

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Two thermometers give back the humidity whose wet bulb they show.
func TestWetBulbRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		temp := measure.Temperature(rapid.Float64Range(0, 80).Draw(t, "t"))
		rh := rapid.Float64Range(0.05, 0.95).Draw(t, "rh")
		p := must(AtmosphericPressure(measure.Altitude(rapid.Float64Range(-500, 4000).Draw(t, "alt"))))
		w := must(HumidityRatio(temp, measure.RelHumidity(rh), p))
		b := must(WetBulb(temp, measure.RelHumidity(rh), p))
		if math.Abs(float64(b)) < 1e-6 {
			t.Skip("the balances for water and ice do not meet at 0 °C")
		}
		if back := must(HumidityRatioFromWetBulb(temp, b, p)); math.Abs(float64(back-w)) > 1e-9 {
			t.Fatalf("humidity ratio %g, wet bulb %g, back %g", w, b, back)
		}
		if back := must(HumidityFromWetBulb(temp, b, p)); math.Abs(float64(back)-rh) > 1e-6 {
			t.Fatalf("humidity %g, wet bulb %g, back %g", rh, b, back)
		}
		e := must(VapourPressure(temp, measure.RelHumidity(rh)))
		if again := must(HumidityRatioFromVapour(e, p)); math.Abs(float64(again/w)-1) > 1e-12 {
			t.Fatalf("humidity ratio %g of its vapour pressure, %g directly", again, w)
		}
		volume, density := must(MoistAirVolume(temp, w, p)), must(MoistAirDensity(temp, measure.RelHumidity(rh), p))
		if kg := float64(volume) * float64(density); math.Abs(kg-1-float64(w)) > 1e-9 {
			t.Fatalf("a kilogram of dry air and %g of vapour weigh %g", w, kg)
		}
	})
}

func TestSteamRoundTrip(t *testing.T) {
	t.Parallel()
	last := measure.Pressure(0)
	for temp := measure.Temperature(0.01); temp < 373.9; temp += 3.7 {
		p := must(SteamPressure(temp))
		if p <= last {
			t.Errorf("steam of %g °C has %g kPa after %g", temp, p, last)
		}
		if back := must(BoilingPointAt(p)); math.Abs(float64(back-temp)) > 1e-8 {
			t.Errorf("%g °C boils at %g kPa and back at %.10g °C", temp, p, back)
		}
		last = p
	}
	high := measure.Temperature(200)
	for alt := measure.Altitude(-500); alt <= 5000; alt += 250 {
		b := must(BoilingPoint(alt))
		if b >= high {
			t.Errorf("at %g m water boils at %g °C, lower down at %g", alt, b, high)
		}
		high = b
	}
}

func TestMoistAirRefuses(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e9, 1e9} {
		for name, err := range map[string]error{
			"vapour t":       failure(VapourPressure(measure.Temperature(x), 0.5)),
			"vapour rh":      failure(VapourPressure(20, measure.RelHumidity(x))),
			"ratio e":        failure(HumidityRatioFromVapour(measure.Pressure(x), seaLevel)),
			"ratio p":        failure(HumidityRatioFromVapour(1, measure.Pressure(x))),
			"wet bulb t":     failure(HumidityRatioFromWetBulb(measure.Temperature(x), 10, seaLevel)),
			"wet bulb b":     failure(HumidityRatioFromWetBulb(20, measure.Temperature(x), seaLevel)),
			"wet bulb p":     failure(HumidityRatioFromWetBulb(20, 10, measure.Pressure(x))),
			"humidity":       failure(HumidityFromWetBulb(20, measure.Temperature(x), seaLevel)),
			"enthalpy t":     failure(MoistAirEnthalpy(measure.Temperature(x), 0.01)),
			"enthalpy w":     failure(MoistAirEnthalpy(20, measure.HumidityRatio(x))),
			"volume t":       failure(MoistAirVolume(measure.Temperature(x), 0.01, seaLevel)),
			"volume p":       failure(MoistAirVolume(20, 0.01, measure.Pressure(x))),
			"steam":          failure(SteamPressure(measure.Temperature(x))),
			"boiling":        failure(BoilingPointAt(measure.Pressure(x))),
			"boiling height": failure(BoilingPoint(measure.Altitude(x))),
		} {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"wet bulb over the air's":   failure(HumidityRatioFromWetBulb(20, 20.1, seaLevel)),
		"wet bulb of no vapour":     failure(HumidityRatioFromWetBulb(40, 5, seaLevel)),
		"water just over its limit": failure(SteamPressure(373.95)),
		"ice":                       failure(SteamPressure(-0.01)),
	} {
		if fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func ExampleBoilingPoint() {
	t, _ := BoilingPoint(2000)
	fmt.Printf("%.1f °C\n", float64(t))
	// Output: 93.3 °C
}

func ExampleHumidityFromWetBulb() {
	// A thermometer of 20 °C, one in a wet wick of 13.8 °C, at sea level.
	rh, _ := HumidityFromWetBulb(20, 13.8, 101.325)
	fmt.Printf("%.0f %%\n", 100*float64(rh))
	// Output: 50 %
}
