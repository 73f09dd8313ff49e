package cooking

import (
	"slices"
	"strings"
	"sync"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// bulks are what products weigh by volume, g/mL.
var bulks = sync.OnceValue(func() map[string]source.Value {
	out := map[string]source.Value{}
	mustRead("data/bulk.csv", 6, func(r []string) error {
		v, err := source.ReadValue(r[1], r[2], r[3], r[4], r[5], 0)
		out[r[0]] = v
		return err
	})
	return out
})

// Bulk returns what a product of the raw-fibre shop weighs by volume, g/mL; an
// unknown value where the product is not known.
func Bulk(product string) source.Value {
	name := source.Plain(product)
	if v, ok := bulks()[name]; ok {
		return v
	}
	if a, ok := GetAlkali(name); ok {
		return bulks()[a.Name]
	}
	return source.Value{}
}

// SpoonMass returns what a volume of a product weighs. Recipes by the spoon
// are off by as much as the band is wide: one tablespoon of soda ash is 8 to
// 15 g.
//
//	m = V · ρ
//
// Contract:
//
//   - Quantity: mass, g: low and high are a 90 % band around mid
//   - Inputs: v volume, level, mL; product by name
//   - Valid: v 0.1 to 100000 mL; outside: fault.OutOfRange; a product without a known bulk density: fault.Invalid
//   - Assumes: poured, level, not packed
//   - Error: the band itself, from memory
//   - Source: memory
//   - Checked: published/spoon-worked.csv
func SpoonMass(v measure.Milliliters, product string) (low, mid, high measure.Mass, err error) {
	if err := measure.Inside("volume", "the volume", v, 0.1, 1e5, "mL"); err != nil {
		return 0, 0, 0, err
	}
	b := Bulk(product)
	if !b.Known() {
		names := make([]string, 0, len(bulks()))
		for n := range bulks() {
			names = append(names, n)
		}
		slices.Sort(names)
		return 0, 0, 0, fault.Invalid("product", "weigh it: what it weighs by volume is known of %s only", strings.Join(names, ", "))
	}
	m := float64(v)
	return measure.Mass(m * b.Low), measure.Mass(m * b.Mid), measure.Mass(m * b.High), nil
}

// SpoonCharge returns the charge on dry fibre that a recipe by the spoon is.
//
//	c = V · ρ / dry
//
// Contract:
//
//   - Quantity: alkali on dry fibre, a fraction: low and high are a 90 % band around mid
//   - Inputs: v volume, level, mL; product by name; dry fibre, bone-dry g
//   - Valid: v 0.1 to 100000 mL; dry 0.1 to 1000000 g; the charge up to 1.5; outside: fault.OutOfRange; a product without a known bulk density: fault.Invalid
//   - Assumes: as SpoonMass; where a recipe says fresh plant, dry it first
//   - Error: the band itself, from memory
//   - Source: memory; definition
//   - Checked: published/spoon-worked.csv
func SpoonCharge(v measure.Milliliters, product string, dry measure.Mass) (low, mid, high measure.Dose, err error) {
	a, b, c, err := SpoonMass(v, product)
	if err != nil {
		return 0, 0, 0, err
	}
	if high, err = ChargeOf(c, dry); err != nil {
		return 0, 0, 0, err
	}
	return measure.Dose(a / dry), measure.Dose(b / dry), high, nil
}
