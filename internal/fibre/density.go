package fibre

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// densityBand is how far a sheet's density is from the middle nine times in
// ten, a fraction of it. From memory: the remembered ranges of one pulp at one
// beat are ± 8 %, and pressing moves a sheet by as much again.
const densityBand = 0.15

// DensityBand returns the density of the dry sheet of a fibre beaten so long.
// Density follows the same degree of beating as shrinkage does, through the
// three densities of the table: lightly, usually and long beaten.
//
//	up to the usual beat u: ρ(t) = ρlow + (ρmid − ρlow) · x(t)/x(u), with x(t) = 1 − exp(−t/τ)
//	beyond it:              ρ(t) = ρmid + (ρhigh − ρmid) · x(t − u), for (x(t) − x(u))/(1 − x(u)) = x(t − u)
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
func DensityBand(f Fibre, hours measure.Hours) (source.Value, error) {
	if !finite(float64(hours), 0, float64(MostHours)) {
		return source.Value{}, fault.OutOfRange("beating_hours", "beating must be between 0 and %g hours", float64(MostHours))
	}
	if !f.Density.Known() || !f.ShrinkTau.Known() || f.ShrinkTau.Mid <= 0 {
		return source.Value{}, fault.Invalid("fibre", "%q has no density against beating: take a fibre of the table", f.Name)
	}
	usual, _ := f.HoursFor(Usual) // without one, everything is beyond it
	v, u := f.Density, measure.Hours(usual.Mid)
	if xu := f.degree(u); hours < u && xu > 0 {
		v.Mid = f.Density.Low + (f.Density.Mid-f.Density.Low)*f.degree(hours)/xu
	} else {
		v.Mid += (f.Density.High - f.Density.Mid) * f.degree(max(0, hours-u))
	}
	v.Low, v.High = v.Mid*(1-densityBand), v.Mid*(1+densityBand)
	return v, nil
}
