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

// Sixty sheets made, fifty good and four retree: the bill adds up to the coin.
func ExampleBreak() {
	items, _ := costing.Work([]costing.Step{{What: "beating", Hours: 1.5}, {What: "forming", Hours: 3}}, 18)
	fibre, _ := costing.Material(1102, 18.50)
	bill, err := costing.Break(costing.Bill{
		Currency: "EUR", Items: append(items, costing.Item{What: "cotton rag", Cost: fibre, Material: true}), Overhead: 0.15,
		Made: 60, Good: 50, Retree: 4,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range bill.Lines {
		fmt.Println(line.What, line.Minor)
	}
	fmt.Println("total", bill.Total)
	fmt.Println(bill.PerGood.More, "at", bill.PerGood.Most(), "and", bill.PerGood.Of-bill.PerGood.More, "at", bill.PerGood.Each)
	fmt.Println("with retree sold", bill.FloorWithSeconds)
	// Output:
	// beating 2700
	// forming 5400
	// cotton rag 2039
	// overhead 1521
	// total 11660
	// 10 at 234 and 40 at 233
	// with retree sold 218
}
