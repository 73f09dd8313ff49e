package beating_test

import (
	"fmt"

	"vatside/internal/beating"
	"vatside/internal/fibre"
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

// Abaca wanted at 40 °SR. The two readings alone, on a logit line, would make
// it 0.89 h more; the handbook's rate still counts a little.
func ExampleCurve_TimeTo() {
	abaca, _ := fibre.Get("abaca")
	rate, _ := beating.HandbookRate(beating.BySchopperRiegler, abaca)
	curve, err := beating.NewCurve(beating.BySchopperRiegler, rate)
	for _, r := range []beating.Reading{{At: 0, Value: 16}, {At: 1, Value: 27}} {
		if err == nil {
			curve, err = curve.With(r)
		}
	}
	if err != nil {
		fmt.Println(err)
		return
	}
	left, err := curve.TimeTo(40)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f h more, nine times in ten %.1f–%.1f h; on expectation: %v\n", float64(left.Mid), float64(left.Low), float64(left.High), left.OnExpectation())
	// Output: 0.9 h more, nine times in ten 0.5–1.6 h; on expectation: false
}
