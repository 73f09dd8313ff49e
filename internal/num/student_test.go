package num

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Against the quantiles of an independent library.
func TestStudent(t *testing.T) {
	t.Parallel()
	for _, nu := range []float64{10, 13, 20, 50, 400} {
		law := distuv.StudentsT{Sigma: 1, Nu: nu}
		for z := -3.2; z <= 3.2; z += 0.1 {
			want := law.Quantile(distuv.UnitNormal.CDF(z))
			got := NewStudent(nu).OfNormal(z)
			tolerance := 0.01 * math.Abs(want)
			if math.Abs(z) < 1.7 {
				tolerance = 1e-4
			}
			if math.Abs(got-want) > tolerance+1e-9 {
				t.Errorf("ν = %g, z = %.1f: %.6f, want %.6f", nu, z, got, want)
			}
		}
	}
	// tables as everybody prints them, from memory: t of the 95 % point, 10 and 20 degrees
	for nu, want := range map[float64]float64{10: 1.812, 20: 1.725} {
		if got := NewStudent(nu).OfNormal(1.6448536269514722); math.Abs(got-want) > 0.0005 {
			t.Errorf("ν = %g: %.4f, the tables have %.3f", nu, got, want)
		}
	}
	if got := NewStudent(math.Inf(1)).OfNormal(1.3); got != 1.3 {
		t.Errorf("without end of degrees %g", got)
	}
}
