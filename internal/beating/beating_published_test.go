package beating

// Claimed accuracy: half a unit of the last printed digit of each row.
// Achieved: within it in every row.

import (
	"math"
	"testing"

	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/published"
)

func TestConsistencyPublished(t *testing.T) {
	t.Parallel()
	grams := map[string]float64{"g": 1, "kg": 1000, "lb": 453.59237} // exact, inch-pound-1959
	litres := map[string]float64{"L": 1, "US gal": 3.785411784}      // exact, us-gallon
	out := map[string]float64{"g/L": 1, "%": 0.1}                    // 10 g/L is 1 %
	for _, r := range published.Rows(t, "beater-loads.csv") {
		c, err := Consistency(measure.Mass(published.Number(t, r[0])*grams[r[1]]), measure.Volume(published.Number(t, r[2])*litres[r[3]]))
		if err != nil {
			t.Fatalf("%v: %v", r, err)
		}
		if got, want := float64(c)*out[r[5]], published.Number(t, r[4]); math.Abs(got-want) > published.Number(t, r[6]) {
			t.Errorf("%s %s in %s %s = %.4g %s; source %s has %g", r[0], r[1], r[2], r[3], got, r[5], r[7], want)
		}
		source.Must(r[7])
		// Every load that somebody really ran must pass, to the printed digit.
		c = measure.Consistency(math.Round(float64(c)))
		if w, bad := Overload(c); bad {
			t.Errorf("%v: %s", r, w.Text)
		}
		if w, bad := TooThin(c); bad {
			t.Errorf("%v: %s", r, w.Text)
		}
	}
}

func TestHoursPublished(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "beating-hours.csv") {
		f, err := fibre.Find("fibre", r[0])
		if err != nil {
			t.Fatal(err)
		}
		use := r[1]
		if use == fibre.Usual {
			use = ""
		}
		v, err := HoursForUse(f, use)
		if err != nil {
			t.Fatal(err)
		}
		low, high := published.Number(t, r[2]), published.Number(t, r[3])
		if low == high {
			if low < v.Low || low > v.High {
				t.Errorf("%s for %s: %s has %g h, outside the band %g-%g", r[0], r[1], r[4], low, v.Low, v.High)
			}
			continue
		}
		if v.Low != low || v.High != high || v.Source != r[4] {
			t.Errorf("%s for %s: %g-%g h by %s; %s has %g-%g", r[0], r[1], v.Low, v.High, v.Source, r[4], low, high)
		}
	}
}
