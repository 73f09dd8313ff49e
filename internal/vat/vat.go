// Package vat models the tub of dilute stock from which sheets are pulled: the
// balance of fibre and water sheet by sheet, how long a sheet weighs what the
// first one did, and what recharges keep it so.
//
// Standing assumptions: the vat is stirred before each sheet; water that
// drains through the mould returns; a couched sheet carries off its solids and
// the water couched with it; a kissed-off sheet goes back. Effective depth is
// depth of dip times share retained: sheet weights reveal only the product.
// Sources: docs/models/vat.md. Missing: fines that come back with the drained
// water, temperature, formation aid.
package vat

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Ranges of what can be meant at a hand vat.
const (
	LeastVat   measure.Volume = 0.2   // L
	MostVat    measure.Volume = 10000 // L
	LeastDepth measure.Length = 0.5   // mm
	MostDepth  measure.Length = 200   // mm
)

// Consistency returns the vat consistency that gives a formed grammage.
//
//	c = g / h
//
// Contract:
//
//   - Quantity: consistency, bone-dry solids per litre of stock, g/L
//   - Inputs: g bone-dry solids per formed area, g/m²; h effective depth, mm (= L/m²)
//   - Valid: 0 < g ≤ 5,000; 0.5 ≤ h ≤ 200; outside: fault.OutOfRange
//   - Assumes: well stirred; one dip
//   - Error: exact for the model; h is uncertain by about 20 % until sheets are weighed
//   - Source: derived, docs/models/vat.md
//   - Checked: table of consistency against depth, 5 g/L at 20 mm is 100 g/m² (docs/models/vat.md); inverse of FormedGrammage
func Consistency(g measure.GrammageFormed, h measure.Length) (measure.Consistency, error) {
	if !measure.Finite(g) || g <= 0 || g > 5000 {
		return 0, fault.OutOfRange("", "A formed grammage must be above 0 and at most 5,000 g/m²; this says %.4g g/m².", float64(g))
	}
	if err := checkDepth(h); err != nil {
		return 0, err
	}
	return measure.Consistency(float64(g) / float64(h)), nil
}

// FormedGrammage returns the bone-dry solids per formed area of a sheet.
//
//	g = c · h
//
// Contract:
//
//   - Quantity: bone-dry solids per formed area, g/m²
//   - Inputs: c consistency, g/L; h effective depth, mm
//   - Valid: 0 ≤ c ≤ 500; 0.5 ≤ h ≤ 200; outside: fault.OutOfRange
//   - Assumes: well stirred; one dip
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: table of consistency against depth (docs/models/vat.md); inverse of Consistency
func FormedGrammage(c measure.Consistency, h measure.Length) (measure.GrammageFormed, error) {
	if !measure.Within(c, 0, 500) {
		return 0, fault.OutOfRange("", "A consistency must be between 0 and 500 g/L; this says %.4g g/L.", float64(c))
	}
	if err := checkDepth(h); err != nil {
		return 0, err
	}
	return measure.GrammageFormed(float64(c) * float64(h)), nil
}

func checkDepth(h measure.Length) error {
	if !measure.Within(h, LeastDepth, MostDepth) {
		return fault.OutOfRange("", "An effective depth must be between 0.5 and 200 mm; this says %.4g mm.", float64(h))
	}
	return nil
}

// CarriedOff returns the water one couched sheet takes out of the vat.
//
//	u = m · (1/s − 1) / 1000
//
// Contract:
//
//   - Quantity: water carried off per sheet, L (1 kg of water taken as 1 L)
//   - Inputs: m bone-dry solids per sheet, g; s solids of the couched sheet, fraction
//   - Valid: 0 ≤ m ≤ 10,000; 0.01 ≤ s ≤ 0.6; outside: fault.OutOfRange
//   - Assumes: no drips besides
//   - Error: s is uncertain by a third until a couched sheet is weighed
//   - Source: derived, docs/models/vat.md
//   - Checked: worked values of docs/models/vat.md; monotone
func CarriedOff(m measure.Mass, s measure.Solids) (measure.Volume, error) {
	if !measure.Within(m, 0, 10000) {
		return 0, fault.OutOfRange("", "The solids of a sheet must be between 0 and 10 kg; this says %.4g g.", float64(m))
	}
	if !measure.Within(s, 0.01, 0.6) {
		return 0, fault.OutOfRange("", "Couched solids must be between 1 and 60 %%; this says %.4g %%.", float64(s)*100)
	}
	return measure.Volume(float64(m) * (1/float64(s) - 1) / 1000), nil
}

