package sizing

// Claimed accuracy: half a unit of the last printed digit; recipes by volume
// against strength by mass 0.1 points. Achieved: within it in every row.

import (
	"math"
	"testing"
	"time"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestCheckSizing(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "sizing")
	for id, c := range map[string]struct {
		dry, wet measure.Mass
		area     measure.Area
		by       float64
	}{
		"CO001": {1, 2, 0.0100, 1e-9}, // a gram more on 100 cm²: the factor itself
		"CO002": {0.8312, 1.1052, 0.0100, 0.01},
		"CO003": {0.8312, 0.9812, 0.0025, 0.01},
	} {
		got, err := Cobb(c.dry, c.wet, c.area)
		if err != nil {
			t.Fatal(err)
		}
		topic.Row(id).Near(t, float64(got), c.by)
	}
	tests := map[string]CobbTest{}
	for _, c := range CobbTests() {
		tests[c.Name] = c
	}
	for _, id := range []string{"CO004", "CO005", "CO006", "CO007"} {
		r := topic.Row(id)
		r.Near(t, tests[r.Inputs].PourOff.Seconds(), 0)
	}
	topic.Row("CO008").Near(t, (tests["Cobb60"].Blot - tests["Cobb60"].PourOff).Seconds(), 0)
	least := topic.Row("CO009").Number(t)
	if CobbApplies(measure.GrammageConditioned(least), false) != nil || CobbApplies(measure.GrammageConditioned(least-0.1), false) == nil || CobbApplies(200, true) == nil {
		t.Error("the Cobb test is for sized paper of 50 g/m² and more")
	}
}

func TestWorkedSizing(t *testing.T) {
	t.Parallel()
	formulas := map[string]func(a, b, c, d float64) (float64, error){
		"strength": func(a, b, _, _ float64) (float64, error) { return num(Strength(measure.Mass(a), measure.Volume(b))) },
		"on fibre": func(a, b, _, _ float64) (float64, error) { return num(OnFibre(BathStrength(a), Uptake(b))) },
		"bath": func(a, b, c, d float64) (float64, error) {
			return num(BathVolume(measure.Sheets(a), measure.Mass(b), Uptake(c), measure.Volume(d)))
		},
		"size": func(a, b, _, _ float64) (float64, error) { return num(SizeMass(measure.Volume(a), BathStrength(b))) },
		"alum": func(a, b, _, _ float64) (float64, error) { return num(AlumMass(measure.Mass(a), measure.Share(b))) },
		"water": func(a, b, c, d float64) (float64, error) {
			return num(WaterToDry(measure.Sheets(a), measure.Mass(b), Uptake(c), BathStrength(d)))
		},
	}
	for _, r := range published.Rows(t, "size-worked.csv") {
		var in [4]float64
		for i := range in {
			if r[i+1] != "" {
				in[i] = published.Number(t, r[i+1])
			}
		}
		got, err := formulas[r[0]](in[0], in[1], in[2], in[3])
		if r[6] == "%" {
			got *= 100
		}
		if want := published.Number(t, r[5]); err != nil || math.Abs(got-want) > published.Number(t, r[7]) {
			t.Errorf("%s (%s): %.5g %s, want %g; %v", r[0], r[8], got, r[6], want, err)
		}
	}
}

// The old papers that were measured, 2.6 to 5.8 % gelatin (gelatin-nbs-1943),
// are what the recipe in print puts on at one to two pick-ups.
func TestOldPapersAgree(t *testing.T) {
	t.Parallel()
	one, _ := OnFibre(0.026, 1)
	two, _ := OnFibre(0.026, 2)
	if one < 0.0255 || two > 0.058 {
		t.Errorf("%.2f to %.2f %%", float64(one)*100, float64(two)*100)
	}
}

func TestCobbTimesAreInOrder(t *testing.T) {
	t.Parallel()
	last := time.Duration(0)
	for _, c := range CobbTests() {
		if c.PourOff <= last || c.Blot <= c.PourOff {
			t.Errorf("%s: %v, %v", c.Name, c.PourOff, c.Blot)
		}
		last = c.Blot
	}
}

// num takes the type off a quantity.
func num[T ~float64](v T, err error) (float64, error) { return float64(v), err }
