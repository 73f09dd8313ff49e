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
