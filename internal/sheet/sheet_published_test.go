package sheet

// Claimed accuracy: half a unit of the last printed digit of each row, or the
// tolerance of the row. Achieved: within it in every row.

import (
	"math"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
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

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance*1.000001 || math.IsNaN(got) {
		t.Errorf("%s = %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

func TestSheetMassPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "sheet-mass.csv") {
		area := must[measure.Area](t)(AreaOf(measure.Length(published.Number(t, r[2])), measure.Length(published.Number(t, r[3]))))
		sheets, half := published.Number(t, r[4]), published.Number(t, r[6])
		if r[0] == "mass" {
			m := must[measure.Mass](t)(ConditionedMass(measure.GrammageConditioned(published.Number(t, r[1])), area))
			near(t, r[7], float64(m)*sheets, published.Number(t, r[5]), half)
			continue
		}
		g := must[measure.GrammageConditioned](t)(GrammageFromSheet(measure.Mass(published.Number(t, r[5])/sheets), area))
		near(t, r[7], float64(g), published.Number(t, r[1]), half)
	}
}

func TestFormedSizePublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "formed-size.csv") {
		e := measure.Shrinkage(published.Number(t, r[0]) / 100)
		for i := 1; i <= 3; i += 2 {
			formed := must[measure.Length](t)(FormedLength(measure.Length(published.Number(t, r[i])), e))
			near(t, "formed at "+r[0]+" %", float64(formed), published.Number(t, r[i+1]), published.Number(t, r[6]))
		}
		near(t, "rise at "+r[0]+" %", float64(must[measure.Number](t)(GrammageRise(e, e))), published.Number(t, r[5]), 0.0005)
	}
}

// Drying Flax Paper (drying-flax-2006): 12 x 18 in free to 9 1/2 x 13 1/2 in is
// 305 x 457 to 241 x 343 mm, and the grammage rises by 1.68.
func TestFlaxSheetPublished(t *testing.T) {
	t.Parallel()
	var shrink []measure.Shrinkage
	for _, r := range published.Rows(t, "drying-flax-2006.csv") {
		if r[2] == "" {
			continue
		}
		e := measure.Shrinkage(published.Number(t, r[4]) / 100)
		dry := must[measure.Length](t)(DryLength(measure.Length(published.Number(t, r[2])*25.4), e))
		near(t, r[0]+" "+r[2]+" in", float64(dry), published.Number(t, r[3])*25.4, 0.5)
		if r[0] == "free" {
			shrink = append(shrink, e)
		}
	}
	near(t, "formed 457 mm", float64(must[measure.Length](t)(DryLength(457, shrink[1]))), 343, 0.5)
	near(t, "formed 305 mm", float64(must[measure.Length](t)(DryLength(305, shrink[0]))), 241, 0.6)
	near(t, "rise", float64(must[measure.Number](t)(GrammageRise(shrink[1], shrink[0]))), 1.68, 0.005)
}

// A wet lay of 60 g/m² of that flax dries to 101 g/m² (drying-flax-2006).
func TestFlaxGrammagePublished(t *testing.T) {
	t.Parallel()
	near(t, "60 g/m² laid", 60*float64(must[measure.Number](t)(GrammageRise(0.25, 0.208))), 101, 0.5)
}

func TestMoistureBasesPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "moisture-bases.csv") {
		dry, wet := published.Number(t, r[0])/100, published.Number(t, r[1])/100
		near(t, r[3], float64(must[measure.MoistureWet](t)(WetBasis(measure.MoistureDry(dry))))*100, wet*100, published.Number(t, r[2]))
		// backwards the tolerance grows by (1 + M)²
		near(t, r[3], float64(must[measure.MoistureDry](t)(DryBasis(measure.MoistureWet(wet))))*100, dry*100, published.Number(t, r[2])*math.Pow(1+dry, 2))
	}
}

func TestSorptionCurvePublished(t *testing.T) {
	t.Parallel()
	at50 := adsorbed(0.5)
	for _, r := range published.Rows(t, "sorption-curve.csv") {
		rh := published.Number(t, r[0])
		near(t, "adsorbed at "+r[0], adsorbed(rh)*100, published.Number(t, r[1]), 0.005)
		if r[2] != "" {
			near(t, "factor from "+r[0], (1+at50)/(1+adsorbed(rh)), published.Number(t, r[2]), 0.00005)
		}
		near(t, "drying down at "+r[0], float64(must[measure.MoistureDry](t)(MoistureAt(measure.RelHumidity(rh))))*100, published.Number(t, r[1])/0.85, 0.006)
	}
}

// From memory: bleached pulp paper holds 5.5 to 7.5 % at 23 °C and 50 % RH;
// moisture-glossary: paper carries 5 to 8 % on average.
func TestRoomMoistureIsPlausible(t *testing.T) {
	t.Parallel()
	if m := must[measure.MoistureDry](t)(MoistureAt(0.5)); m < 0.055 || m > 0.075 {
		t.Errorf("paper in a room of 50 %% RH holds %.2f %%", float64(m)*100)
	}
	for rh := measure.RelHumidity(0.4); rh <= 0.6; rh += 0.05 {
		if m := must[measure.MoistureWet](t)(WetBasis(must[measure.MoistureDry](t)(MoistureAt(rh)))); m < 0.05 || m > 0.08 {
			t.Errorf("paper at %.0f %% RH carries %.2f %%", float64(rh)*100, float64(m)*100)
		}
	}
}

func TestSheetsPerKilogramPublished(t *testing.T) {
	t.Parallel()
	mm := map[string]float64{"in": 25.4, "mm": 1}
	for _, r := range published.Rows(t, "sheets-per-kilogram.csv") {
		area := must[measure.Area](t)(AreaOf(measure.Length(published.Number(t, r[0])*mm[r[2]]), measure.Length(published.Number(t, r[1])*mm[r[2]])))
		dry := must[measure.Mass](t)(DrySolids(must[measure.Mass](t)(ConditionedMass(100, area)), 1/0.93-1))
		near(t, r[0]+" × "+r[1]+" solids", float64(dry), published.Number(t, r[3]), 0.05)
		near(t, r[0]+" × "+r[1]+" to a kilogram", 1000/float64(dry), published.Number(t, r[4]), 0.5)
	}
}

// Common practice: air-dry linter of 6 % moisture on wet basis, 1,000 g, holds
// 940 g bone-dry.
func TestAirDryLinter(t *testing.T) {
	t.Parallel()
	m := must[measure.MoistureDry](t)(DryBasis(0.06))
	near(t, "bone-dry", float64(must[measure.Mass](t)(DrySolids(1000, m))), 940, 1e-9)
}

// ISO 216: A0 is one square metre, each next size half of it, to a rounded
// millimetre (sizes from memory).
func TestAreaOfIsoSizes(t *testing.T) {
	t.Parallel()
	for i, s := range [][2]measure.Length{{1189, 841}, {841, 594}, {594, 420}, {420, 297}, {297, 210}, {210, 148}, {148, 105}} {
		near(t, "A-size", float64(must[measure.Area](t)(AreaOf(s[0], s[1]))), math.Pow(2, -float64(i)), 0.006*math.Pow(2, -float64(i)))
	}
}
