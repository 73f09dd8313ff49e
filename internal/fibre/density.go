package fibre

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// densityBand is how far a sheet's density is from the middle nine times in
// ten, a fraction of it. From memory: the remembered ranges of one pulp at one
// beat are ± 8 %, and pressing moves a sheet by as much again.
const densityBand = 0.15

// DensityBand returns the density of the dry sheet of a fibre beaten so long.
// Density follows the same degree of beating as shrinkage does, through the
// three densities of the table: lightly, usually and long beaten.
//
//	ρ(x) = ρlow + (ρmid − ρlow) · x/xu  for x ≤ xu;  ρmid + (ρhigh − ρmid) · (x − xu)/(1 − xu)  beyond
//	x = 1 − exp(−t/τ), and xu the same at the usual beat
//
// Contract:
//
//   - Quantity: density of the dry sheet and its nine-in-ten band, g/cm³
//   - Inputs: f a fibre of the table, with its density and τ; hours of beating, h
//   - Valid: 0 ≤ hours ≤ 24; outside: fault.OutOfRange; a fibre without density or curve: fault.Invalid
//   - Assumes: well pressed, no filler; the low density belongs to unbeaten, the high to endlessly beaten pulp
//   - Error: ±15 %, a judgement; pressing and drying move it
//   - Source: memory; docs/models/fibre.md
//   - Checked: remembered ranges of abaca, flax, rag and linters as a pin, no print; property: rises with the hours, low ≤ middle ≤ high
func DensityBand(f Fibre, hours measure.Hours) (Value, error) {
	if !finite(float64(hours), 0, float64(MostHours)) {
		return Value{}, fault.OutOfRange("beating_hours", "beating must be between 0 and %g hours", float64(MostHours))
	}
	if !f.Density.Known() || !f.ShrinkTau.Known() || f.ShrinkTau.Mid <= 0 {
		return Value{}, fault.Invalid("fibre", "%q has no density against beating: take a fibre of the table", f.Name)
	}
	usual, _ := f.HoursFor(Usual) // without one, everything is beyond it
	x, xu := f.degree(hours), f.degree(measure.Hours(usual.Mid))
	v := f.Density
	if x < xu {
		v.Mid = f.Density.Low + (f.Density.Mid-f.Density.Low)*x/xu
	} else {
		v.Mid += (f.Density.High - f.Density.Mid) * math.Min(1, (x-xu)/(1-xu))
	}
	v.Low, v.High = v.Mid*(1-densityBand), v.Mid*(1+densityBand)
	return v, nil
}
