package cooking_test

import (
	"fmt"

	"vatside/internal/cooking"
	"vatside/internal/measure"
)

// A supplier's sheet: a pound of dry bark, 20 % of soda ash, 7 L.
func ExamplePHOf() {
	soda, _ := cooking.GetAlkali("soda ash")
	m, _ := cooking.AlkaliFor(450, 0.20)
	v, _ := cooking.LiquorFor(450, cooking.UsualLiquor)
	s, _ := cooking.StrengthOf(m, v)
	for _, t := range []measure.Temperature{25, 90} {
		liquor, _ := cooking.Dissolved(soda, measure.Mass(s)/0.997, t)
		ph, _ := cooking.PHOf(liquor, t)
		fmt.Printf("%.0f g in %.2f L, %.1f g/L: pH %.1f at %.0f °C\n", float64(m), float64(v), float64(s), float64(ph), float64(t))
	}
	// Output:
	// 90 g in 7.02 L, 12.8 g/L: pH 11.4 at 25 °C
	// 90 g in 7.02 L, 12.8 g/L: pH 10.4 at 90 °C
}

// A recipe in print: 90 g of lye into a cup of hot water.
func ExampleCheckLye() {
	err := cooking.CheckLye("alkali_pct", 90, 0.2366, 60)
	fmt.Println(err)
	// Output:
	// water_c: Lye goes into cool or lukewarm water only, from 0 to 38 °C, and never the water on the lye: it heats as it dissolves, boils and is thrown out of the vessel. This says 60 °C.; alkali_pct: Lye must stay at or under 10 % by mass in every step; this makes 27.6 %, which heats violently and burns at once. Sprinkle it into the full cool pot instead, at 1 to 2 %.
}

// 15 g of soda ash and 10 g of slaked lime to a litre are a lye liquor.
func ExampleCausticise() {
	c, _ := cooking.Causticise(15, 10)
	fmt.Printf("%.1f g of lye, %.1f g of soda ash left, %.1f g of chalk\n", float64(c.Lye), float64(c.SodaAshLeft), float64(c.Chalk))
	// Output: 10.8 g of lye, 0.7 g of soda ash left, 13.5 g of chalk
}

// Twenty sheets of 12 g from iris that keeps a fortieth of its fresh mass.
func ExampleFreshFor() {
	pulp, _ := cooking.PulpFor(20, 12, 0.2)
	fresh, _ := cooking.FreshFor(pulp, cooking.Yields{Dry: 0.155, Cleaned: 0.95, Cooked: 0.20, Beaten: 0.97})
	fmt.Printf("%.0f g of pulp, %.1f kg of leaf\n", float64(pulp), float64(fresh)/1000)
	// Output: 300 g of pulp, 10.5 kg of leaf
}
