package vat

import "fmt"

func ExampleBalance_Thinning() {
	// An 80 L vat; A3 sheets that take 2.44 L of stock and carry off 0.21 L.
	b := Balance{Area: 0.126, Depth: 19.4, Carried: 0.21}
	for _, n := range []int{4, 10, 20, 30} {
		c, _ := b.Thinning(100, 80, n-1)
		fmt.Printf("sheet %d weighs %.1f %%\n", n, float64(c))
	}
	// Output:
	// sheet 4 weighs 91.8 %
	// sheet 10 weighs 77.2 %
	// sheet 20 weighs 57.5 %
	// sheet 30 weighs 42.5 %
}

func ExampleBalance_SheetsPerRecharge() {
	b := Balance{Area: 0.126, Depth: 19.4, Carried: 0.21}
	k, _, _ := b.SheetsPerRecharge(80, 0.08, 0.04, 0.90)
	fmt.Println(k)
	// Output: 3
}
