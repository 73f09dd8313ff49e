package costing_test

import (
	"fmt"

	"vatside/internal/costing"
	"vatside/internal/measure"
)

// 20.8 minutes a sheet at 18 an hour and 0.60 of fibre, 15 % rejected.
func ExamplePerGoodFromMade() {
	labour, _ := costing.Labour(measure.Hours(20.8/60), 18)
	made := labour + 0.60
	good, _ := costing.PerGoodFromMade(made, 0.15)
	madeText, _ := costing.Money(made, "EUR", "en")
	goodText, err := costing.Money(good, "EUR", "en")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s a made sheet, %s a good one\n", madeText, goodText)
	// Output: €6.84 a made sheet, €8.05 a good one
}
