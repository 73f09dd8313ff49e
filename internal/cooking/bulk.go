package cooking

import (
	"maps"
	"slices"
	"sync"

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

// Spooned returns the products that Bulk knows and that a spoon may measure, by
// name. What burns is weighed.
func Spooned() []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(bulks())), func(name string) bool {
		a, ok := GetAlkali(name)
		return ok && a.Caustic
	})
}

// Bulk returns what a product of the raw-fibre shop weighs by volume, g/mL; an
// unknown value where the product is not known. Recipes by the spoon are off by
// as much as the band is wide: one tablespoon of soda ash is 8 to 15 g.
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
