package sheet

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Ranges of what paper can be. Cellulose itself has 1.5 g/cm³.
const (
	leastCaliper measure.Length  = 0.001 // mm; thinner than the thinnest repair tissue
	mostCaliper  measure.Length  = 50    // mm; castings
	leastDensity measure.Density = 0.05  // g/cm³; unpressed, dried in the air
	mostDensity  measure.Density = 1.6   // g/cm³; above the fibre wall a unit is wrong, filler included
)

// SpecificVolume is the room a gram takes, cm³/g; the trade calls it bulk.
type SpecificVolume float64

// Unit returns the unit the type is stated in.
func (SpecificVolume) Unit() string { return "cm³/g" }

// Caliper returns how thick a sheet is.
//
//	t = g / ρ
//
// Contract:
//
//   - Quantity: caliper, mm (g/m² over g/cm³ is µm, a thousandth of it)
//   - Inputs: g conditioned grammage, g/m²; ρ apparent density, g/cm³
//   - Valid: 0 < g ≤ 5,000 g/m²; 0.05 ≤ ρ ≤ 1.6 g/cm³; result 0.001 to 50 mm; outside: fault.OutOfRange
//   - Assumes: density was measured as it will be read, under the foot of the same gauge
//   - Error: exact for the model; density is uncertain by a fifth until a sheet is measured
//   - Source: iso-534; docs/models/sheet.md
//   - Checked: published/check-sheet-making.csv, SH033; inverse of DensityFromCaliper
func Caliper(g measure.GrammageConditioned, density measure.Density) (measure.Length, error) {
	if err := checkGrammage(float64(g)); err != nil {
		return 0, err
	}
	if !measure.Within(density, leastDensity, mostDensity) {
		return 0, fault.OutOfRange("", "A sheet's density must be between 0.05 and 1.6 g/cm³; this says %.4g g/cm³.", float64(density))
	}
	caliper := measure.Length(float64(g) / float64(density) / 1000)
	if err := checkCaliper(caliper); err != nil {
		return 0, err
	}
	return caliper, nil
}

// DensityFromCaliper returns the apparent density of a weighed sheet.
//
//	ρ = g / t
//
// Contract:
//
//   - Quantity: apparent density, g/cm³
//   - Inputs: g conditioned grammage, g/m²; t caliper, mm
//   - Valid: 0 < g ≤ 5,000 g/m²; 0.001 ≤ t ≤ 50 mm; result at most 1.6 g/cm³; outside: fault.OutOfRange
//   - Assumes: the pores count as paper
//   - Error: as the caliper, about 5 % for five readings on handmade paper (memory)
//   - Source: iso-534; docs/models/sheet.md
//   - Checked: published/check-sheet-making.csv, SH033; inverse of Caliper
func DensityFromCaliper(g measure.GrammageConditioned, caliper measure.Length) (measure.Density, error) {
	if err := checkGrammage(float64(g)); err != nil {
		return 0, err
	}
	if err := checkCaliper(caliper); err != nil {
		return 0, err
	}
	density := measure.Density(float64(g) / float64(caliper) / 1000)
	if density > mostDensity {
		return 0, fault.OutOfRange("", "A sheet's density must be at most 1.6 g/cm³, more than cellulose has; weight and caliper give %.4g g/cm³.", float64(density))
	}
	return density, nil
}

// Bulk returns the room a gram of paper takes.
//
//	bulk = t / g
//
// Contract:
//
//   - Quantity: bulk, cm³/g
//   - Inputs: g conditioned grammage, g/m²; t caliper, mm
//   - Valid: as DensityFromCaliper; outside: fault.OutOfRange
//   - Assumes: the pores count as paper
//   - Error: as the caliper
//   - Source: iso-534; docs/models/sheet.md
//   - Checked: published/check-sheet-making.csv, SH034; inverse of the density
func Bulk(g measure.GrammageConditioned, caliper measure.Length) (SpecificVolume, error) {
	density, err := DensityFromCaliper(g, caliper)
	if err != nil {
		return 0, err
	}
	return SpecificVolume(1 / float64(density)), nil
}

// CaliperMean returns the mean of several readings and how far the sheet's own
// mean may be from it, nine times in ten.
//
//	t̄ = Σt / n,  ± t₀.₉₅(n − 1) · s / √n
//
// Contract:
//
//   - Quantity: mean caliper and its give or take at 90 %, mm
//   - Inputs: readings, mm, each at another place
//   - Valid: 2 to 1,000 readings, each 0.001 to 50 mm; outside: fault.OutOfRange
//   - Assumes: readings scatter evenly about the mean; the gauge's own error is not in it
//   - Error: exact for the model
//   - Source: definition; docs/models/sheet.md
//   - Checked: by hand for 100, 110, 120 µm; equal readings leave none; 90 % cover of seeded samples
func CaliperMean(readings []measure.Length) (mean, giveOrTake measure.Length, err error) {
	n := len(readings)
	if n < 2 || n > 1000 {
		return 0, 0, fault.OutOfRange("", "A mean caliper with its error needs 2 to 1,000 readings; there are %d.", n)
	}
	x := make([]float64, n)
	for i, r := range readings {
		if err := checkCaliper(r); err != nil {
			return 0, 0, err
		}
		x[i] = float64(r)
	}
	m, s := stat.MeanStdDev(x, nil)
	quantile := distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(0.95)
	return measure.Length(m), measure.Length(quantile * s / math.Sqrt(float64(n))), nil
}

func checkCaliper(t measure.Length) error {
	if !measure.Within(t, leastCaliper, mostCaliper) {
		return fault.OutOfRange("", "A sheet's caliper must be between 0.001 and 50 mm; this says %.4g mm.", float64(t))
	}
	return nil
}