// Balance is what one sheet does to a vat: the water it takes up from, and the
// water it carries off.
type Balance struct {
	Area    measure.Area   // formed, m²
	Depth   measure.Length // effective, mm
	Carried measure.Volume // carried off a sheet, L
}

// taken is the volume of stock whose solids one sheet holds, L.
func (b Balance) taken() float64 { return float64(b.Area) * float64(b.Depth) }

// Ratio returns the consistency after one sheet over that before it.
//
//	(V − A·h) / (V − u)
//
// Contract:
//
//   - Quantity: factor on consistency by pulling one sheet
//   - Inputs: V vat volume, L; A formed area, m²; h effective depth, mm; u water carried off, L
//   - Valid: 0.2 ≤ V ≤ 10,000; A·h < V; 0 ≤ u < V; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: well stirred; drained water returns
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: worked values of docs/models/vat.md (sheet 4, 10, 20, 30); property: fibre and water are conserved
func (b Balance) Ratio(v measure.Volume) (measure.Number, error) {
	if err := b.check(v); err != nil {
		return 0, err
	}
	return measure.Number(b.ratio(float64(v))), nil
}

func (b Balance) ratio(v float64) float64 { return (v - b.taken()) / (v - float64(b.Carried)) }

func (b Balance) check(v measure.Volume) error {
	switch {
	case !measure.Within(v, LeastVat, MostVat):
		return fault.OutOfRange("vat_l", "A vat must hold between 0.2 and 10,000 L; this says %.4g L.", float64(v))
	case !measure.Finite(b.Area) || b.Area <= 0 || b.Area > 25:
		return fault.OutOfRange("formed_area_m2", "A formed area must be above 0 and at most 25 m²; this says %.4g m².", float64(b.Area))
	case !measure.Within(b.Depth, LeastDepth, MostDepth):
		return fault.OutOfRange("effective_depth_mm", "An effective depth must be between 0.5 and 200 mm; this says %.4g mm.", float64(b.Depth))
	case !measure.Within(b.Carried, 0, MostVat):
		return fault.OutOfRange("carried_off_l", "The water carried off a sheet must be 0 L or more; this says %.4g L.", float64(b.Carried))
	case b.taken() >= float64(v):
		return fault.Infeasible("vat_l", "One sheet takes the fibre of %.3g L, and the vat holds %.3g L: it needs a larger vat or a smaller sheet.", b.taken(), float64(v))
	case float64(b.Carried) >= float64(v):
		return fault.Infeasible("vat_l", "One sheet carries off %.3g L, and the vat holds %.3g L: it needs a larger vat.", float64(b.Carried), float64(v))
	}
	return nil
}

// Thinning returns the consistency after n sheets pulled without a recharge.
//
//	c(n) = c0 · ∏ (V_i − A·h) / (V_i − u),  V_i = V − i·u
//
// Contract:
//
//   - Quantity: consistency, g/L
//   - Inputs: c0 consistency at the start, g/L; V vat volume, L; n sheets
//   - Valid: as Ratio for every V_i; 0 ≤ n ≤ 100,000; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: well stirred; drained water returns
//   - Error: exact for the model; depth is uncertain by about 20 % until sheets are weighed
//   - Source: derived, docs/models/vat.md
//   - Checked: 80 L vat, sheets 4, 10, 20, 30 are 91.8, 77.2, 57.5, 42.5 % (docs/models/vat.md); A3 from 40 L (common practice), sheet 5 is 77 %, sheet 10 is 56 %
func (b Balance) Thinning(c0 measure.Consistency, v measure.Volume, n int) (measure.Consistency, error) {
	if !measure.Within(c0, 0, 500) {
		return 0, fault.OutOfRange("", "A consistency must be between 0 and 500 g/L; this says %.4g g/L.", float64(c0))
	}
	if n < 0 || n > 100000 {
		return 0, fault.OutOfRange("sheets", "The sheets must be from 0 to 100,000; this says %d.", n)
	}
	c, level := float64(c0), v
	for range n {
		r, err := b.Ratio(level)
		if err != nil {
			return 0, err
		}
		c, level = c*float64(r), level-b.Carried
	}
	return measure.Consistency(c), nil
}

