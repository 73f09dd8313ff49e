package sheet

// Claimed accuracy: half a unit of the last printed digit, or what the header
// of each table says. Achieved: wood within 0.06 points in 192 cells; salts as
// printed; the room curve within a point of textile regain, wetting up.

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func fahrenheit(f float64) measure.Temperature { return measure.Temperature((f - 32) / 1.8) }

func TestWoodTablePublished(t *testing.T) {
	t.Parallel()
	misprints := 0
	for _, r := range published.Table(t, "emc-wood-table.csv") {
		rh := measure.RelHumidity(published.Number(t, r["rh_pct"]) / 100)
		got := 100 * float64(must[measure.MoistureDry](t)(WoodMoisture(fahrenheit(published.Number(t, r["temp_F"])), rh)))
		name := r["rh_pct"] + " % at " + r["temp_F"] + " °F"
		near(t, name+", equation", got, published.Number(t, r["emc_equation_pct"]), 0.006)
		if r["note"] != "" {
			misprints++
			continue
		}
		near(t, name+", table", got, published.Number(t, r["emc_table_pct"]), 0.06)
	}
	if misprints != 1 {
		t.Errorf("%d cells are taken for misprints, want one", misprints)
	}
}

func TestSaltsPublished(t *testing.T) {
	t.Parallel()
	rows := published.Table(t, "salt-humidity-fixed-points.csv")
	if len(rows) != len(Salts()) {
		t.Errorf("%d salts, printed are %d", len(Salts()), len(rows))
	}
	for i, r := range rows {
		s := Salts()[i]
		if s.Formula != r["salt"] || float64(s.Least) != published.Number(t, r["t_min_C"]) || float64(s.Most) != published.Number(t, r["t_max_C"]) {
			t.Errorf("%v, printed is %v", s, r)
		}
		for at, column := range map[measure.Temperature]string{20: "RH20_computed", 23: "RH23_computed", 25: "RH25_computed"} {
			rh, err := SaltHumidity(r["salt"], at)
			if at < s.Least || at > s.Most {
				if fault.KindOf(err) != fault.KindOutOfRange {
					t.Errorf("%s at %v °C: %v, %v", s.Formula, at, rh, err)
				}
				continue
			}
			near(t, s.Formula+" "+column, 100*float64(must[measure.RelHumidity](t)(rh, err)), published.Number(t, r[column]), 0.0051)
			if at == 25 {
				// the humidity, A and B are printed rounded: half a unit of each
				_, decimals, _ := strings.Cut(r["A"], ".")
				half := 0.5 * math.Pow(10, -float64(len(decimals)))
				near(t, s.Formula+" printed", 100*float64(rh), published.Number(t, r["RH25_published_pct"]), 0.5+100*float64(rh)*(half/s.A+0.5/298.15))
			}
		}
	}
}

// The room curve is of paper. Against the fibres paper is made of, taking
// moisture up at 65 % RH, it lies inside a point; drying down it lies 0.6 to
// 1.6 points above them. Jute, silk and wool are no paper of this kind: jute
// holds half as much again.
func TestRegainPublished(t *testing.T) {
	t.Parallel()
	up := 100 * float64(must[measure.MoistureDry](t)(MoistureOn(0.65, WettingUp)))
	down := 100 * float64(must[measure.MoistureDry](t)(MoistureOn(0.65, DryingDown)))
	for _, r := range published.Table(t, "textile-regain.csv") {
		low, high := published.Number(t, r["regain_65RH_20C_pct_low"]), published.Number(t, r["regain_65RH_20C_pct_high"])
		switch r["fibre"] {
		case "cotton", "flax", "hemp":
			if up < low-1 || up > high+1 {
				t.Errorf("%s takes up %g to %g %% at 65 %% RH, the curve %.2f %%", r["fibre"], low, high, up)
			}
			if down < high || down > low+1.8 {
				t.Errorf("%s takes up %g to %g %% at 65 %% RH, the curve drying down holds %.2f %%", r["fibre"], low, high, down)
			}
		case "jute":
			if low-up < 3 {
				t.Errorf("jute takes up %g %%, the curve %.2f %%: then it could be reckoned with", low, up)
			}
		}
	}
	t.Logf("at 65 %% RH: %.2f %% wetting up, %.2f %% drying down", up, down)
}

func TestReweighedPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "sorption-curve.csv") {
		rh := measure.RelHumidity(published.Number(t, r["rh"]))
		near(t, "wetting up at "+r["rh"], 100*float64(must[measure.MoistureDry](t)(MoistureOn(rh, WettingUp))), published.Number(t, r["adsorbed_pct"]), 0.0051)
		if r["factor_to_50"] != "" {
			near(t, "to 50 % from "+r["rh"], float64(must[measure.Mass](t)(Reweighed(1, rh, 0.5, WettingUp))), published.Number(t, r["factor_to_50"]), 0.000051)
		}
	}
	// the two branches lie twice HistoryError apart at 50 % RH
	up, down := must[measure.MoistureDry](t)(MoistureOn(0.5, WettingUp)), must[measure.MoistureDry](t)(MoistureOn(0.5, DryingDown))
	near(t, "between the branches", float64(down-up)/2, float64(HistoryError), 0.0002)
}

func TestCrowdingPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "crowding.csv") {
		length, d := measure.Length(published.Number(t, r["length_mm"])), Coarseness(published.Number(t, r["coarseness_mg_m"]))
		for c, column := range map[measure.Consistency]string{5: "n_at_0_5_pct", 1: "n_at_0_1_pct"} {
			n := must[measure.Number](t)(Crowding(c, length, d))
			near(t, r["fibre"]+" "+column, float64(n), published.Number(t, r[column]), 0.5)
			near(t, r["fibre"]+" back", float64(must[measure.Consistency](t)(CrowdedTo(n, length, d))), float64(c), 1e-12)
		}
	}
	// kozo stays past flocs at a tenth of a per cent, [crowding-1990] for the limits
	for n, want := range map[measure.Number]Crowd{1: Mobile, 20: Crowded, 60: Crowded, 61: Flocs, 130: Flocs, 267: NeedsAid} {
		if got, err := CrowdOf(n); got != want || err != nil {
			t.Errorf("N %v is %q, %v, want %q", n, got, err, want)
		}
	}
	if math.Abs(float64(FlocsFrom)-60)+math.Abs(float64(FlocsTo)-130) != 0 {
		t.Error("published are 60 and 130")
	}
}
