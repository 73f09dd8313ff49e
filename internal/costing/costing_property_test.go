package costing

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func near(a, b measure.Cost) bool {
	return math.Abs(float64(a-b)) <= 1e-9*math.Max(1, math.Abs(float64(b)))
}

func TestWorkedByHand(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		call func() (measure.Cost, error)
		want measure.Cost
	}{
		"three quarters of an hour":  {func() (measure.Cost, error) { return Labour(0.75, 24) }, 18},
		"1102 g at 18.50 a kilogram": {func() (measure.Cost, error) { return Material(1102, 18.50) }, 20.387},
		"200 with 15 %":              {func() (measure.Cost, error) { return WithOverhead(200, 0.15) }, 230},
		"no overhead":                {func() (measure.Cost, error) { return WithOverhead(200, 0) }, 200},
		"240 over 50 good sheets":    {func() (measure.Cost, error) { return PerGoodSheet(240, 50) }, 4.80},
		"half rejected":              {func() (measure.Cost, error) { return PerGoodFromMade(3, 0.5) }, 6},
		"none rejected":              {func() (measure.Cost, error) { return PerGoodFromMade(3, 0) }, 3},
		"a shop pays half":           {func() (measure.Cost, error) { return RetailFloor(8.05, 0.5) }, 16.10},
		"no shop":                    {func() (measure.Cost, error) { return RetailFloor(8.05, 1) }, 8.05},
		"retree":                     {func() (measure.Cost, error) { return Graded(10, RetreeOff) }, 9},
		"broken":                     {func() (measure.Cost, error) { return Graded(10, BrokenOff) }, 8},
		"unpaid hours":               {func() (measure.Cost, error) { return Labour(8, 0) }, 0},
		"no fibre":                   {func() (measure.Cost, error) { return Material(0, 20) }, 0},
	} {
		if got, err := c.call(); err != nil || !near(got, c.want) {
			t.Errorf("%s: %g, %v; want %g", name, float64(got), err, float64(c.want))
		}
	}
}

// The whole making is paid for by its good sheets, whatever the share lost.
func TestGoodSheetsPayForAll(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	for range 1000 {
		total := measure.Cost(rng.Float64() * 5000)
		made := measure.Sheets(1 + rng.IntN(500))
		good := measure.Sheets(1 + rng.IntN(int(made)))
		lost := measure.Share(1 - float64(good)/float64(made))
		if lost > 0.99 {
			continue
		}
		a, err := PerGoodSheet(total, good)
		if err != nil {
			t.Fatal(err)
		}
		b, err := PerGoodFromMade(total/measure.Cost(made), lost)
		if err != nil || !near(a*measure.Cost(good), total) || math.Abs(float64(a-b)) > 1e-9*math.Max(1, float64(a)) {
			t.Fatalf("%g over %g good of %g: %g and %g, %v", float64(total), float64(good), float64(made), float64(a), float64(b), err)
		}
	}
}

func TestEdges(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -0.01, 2e9} {
		c, s := measure.Cost(x), measure.Share(x)
		for name, call := range map[string]func() (measure.Cost, error){
			"Labour hours":         func() (measure.Cost, error) { return Labour(measure.Hours(x), 18) },
			"Labour rate":          func() (measure.Cost, error) { return Labour(1, c) },
			"Material mass":        func() (measure.Cost, error) { return Material(measure.Mass(x), 18) },
			"Material price":       func() (measure.Cost, error) { return Material(100, c) },
			"WithOverhead direct":  func() (measure.Cost, error) { return WithOverhead(c, 0.1) },
			"WithOverhead share":   func() (measure.Cost, error) { return WithOverhead(100, s) },
			"PerGoodSheet total":   func() (measure.Cost, error) { return PerGoodSheet(c, 10) },
			"PerGoodSheet good":    func() (measure.Cost, error) { return PerGoodSheet(100, measure.Sheets(x)) },
			"PerGoodFromMade cost": func() (measure.Cost, error) { return PerGoodFromMade(c, 0.1) },
			"PerGoodFromMade lost": func() (measure.Cost, error) { return PerGoodFromMade(5, s) },
			"RetailFloor cost":     func() (measure.Cost, error) { return RetailFloor(c, 0.5) },
			"RetailFloor share":    func() (measure.Cost, error) { return RetailFloor(5, s) },
			"Graded price":         func() (measure.Cost, error) { return Graded(c, 0.1) },
			"Graded off":           func() (measure.Cost, error) { return Graded(5, s) },
		} {
			if v, err := call(); v != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %g = %g, %v", name, x, float64(v), err)
			}
		}
	}
	for name, call := range map[string]func() (measure.Cost, error){
		"no good sheet":       func() (measure.Cost, error) { return PerGoodSheet(100, 0) },
		"half a sheet":        func() (measure.Cost, error) { return PerGoodSheet(100, 0.5) },
		"all rejected":        func() (measure.Cost, error) { return PerGoodFromMade(5, 1) },
		"shop pays nothing":   func() (measure.Cost, error) { return RetailFloor(5, 0) },
		"more than all off":   func() (measure.Cost, error) { return Graded(5, 1.01) },
		"too long a lifetime": func() (measure.Cost, error) { return Labour(10_001, 1) },
	} {
		if v, err := call(); v != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %g, %v", name, float64(v), err)
		}
	}
}

func TestMoney(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		cost         measure.Cost
		code, locale string
		want         string
	}{
		// A no-break space (U+00A0) stands before the sign in German and French.
		{8.047, "EUR", "en", "€8.05"},
		{8.047, "EUR", "de", "8,05\u00a0€"},
		{1234.5, "GBP", "en-GB", "£1,234.50"},
		{1234.5, "USD", "en-US", "$1,234.50"},
		{804.7, "JPY", "en", "¥805"},
		{1.0005, "KWD", "en", "KWD\u00a01.001"}, // three digits
		{0.1 + 0.2, "EUR", "en", "€0.30"},
		{1.005, "EUR", "en", "€1.01"}, // the float is below it
		{0.335 * 3, "EUR", "en", "€1.01"},
		{-2.5, "EUR", "en", "-€2.50"},
		{0, "EUR", "", "€0.00"},
	} {
		if got, err := Money(c.cost, c.code, c.locale); err != nil || got != c.want {
			t.Errorf("Money(%g, %s, %s) = %q, %v; want %q", float64(c.cost), c.code, c.locale, got, err, c.want)
		}
	}
}

func TestMoneyRefuses(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1.1e9, -1.1e9} {
		if s, err := Money(measure.Cost(x), "EUR", "en"); s != "" || fault.KindOf(err) != fault.KindOutOfRange || err == nil {
			t.Errorf("Money(%g) = %q, %v", x, s, err)
		}
		if n, err := MinorUnits(measure.Cost(x), "EUR"); n != 0 || fault.KindOf(err) != fault.KindOutOfRange || err == nil {
			t.Errorf("MinorUnits(%g) = %d, %v", x, n, err)
		}
	}
	if c, err := FromMinor(math.MaxInt64, "EUR"); c != 0 || err == nil || fault.KindOf(err) != fault.KindOutOfRange {
		t.Errorf("FromMinor beyond the range: %v", err)
	}
	for _, code := range []string{"", "eur", "EURO", "ZZZ"} {
		_, err1 := Money(1, code, "en")
		_, err2 := MinorUnits(1, code)
		_, err3 := FromMinor(1, code)
		for _, err := range []error{err1, err2, err3} {
			if err == nil || fault.KindOf(err) != fault.KindInvalid || !strings.HasPrefix(err.Error(), "currency: ") {
				t.Errorf("code %q: %v", code, err)
			}
		}
	}
}

func TestMinorUnitsRoundTrip(t *testing.T) {
	t.Parallel()
	for code, digits := range map[string]int{"EUR": 2, "JPY": 0, "KWD": 3} { // iso-4217
		for _, n := range []int64{0, 1, 99, 100, 805, 123_456_789, -250} {
			cost, err := FromMinor(n, code)
			if err != nil || !near(cost, measure.Cost(float64(n)/math.Pow10(digits))) {
				t.Fatalf("FromMinor(%d, %s) = %g, %v", n, code, float64(cost), err)
			}
			back, err := MinorUnits(cost, code)
			if err != nil || back != n {
				t.Errorf("%d %s came back as %d, %v", n, code, back, err)
			}
		}
	}
	if n, err := MinorUnits(8.047, "EUR"); err != nil || n != 805 {
		t.Errorf("8.047 EUR = %d cents, %v", n, err)
	}
}
