package drying

// Claimed accuracy: that of each table, in its header or tolerance column.
// Achieved: within it in every row; logged by -v.

import (
	"math"
	"strconv"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func num(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[key], 64)
	if err != nil {
		t.Fatalf("%s in %v: %v", key, row, err)
	}
	return v
}

// worst keeps the largest miss of a column and fails over its tolerance.
type worst map[string]float64

func (w worst) absolute(t *testing.T, what, row string, got, want, tol float64) {
	t.Helper()
	miss := math.Abs(got - want)
	w[what] = max(w[what], miss)
	if !(miss <= tol) {
		t.Errorf("row %s: %s = %.9g, published %.9g, miss %.2g over %.2g", row, what, got, want, miss, tol)
	}
}

func (w worst) relative(t *testing.T, what, row string, got, want, tol float64) {
	t.Helper()
	w.absolute(t, what, row, got/want, 1, tol)
}

// holdGrid holds every column of the grid; it is one of the check values.
func holdGrid(t *testing.T) {
	t.Helper()
	rows := published.Table(t, "psychrometric-grid.csv")
	if len(rows) != 520 {
		t.Fatalf("%d rows, want 520", len(rows))
	}
	w := worst{}
	for _, r := range rows {
		temp := measure.Temperature(num(t, r, "t_dry_C"))
		rh := measure.RelHumidity(num(t, r, "rh_frac"))
		p := measure.Pressure(num(t, r, "pressure_Pa") / 1000)
		sat, e1 := SaturationPressure(temp)
		vapour, e2 := VapourPressure(temp, rh)
		ratio, e3 := HumidityRatio(temp, rh, p)
		wet, e4 := WetBulb(temp, rh, p)
		dew, e5 := DewPoint(temp, rh)
		density, e6 := MoistAirDensity(temp, rh, p)
		heat, e7 := MoistAirEnthalpy(temp, ratio)
		volume, e8 := MoistAirVolume(temp, ratio, p)
		for _, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8} {
			if err != nil {
				t.Fatalf("row %s: %v", r["id"], err)
			}
		}
		w.relative(t, "saturation", r["id"], float64(sat)*1000, num(t, r, "sat_vap_pres_Pa"), 1e-6)
		w.relative(t, "vapour pressure", r["id"], float64(vapour)*1000, num(t, r, "vap_pres_Pa"), 1e-6)
		w.relative(t, "vapour pressure deficit", r["id"], float64(sat-vapour)*1000, num(t, r, "vpd_Pa"), 1e-6)
		w.relative(t, "humidity ratio", r["id"], float64(ratio), num(t, r, "hum_ratio_kg_per_kg"), 1e-6)
		w.absolute(t, "wet bulb", r["id"], float64(wet), num(t, r, "t_wet_bulb_C"), 0.002)
		w.absolute(t, "dew point", r["id"], float64(dew), num(t, r, "t_dew_point_C"), 0.002)
		w.relative(t, "enthalpy", r["id"], float64(heat)*1000, num(t, r, "enthalpy_J_per_kgda"), 1e-6)
		w.relative(t, "volume", r["id"], float64(volume), num(t, r, "moist_air_volume_m3_per_kgda"), 1e-6)
		w.relative(t, "density", r["id"], float64(density), num(t, r, "moist_air_density_kg_m3"), 1e-6)
	}
	t.Logf("worst: %v", w)
}

func TestSaturationPublished(t *testing.T) {
	t.Parallel()
	rows := published.Table(t, "psychrometric-saturation.csv")
	if len(rows) != 111 {
		t.Fatalf("%d rows, want 111", len(rows))
	}
	w := worst{}
	for _, r := range rows {
		sat, err := SaturationPressure(measure.Temperature(num(t, r, "t_C")))
		if err != nil {
			t.Fatal(err)
		}
		w.relative(t, "saturation", r["t_C"], float64(sat)*1000, num(t, r, "sat_vap_pres_Pa"), 1e-6)
		if sat < seaLevel { // at 100 °C water boils and the ratio has no meaning
			w.relative(t, "ratio", r["t_C"], ratio(float64(sat), seaLevel), num(t, r, "sat_hum_ratio_101325"), 2e-6)
		}
	}
	t.Logf("worst: %v", w)
}

func TestAtmospherePublished(t *testing.T) {
	t.Parallel()
	rows := published.Table(t, "psychrometric-atmosphere.csv")
	if len(rows) != 23 {
		t.Fatalf("%d rows, want 23", len(rows))
	}
	w := worst{}
	for _, r := range rows {
		p, err := AtmosphericPressure(measure.Altitude(num(t, r, "altitude_m")))
		if err != nil {
			t.Fatal(err)
		}
		w.absolute(t, "atmosphere, Pa", r["altitude_m"], float64(p)*1000, num(t, r, "pressure_Pa"), 0.0051)
	}
	t.Logf("worst: %v", w)
}

func TestHandbookPublished(t *testing.T) {
	t.Parallel()
	w := worst{}
	for i, r := range published.Table(t, "psychrometric-handbook.csv") {
		var got float64
		var err error
		switch r["quantity"] {
		case "saturation pressure":
			var p measure.Pressure
			p, err = SaturationPressure(measure.Temperature(num(t, r, "t_C")))
			got = float64(p) * 1000
		case "humidity ratio":
			var x measure.HumidityRatio
			x, err = HumidityRatio(measure.Temperature(num(t, r, "t_C")), measure.RelHumidity(num(t, r, "rh")), measure.Pressure(num(t, r, "pressure_Pa")/1000))
			got = float64(x)
		case "wet bulb":
			var x measure.Temperature
			x, err = WetBulb(measure.Temperature(num(t, r, "t_C")), measure.RelHumidity(num(t, r, "rh")), measure.Pressure(num(t, r, "pressure_Pa")/1000))
			got = float64(x)
		case "ratio from wet bulb":
			got = ratioAtWetBulb(num(t, r, "t_C"), num(t, r, "wet_bulb_C"), num(t, r, "pressure_Pa")/1000)
		case "atmosphere":
			var p measure.Pressure
			p, err = AtmosphericPressure(measure.Altitude(num(t, r, "altitude_m")))
			got = float64(p) * 1000
		default:
			t.Fatalf("row %d: unknown quantity %q", i, r["quantity"])
		}
		if err != nil {
			t.Fatalf("row %d: %v", i, err)
		}
		check := w.relative
		if r["kind"] == "abs" {
			check = w.absolute
		}
		check(t, r["quantity"]+" "+r["kind"], strconv.Itoa(i), got, num(t, r, "expected"), num(t, r, "tolerance"))
	}
	t.Logf("worst: %v", w)
}
