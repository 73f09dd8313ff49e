package beating

// Claimed accuracy: half a unit of the last printed digit of drain times, that
// of each row for the ratios of viscosity, exact for the testers. Achieved: all.

import (
	"math"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/published"
)

func TestViscosityPublished(t *testing.T) {
	t.Parallel()
	at20, err := WaterViscosity(20)
	if err != nil || math.Abs(float64(at20)-1.002) > 0.001 {
		t.Errorf("water of 20 °C has %g mPa·s, %v; tables have 1.002", float64(at20), err)
	}
	for _, r := range published.Rows(t, "beating-viscosity.csv") {
		mu, err := WaterViscosity(measure.Temperature(published.Number(t, r[0])))
		if got, want := float64(mu/at20), published.Number(t, r[1]); err != nil || math.Abs(got-want) > published.Number(t, r[2]) {
			t.Errorf("at %s °C %.4f; %s has %s; %v", r[0], got, r[3], r[1], err)
		}
		source.Must(r[3])
	}
}

func TestDrainPublished(t *testing.T) {
	t.Parallel()
	const mu = 1.002
	rig := Rig{Mesh: measure.Area(math.Pi * 0.05 * 0.05), Head: 1.4715, Stock: 2}
	truth := Resistance{Cake: 5e10, Mesh: 2e7}
	var printed, exact []Caught
	for _, r := range published.Rows(t, "beating-drain.csv") {
		v := measure.Volume(published.Number(t, r[0]) / 1000)
		got, err := rig.DrainTime(truth, v, mu)
		if want := published.Number(t, r[1]); err != nil || math.Abs(float64(got)-want) > 0.005 {
			t.Errorf("%s mL in %.3f s, want %s; %v", r[0], float64(got), r[1], err)
		}
		printed = append(printed, Caught{v, Seconds(published.Number(t, r[1]))})
		exact = append(exact, Caught{v, got})
	}
	for name, c := range map[string]struct {
		readings   []Caught
		cake, mesh float64 // how near, as a share
	}{"exact times": {exact, 1e-10, 1e-8}, "printed times": {printed, 1e-4, 0.02}} { // 0.005 of 34.93 s is 1 % of the mesh's part
		got, err := rig.Resistance(c.readings, mu)
		if err != nil || math.Abs(float64(got.Cake/truth.Cake)-1) > c.cake || math.Abs(float64(got.Mesh/truth.Mesh)-1) > c.mesh {
			t.Errorf("%s: %v, want %v; %v", name, got, truth, err)
		}
	}
}

func TestDrainabilityChecks(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "drainability")
	for id, side := range map[string]measure.Milliliters{"DR001": 1000, "DR002": 700, "DR003": 550, "DR004": 150, "DR005": 0} {
		sr, err := SchopperRieglerFromDischarge(side)
		if err != nil {
			t.Fatal(err)
		}
		topic.Row(id).Near(t, float64(sr), 1e-9)
	}
	text := func(id, got string) {
		t.Helper()
		if r := topic.Row(id); r.Expected != got {
			t.Errorf("%s, %s: %s, want %s", id, r.Quantity, got, r.Expected)
		}
	}
	spans := func(low, high float64) string { return plainNumber(low) + " to " + plainNumber(high) }
	text("DR006", spans(scales[BySchopperRiegler].low, scales[BySchopperRiegler].high))
	text("DR011", spans(scales[ByFreeness].low, scales[ByFreeness].high))
	text("DR013", "below "+plainNumber(float64(falseFreeness)))
	topic.Row("DR007").Near(t, float64(SchopperRieglerStock)*testerVolume/1000, 1e-9)
	topic.Row("DR008").Near(t, float64(FreenessStock)*testerVolume/1000, 1e-9)
	topic.Row("DR009").Near(t, float64(FreenessStock)/10, 1e-9) // 10 g/L is 1 %
	topic.Row("DR010").Near(t, float64(DrainTemperature), 0)
	topic.Row("DR012").Near(t, repeatLimit*100, 1e-9)
	for _, c := range []struct {
		name string
		bad  bool
		want bool
	}{
		{"10 °SR", second(Unreliable(10)), false}, {"9.9 °SR", second(Unreliable(9.9)), true},
		{"90 °SR", second(Unreliable(90)), false}, {"90.1 °SR", second(Unreliable(90.1)), true},
		{"no °SR", second(Unreliable(SchopperRiegler(math.NaN()))), true},
		{"100 mL", second(FalseFreeness(100)), false}, {"99 mL", second(FalseFreeness(99)), true},
		{"400 and 416 mL", second(Repeat[Freeness](400, 416)), false}, {"400 and 418 mL", second(Repeat[Freeness](400, 418)), true},
		{"no mL", second(Repeat(Freeness(math.NaN()), 400)), true},
	} {
		if c.bad != c.want {
			t.Errorf("%s: warned %v, want %v", c.name, c.bad, c.want)
		}
	}
}
