package beating_test

import (
	"fmt"

	"vatside/internal/beating"
)

// 1014 g of fibre in a beater that takes 680 g in 22.7 L: two equal loads,
// each with its share of the water.
func Example() {
	loads, _ := beating.Loads(1014, 680)
	each, _ := beating.LoadEach(1014, loads)
	water, _ := beating.WaterFor(each, 680, 22.7)
	thick, err := beating.Consistency(each, water)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%g loads of %.0f g in %.1f L, %.0f g/L\n", float64(loads), float64(each), float64(water), float64(thick))
	// Output: 2 loads of 507 g in 16.9 L, 30 g/L
}
