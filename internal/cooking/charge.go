package cooking

import (
	"fmt"
	"math"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// How full a pot may be at most, a share of it: foam and fibre rise.
const (
	Fill        measure.Share = 2.0 / 3 // (source: iris-daylily-1993)
	FillFoaming measure.Share = 0.5     // of plants whose sap foams; a third to a half (source: memory)
)

// AlkaliFor returns the alkali of a charge.
//
//	m = c · dry
//
// Contract:
//
//   - Quantity: mass of alkali as weighed, g
//   - Inputs: dry fibre, bone-dry g; c charge on dry fibre, a fraction of that alkali's own mass
//   - Valid: dry 0.1 to 1000000 g; c 0 to 1.5; outside: fault.OutOfRange
//   - Assumes: the charge is on bone-dry fibre; air-dry fibre is a tenth water
//   - Error: exact; the scale and the moisture of the fibre decide
//   - Source: definition
//   - Checked: published/cook-worked.csv
func AlkaliFor(dry measure.Mass, c measure.Dose) (measure.Mass, error) {
	if err := fault.First(checkDry(dry), measure.Inside("alkali", "the charge on dry fibre", c, 0, MostCharge, "as a fraction")); err != nil {
		return 0, err
	}
	return measure.Mass(float64(dry) * float64(c)), nil
}

// ChargeOf returns the charge that a mass of alkali is.
//
//	c = m / dry
//
// Contract:
//
//   - Quantity: charge on bone-dry fibre, a fraction
//   - Inputs: m alkali, g; dry fibre, bone-dry g
//   - Valid: dry 0.1 to 1000000 g; m 0 to 1.5 times that; outside: fault.OutOfRange
//   - Assumes: as AlkaliFor
//   - Error: exact
//   - Source: definition
//   - Checked: property: inverse of AlkaliFor
func ChargeOf(m, dry measure.Mass) (measure.Dose, error) {
	if err := fault.First(checkDry(dry), measure.Inside("alkali", "the alkali", m, 0, dry*measure.Mass(MostCharge), "g")); err != nil {
		return 0, err
	}
	return measure.Dose(m / dry), nil
}

// ChargeNote says how a charge stands beside recipes for the fibre, or where
// there are none beside the usual charge; "" where it is among them.
func ChargeNote(a Alkali, c measure.Dose, f fibre.Fibre) string {
	low, high, said := chargesOf(a, f)
	switch {
	case float64(c) > high*1.0001:
		return fmt.Sprintf("That is more %s than %s, %s: too much alkali makes fibre tender and costs yield.", a.Name, said, percents(low, high))
	case float64(c) < low*0.9999:
		return fmt.Sprintf("That is less %s than %s, %s: slow or too weak, unless the fibre is clean already.", a.Name, said, percents(low, high))
	case a.Name == Lye && float64(c) > 0.1001:
		return "Sources do not agree on lye: 9, 15 and 20 % are in print. Begin at 8 to 10 % and test early."
	}
	return ""
}

// chargesOf returns the charges of an alkali that recipes for a fibre span, or
// the usual ones, and what they rest on, in words.
func chargesOf(a Alkali, f fibre.Fibre) (low, high float64, said string) {
	low, high, memory := math.Inf(1), 0.0, true
	if f.Cook != nil && f.Cook.Alkali.Known() {
		if with, ok := GetAlkali(f.Cook.With); ok && with.Name == a.Name {
			low, high, memory = f.Cook.Alkali.Low, f.Cook.Alkali.High, f.Cook.Alkali.Source == source.KeyMemory
		}
	}
	for _, r := range RecipesFor(f.Name) {
		if r.Alkali == a.Name && r.ChargeHigh > 0 {
			low, high, memory = min(low, r.ChargeLow/100), max(high, r.ChargeHigh/100), false
		}
	}
	switch {
	case high > 0 && memory:
		return low, high, "is remembered of " + f.Name
	case high > 0:
		return low, high, "recipes for " + f.Name + " ask for"
	case a.Usual.Source == source.KeyDerived:
		return a.Usual.Low, a.Usual.High, "takes up as much acid as recipes in print ask for"
	}
	return a.Usual.Low, a.Usual.High, "recipes in print ask for"
}

// percents are two shares as a range, or as one number where they are the same.
func percents(low, high float64) string {
	if low == high {
		return fmt.Sprintf("%.3g %%", 100*low)
	}
	return fmt.Sprintf("%.3g to %.3g %%", 100*low, 100*high)
}

// LiquorFor returns the liquor that covers fibre.
//
//	V = r · dry / 1000
//
// Contract:
//
//   - Quantity: liquor, L
//   - Inputs: dry fibre, bone-dry g; r litres to a kilogram
//   - Valid: dry 0.1 to 1000000 g; r 1 to 200 L/kg; outside: fault.OutOfRange
//   - Assumes: fibre that lies under 15 L/kg when soaked; bulky leaves want more
//   - Error: exact
//   - Source: cooking-bark-sheet
//   - Checked: published/cook-worked.csv
func LiquorFor(dry measure.Mass, r measure.Number) (measure.Volume, error) {
	if err := fault.First(checkDry(dry), measure.Inside("liquor", "the liquor", r, LeastLiquor, MostLiquor, "L/kg")); err != nil {
		return 0, err
	}
	return measure.Volume(float64(dry) * float64(r) / 1000), nil
}

// StrengthOf returns how strong a liquor is.
//
//	s = m / V
//
// Contract:
//
//   - Quantity: alkali in the liquor, g/L
//   - Inputs: m alkali, g; V liquor, L
//   - Valid: m 0 to 1000000 g; V 0.0001 to 100000 L; outside: fault.OutOfRange
//   - Assumes: the water is measured, not the liquor after dissolving: 1 % apart at cooking strength
//   - Error: 1 %
//   - Source: definition
//   - Checked: published/cook-worked.csv, published/check-cooking.csv
func StrengthOf(m measure.Mass, v measure.Volume) (Strength, error) {
	if err := fault.First(measure.Inside("alkali", "the alkali", m, 0, mostDry, "g"), checkVolume(v)); err != nil {
		return 0, err
	}
	return Strength(float64(m) / float64(v)), nil
}

// PotFor returns the least pot for a liquor.
//
//	pot = V / fill
//
// Contract:
//
//   - Quantity: volume of the pot, L
//   - Inputs: V liquor, L; fill share of the pot that may be full, usually two thirds, half where sap foams
//   - Valid: V 0.0001 to 100000 L; fill 0.2 to 0.9; outside: fault.OutOfRange
//   - Assumes: soaked fibre takes up little room beside its liquor
//   - Error: 5 %
//   - Source: iris-daylily-1993
//   - Checked: published/cook-worked.csv
func PotFor(v measure.Volume, fill measure.Share) (measure.Volume, error) {
	if err := fault.First(checkVolume(v), measure.Inside("fill", "how full the pot may be", fill, 0.2, 0.9, "as a fraction")); err != nil {
		return 0, err
	}
	return measure.Volume(float64(v) / float64(fill)), nil
}

// Pots returns how many fillings of a pot a liquor makes.
//
//	n = ⌈V / (pot · fill)⌉
//
// Contract:
//
//   - Quantity: pots, or one pot filled so often, a whole number
//   - Inputs: V liquor, L; pot its volume, L; fill share of it that may be full
//   - Valid: V and pot 0.0001 to 100000 L; fill 0.2 to 0.9; outside: fault.OutOfRange
//   - Assumes: fibre and liquor are shared out evenly
//   - Error: exact
//   - Source: derived
//   - Checked: property: so many suffice and one fewer does not
func Pots(v, pot measure.Volume, fill measure.Share) (measure.Loads, error) {
	least, err := PotFor(v, fill)
	if err == nil {
		err = checkVolume(pot)
	}
	if err != nil {
		return 0, err
	}
	return measure.Loads(max(1, math.Ceil(float64(least/pot)-1e-9))), nil
}

func checkDry(dry measure.Mass) error {
	return measure.Inside("dry", "the dry fibre", dry, leastDry, mostDry, "g")
}

func checkVolume(v measure.Volume) error {
	return measure.Inside("liquor", "the volume", v, 1e-4, 1e5, "L")
}