// SheetsInTolerance returns how many sheets in a row stay within the tolerance
// when the first is made at its upper end and nothing is added.
//
//	largest k with (1 + τ) · ∏ ratio ≥ 1 − τ over k − 1 sheets
//
// Contract:
//
//   - Quantity: sheets
//   - Inputs: V vat volume, L; τ tolerance, fraction
//   - Valid: as Ratio; 0 < τ < 1; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: a hand without scatter
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: 30, 80, 200 L give 2, 4, 9 sheets at 5 % and 3, 8, 18 at 10 % (docs/models/vat.md); monotone in V
func (b Balance) SheetsInTolerance(v measure.Volume, tolerance measure.Share) (measure.Sheets, error) {
	if !measure.Finite(tolerance) || tolerance <= 0 || tolerance >= 1 {
		return 0, fault.OutOfRange("tolerance_pct", "A tolerance must be above 0 and below 100 %%; this says %.4g %%.", float64(tolerance)*100)
	}
	if err := b.check(v); err != nil {
		return 0, err
	}
	if float64(b.Carried) >= b.taken() { // the vat thickens: it never falls out below
		return 0, fault.Infeasible("carried_off_l", "Each sheet carries off more water (%.3g L) than the fibre it takes (%.3g L of stock), so the vat thickens and no recharge is due.", float64(b.Carried), b.taken())
	}
	g, level, k := 1+float64(tolerance), v, 0
	for g >= 1-float64(tolerance)-1e-12 && b.check(level) == nil && k < 100000 {
		k++
		g, level = g*b.ratio(float64(level)), level-b.Carried
	}
	return measure.Sheets(k), nil
}

// LeastVolume returns the vat a sheet needs so that pulling one thins it by no
// more than the given share.
//
//	V = A·h / d
//
// Contract:
//
//   - Quantity: vat volume, L
//   - Inputs: d greatest share of the vat's fibre one sheet may take, fraction
//   - Valid: 0 < d ≤ 1; outside: fault.OutOfRange
//   - Assumes: water carried off is small beside the fibre taken
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: 20 cm round sheets of 100 g/m² at 0.5 % need 12.6 L for 5 % (common practice)
func (b Balance) LeastVolume(d measure.Share) (measure.Volume, error) {
	if !measure.Finite(d) || d <= 0 || d > 1 {
		return 0, fault.OutOfRange("", "The share one sheet may take must be above 0 and at most 100 %%; this says %.4g %%.", float64(d)*100)
	}
	return measure.Volume(b.taken() / float64(d)), nil
}

// LevelStock returns the consistency of stock that keeps the vat level: what a
// sheet takes and what a recharge brings are then the same.
//
//	c_s = m / u
//
// Contract:
//
//   - Quantity: stock consistency, bone-dry solids over water brought, g/L
//   - Inputs: m bone-dry solids per sheet, g; u water carried off a sheet, L
//   - Valid: m > 0; u > 0; outside: fault.OutOfRange
//   - Assumes: the volume of the solids themselves is small
//   - Error: as the couched solids, a third until weighed
//   - Source: derived, docs/models/vat.md
//   - Checked: worked values of docs/models/vat.md (111.1 g/L)
func LevelStock(m measure.Mass, u measure.Volume) (measure.Consistency, error) {
	if !measure.Finite(m) || !measure.Finite(u) || m <= 0 || u <= 0 {
		return 0, fault.OutOfRange("", "Solids and water carried off must both be above 0; they are %.4g g and %.4g L.", float64(m), float64(u))
	}
	return measure.Consistency(float64(m) / float64(u)), nil
}

// Heel returns the solids still in the vat at its least workable level.
//
//	m = c · V_least
//
// Contract:
//
//   - Quantity: bone-dry solids, g
//   - Inputs: c consistency at target, g/L; V_least least workable volume, L
//   - Valid: 0 ≤ c ≤ 500; 0 ≤ V_least ≤ 10,000; outside: fault.OutOfRange
//   - Assumes: the run is brought down to that level at the target consistency
//   - Error: as the consistency
//   - Source: derived, docs/models/vat.md
//   - Checked: worked values of docs/models/vat.md; property: nothing is lost between fill, recharges, sheets and heel
func Heel(c measure.Consistency, least measure.Volume) (measure.Mass, error) {
	if !measure.Within(c, 0, 500) {
		return 0, fault.OutOfRange("", "A consistency must be between 0 and 500 g/L; this says %.4g g/L.", float64(c))
	}
	if !measure.Within(least, 0, MostVat) {
		return 0, fault.OutOfRange("", "The least workable volume must be between 0 and 10,000 L; this says %.4g L.", float64(least))
	}
	return measure.Mass(float64(c) * float64(least)), nil
}

// normal is the standard normal distribution function.
func normal(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }
