package costing

// Claimed accuracy: half a unit of the last printed digit. Achieved: within
// it in every row.

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"vatside/internal/measure"
)

// rows reads a published table, comments and header left out.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rd := csv.NewReader(f)
	rd.Comment = '#'
	all, err := rd.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s holds no rows", name)
	}
	return all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestPriceOfASheet(t *testing.T) {
	t.Parallel()
	for _, r := range rows(t, "price-of-a-sheet.csv") {
		labour, err := Labour(measure.Hours(number(t, r[0])/60), measure.Cost(number(t, r[1])))
		if err != nil {
			t.Fatal(err)
		}
		made := labour + measure.Cost(number(t, r[2]))
		if math.Abs(float64(made)-number(t, r[3])) > 0.005 {
			t.Errorf("a made sheet costs %.4f, want %s", float64(made), r[3])
		}
		rejected := measure.Share(number(t, r[4]) / 100)
		good, err := PerGoodFromMade(made, rejected)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(good)-number(t, r[5])) > 0.005 {
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
	for _, r := range rows(t, "price-of-material.csv") {
		c, err := Material(measure.Mass(number(t, r[0])), measure.Cost(number(t, r[1])))
		if err != nil || math.Abs(float64(c)-number(t, r[2])) > number(t, r[3]) {
			t.Errorf("%v: %.4f, %v", r, float64(c), err)
		}
	}
}
