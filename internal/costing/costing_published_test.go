package costing

// Claimed accuracy: half a unit of the last printed digit. Achieved: within
// it in every row.

import (
	"math"
	"testing"

	"vatside/internal/measure"
	"vatside/internal/testkit/published"
)

func TestPriceOfASheet(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "price-of-a-sheet.csv") {
		labour, err := Labour(measure.Hours(published.Number(t, r[0])/60), measure.Cost(published.Number(t, r[1])))
		if err != nil {
			t.Fatal(err)
		}
		made := labour + measure.Cost(published.Number(t, r[2]))
		if math.Abs(float64(made)-published.Number(t, r[3])) > 0.005 {
			t.Errorf("a made sheet costs %.4f, want %s", float64(made), r[3])
		}
		rejected := measure.Share(published.Number(t, r[4]) / 100)
		good, err := PerGoodFromMade(made, rejected)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(good)-published.Number(t, r[5])) > 0.005 {
			t.Errorf("a good sheet costs %.4f, want %s", float64(good), r[5])
		}
		// The same from the whole making: 100 sheets made, so many good.
		whole, err := PerGoodSheet(made*100, measure.Sheets(100*(1-rejected)))
		if err != nil || math.Abs(float64(whole-good)) > 1e-9 {
			t.Errorf("from the whole making %.4f, from one sheet %.4f, %v", float64(whole), float64(good), err)
		}
	}
}

func TestPriceOfMaterial(t *testing.T) {
	t.Parallel()
	for _, r := range published.Rows(t, "price-of-material.csv") {
		c, err := Material(measure.Mass(published.Number(t, r[0])), measure.Cost(published.Number(t, r[1])))
		if err != nil || math.Abs(float64(c)-published.Number(t, r[2])) > published.Number(t, r[3]) {
			t.Errorf("%v: %.4f, %v", r, float64(c), err)
		}
	}
}

func TestCostingChecks(t *testing.T) {
	t.Parallel()
	topic := published.Checks(t, "costing")
	output := func(id string, hours measure.Hours, hands int, sheets measure.Sheets) float64 {
		each, err := MinutesEach(hours, hands, sheets)
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		return 60 / float64(each)
	}
	for _, r := range []struct {
		id     string
		hours  measure.Hours
		hands  int
		sheets measure.Sheets
	}{
		{"CS001", 5, 1, 90}, {"CS002", 5, 1, 245}, {"CS003", 5, 1, 216}, {"CS004", 5, 1, 342},
		{"CS010", 9.25, 1, 2000}, {"CS011", 9.25, 12, 2000},
	} {
		topic.Row(r.id).Near(t, output(r.id, r.hours, r.hands, r.sheets), 0.5)
	}
	const sheet = 5 * 7 * 0.0254 * 0.0254 // m², inch-pound-1959
	topic.Row("CS005").Near(t, sheet*output("CS005", 5, 1, 342), 0.05)
	topic.Row("CS012").Near(t, 60/output("CS012", 10, 5, 1500), 0.5)
	topic.Row("CS013").Near(t, 10*output("CS013", 10, 5, 1500), 0.5) // ten hours a day

	cost := func(c measure.Cost, err error) float64 {
		if err != nil {
			t.Fatal(err)
		}
		return float64(c)
	}
	topic.Row("CS014").Near(t, cost(Graded(10, RetreeOff)), 1e-9)
	topic.Row("CS015").Near(t, cost(Graded(10, BrokenOff)), 1e-9)
	topic.Row("CS018").Near(t, cost(AsItLies(9.40, 0.06, 0)), 1e-9)
	topic.Row("CS019").Near(t, cost(Material(453.59237, 13.9)), 0.023)

	work, err := Work([]Step{{"all steps", 100 * 20.8 / 60}}, 18)
	if err != nil {
		t.Fatal(err)
	}
	d, err := Break(Bill{Currency: "EUR", Items: append(work, Item{What: "fibre", Cost: 60, Material: true}), Made: 100, Good: 85})
	if err != nil {
		t.Fatal(err)
	}
	topic.Row("CS016").Near(t, float64(d.PerMade.Nearest())/100, 0)
	topic.Row("CS017").Near(t, float64(d.PerGood.Nearest())/100, 0)
}
