package sheet_test

// The check values of sheet making and of moisture. Claimed accuracy: the
// tolerance of each row. Achieved: within it in every row held. A value that
// another step reckons is held through that step's formula.

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/beating"
	"vatside/internal/fault"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/testkit/published"
	"vatside/internal/vat"
)

// must fails the test on an error.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

const (
	inch  = 25.4      // mm, [inch-pound-1959]
	pound = 453.59237 // g
)

func TestSheetMakingChecks(t *testing.T) {
	t.Parallel()
	c := published.Checks(t, "sheet-making")
	stockChecks(t, c)
	sheetChecks(t, c)
	reamChecks(t, c)
}

func stockChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	const gL = 10 // g/L to 1 % of mass
	for id, in := range map[string]struct {
		fibre measure.Mass
		water measure.Volume
	}{"SH005": {24, 2}, "SH006": {30, 10}, "SH007": {30, 2}, "SH014": {1.5, 0.5}, "SH029": {300 - 10*6.237, 60}} {
		c.Row(id).Near(t, float64(must[measure.Consistency](t)(beating.Consistency(in.fibre, in.water)))/gL, 1e-6)
	}
	for id, in := range map[string]struct {
		m measure.Mass
		c measure.Consistency
	}{"SH008": {30, 100}, "SH011": {1.2, 3}, "SH012": {0.75, 1.5}, "SH028": {6.237, 5}} {
		c.Row(id).Near(t, 1000*float64(must[measure.Volume](t)(vat.StockFor(in.m, in.c))), 1e-6)
	}
	c.Row("SH013").Near(t, 2+float64(must[measure.Volume](t)(vat.WaterToThin(2, 12, 3))), 1e-9)
	// the sheets whose fibre, with 2 % lost, the recharge still holds
	sheets := 0
	for must[measure.Mass](t)(furnish.BeforeLoss(measure.Mass(sheets+1)*6.237, 0.02)) <= 2000 {
		sheets++
	}
	c.Row("SH030").Near(t, float64(sheets), 0)
}

func sheetChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	mass := func(g measure.GrammageConditioned, a measure.Area) float64 {
		return float64(must[measure.Mass](t)(sheet.ConditionedMass(g, a)))
	}
	a4 := must[measure.Area](t)(sheet.AreaOf(297, 210))
	c.Row("SH002").Near(t, mass(60, 0.02), 1e-6)
	c.Row("SH027").Near(t, mass(100, a4), 1e-6)
	c.Row("SH032").Near(t, mass(80, a4), 1e-6)
	c.Row("SH004").Near(t, float64(must[measure.GrammageConditioned](t)(sheet.GrammageFromSheet(1.22, 0.02))), 1e-6)
	c.Row("SH031").Near(t, float64(must[measure.GrammageConditioned](t)(sheet.GrammageFromSheet(0.905, 0.01))), 1e-9)
	c.Row("SH033").Near(t, float64(must[measure.Density](t)(sheet.DensityFromCaliper(100, 0.18))), 1e-5)
	c.Row("SH034").Near(t, float64(must[sheet.SpecificVolume](t)(sheet.Bulk(100, 0.18))), 1e-9)
}

func reamChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	perPound := func(long, short measure.Length) float64 {
		area := must[measure.Area](t)(sheet.AreaOf(long*inch, short*inch))
		return float64(must[measure.GrammageConditioned](t)(sheet.GrammageFromReam(pound, 500, area)))
	}
	for id, size := range map[string][2]measure.Length{
		"SH035": {22, 17}, "SH036": {38, 25}, "SH037": {40, 25}, "SH038": {26, 20}, "SH039": {36, 24},
	} {
		c.Row(id).Near(t, perPound(size[0], size[1]), 1e-5)
	}
	c.Row("SH041").Near(t, 48*perPound(38, 25)/perPound(40, 25), 0.03)
}

func TestMoistureChecks(t *testing.T) {
	t.Parallel()
	c := published.Checks(t, "moisture")
	woodChecks(t, c)
	regainChecks(t, c)
	saltChecks(t, c)
	for id, dry := range map[string]measure.MoistureDry{"MO026": 0.053, "MO027": 0.111, "MO028": 0.176, "MO029": 0.25, "MO030": 0.333} {
		c.Row(id).Near(t, 100*float64(must[measure.MoistureWet](t)(sheet.WetBasis(dry))), 0.06)
	}
	c.Row("MO032").Near(t, 100*float64(must[measure.MoistureDry](t)(sheet.DryBasis(0.650/10))), 1e-4)
}

func woodChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	wood := func(temp measure.Temperature, rh measure.RelHumidity) float64 {
		return 100 * float64(must[measure.MoistureDry](t)(sheet.WoodMoisture(temp, rh)))
	}
	const f70 = measure.Temperature(70-32) / 1.8
	type air struct {
		t  measure.Temperature
		rh measure.RelHumidity
		by float64
	}
	for id, a := range map[string]air{
		"MO001": {20, 0.5, 1e-3}, "MO002": {23, 0.5, 1e-3}, "MO003": {25, 0.65, 1e-3}, "MO004": {20, 0.3, 1e-3}, "MO005": {20, 0.8, 1e-3},
		"MO006": {5, 0.8, 1e-3}, "MO007": {40, 0.3, 1e-3}, "MO008": {21.11, 0.25, 1e-3}, "MO009": {21.11, 0.6, 1e-3}, "MO010": {60, 0.55, 1e-3},
		"MO011": {60, 0.55, 0.05}, "MO012": {f70, 0.25, 0.2}, "MO013": {f70, 0.6, 0.2}, "MO014": {f70, 0.84, 0.2},
		"MO015": {f70, 0.1, 0.06}, "MO016": {f70, 0.2, 0.06}, "MO017": {f70, 0.3, 0.06}, "MO018": {f70, 0.4, 0.06}, "MO019": {f70, 0.5, 0.06},
		"MO020": {f70, 0.6, 0.06}, "MO021": {f70, 0.65, 0.06}, "MO022": {f70, 0.7, 0.06}, "MO023": {f70, 0.8, 0.06}, "MO024": {f70, 0.9, 0.06},
	} {
		c.Row(id).Near(t, wood(a.t, a.rh), a.by)
	}
	widest := 0.0
	for _, r := range published.Table(t, "emc-wood-table.csv") {
		if r["note"] == "" {
			temp := measure.Temperature((published.Number(t, r["temp_F"]) - 32) / 1.8)
			gap := wood(temp, measure.RelHumidity(published.Number(t, r["rh_pct"])/100)) - published.Number(t, r["emc_table_pct"])
			widest = math.Max(widest, math.Abs(gap))
		}
	}
	c.Row("MO025").Near(t, widest, 0.01)
}

// The room curve, wetting up, is held to a point around what the fibres hold;
// drying down it never holds less.
func regainChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	up := 100 * float64(must[measure.MoistureDry](t)(sheet.MoistureOn(0.65, sheet.WettingUp)))
	for _, id := range []string{"MO037", "MO039", "MO041"} {
		low, high, is := strings.Cut(c.Row(id).Expected, "-")
		if !is {
			high = low
		}
		if up < published.Number(t, low)-1 || up > published.Number(t, high)+1 {
			t.Errorf("%s: the curve holds %.2f %% at 65 %% RH, want %s within a point", id, up, c.Row(id).Expected)
		}
	}
	if c.Row("MO045").Expected != "higher regain" {
		t.Error("MO045 has changed")
	}
	if down := 100 * float64(must[measure.MoistureDry](t)(sheet.MoistureOn(0.65, sheet.DryingDown))); down <= up {
		t.Errorf("paper from the wet side holds %.2f %%, from the dry side %.2f %%", down, up)
	}
}

func saltChecks(t *testing.T, c *published.Topic) {
	t.Helper()
	over := func(salt string, temp measure.Temperature) float64 {
		return 100 * float64(must[measure.RelHumidity](t)(sheet.SaltHumidity(salt, temp)))
	}
	for id, salt := range map[string]string{
		"MO060": "LiCl", "MO061": "MgCl2", "MO062": "Mg(NO3)2", "MO063": "NaBr", "MO064": "NaCl", "MO065": "KCl", "MO066": "K2SO4",
	} {
		c.Row(id).Near(t, over(salt, 23), 0.01)
	}
	// another laboratory's salt water; the fit is good to 2 points and holds from 10 to 40 °C
	printed := strings.Split(c.Row("MO067").Expected, " / ")
	if got, want := over("NaCl", 30), published.Number(t, printed[1]); math.Abs(got-want) > 0.5 {
		t.Errorf("MO067: over salt at 30 °C %.2f %%, want %.2f %%", got, want)
	}
	for _, temp := range []measure.Temperature{0, 50} {
		if v, err := sheet.SaltHumidity("NaCl", temp); fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("over salt at %v °C: %v, %v", temp, v, err)
		}
	}
}
