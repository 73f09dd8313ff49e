package costing

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func someBill(t *rapid.T) Bill {
	b := Bill{Currency: rapid.SampledFrom([]string{"EUR", "JPY", "KWD"}).Draw(t, "currency")}
	for range rapid.IntRange(0, 8).Draw(t, "items") {
		b.Items = append(b.Items, Item{"item", measure.Cost(rapid.Float64Range(0, 5000).Draw(t, "cost")), rapid.Bool().Draw(t, "material")})
	}
	b.OnMaterials = measure.Share(rapid.Float64Range(0, 0.5).Draw(t, "on materials"))
	b.Overhead = measure.Share(rapid.Float64Range(0, 1).Draw(t, "overhead"))
	b.Made = rapid.IntRange(1, 400).Draw(t, "made")
	b.Good = rapid.IntRange(1, b.Made).Draw(t, "good")
	b.Retree = rapid.IntRange(0, b.Made-b.Good).Draw(t, "retree")
	b.Broken = rapid.IntRange(0, b.Made-b.Good-b.Retree).Draw(t, "broken")
	return b
}

// What is printed adds up: lines to the total, shares to the total; and it is the
// studio formula within half a coin a line.
func TestBreakdownAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := someBill(t)
		d, err := Break(b)
		if err != nil {
			t.Fatal(err)
		}
		lines, materials, labour := int64(0), measure.Cost(0), measure.Cost(0)
		for _, l := range d.Lines {
			lines += l.Minor
		}
		for _, it := range b.Items {
			if it.Material {
				materials += it.Cost
			} else {
				labour += it.Cost
			}
		}
		if lines != d.Total || d.PerMade.Sum() != d.Total || d.PerGood.Sum() != d.Total {
			t.Fatalf("lines %d, made %d, good %d; total %d", lines, d.PerMade.Sum(), d.PerGood.Sum(), d.Total)
		}
		one, _ := FromMinor(1, b.Currency)
		sum, err := StudioFormula(materials, labour, b.OnMaterials, b.Overhead)
		if err != nil {
			t.Fatal(err)
		}
		want := float64(sum / one)
		slack := (0.5*float64(len(b.Items))*float64(1+b.OnMaterials)+0.5)*float64(1+b.Overhead) + 0.5 + 1e-6
		if math.Abs(float64(d.Total)-want) > slack {
			t.Fatalf("total %d, unrounded %g, slack %g", d.Total, want, slack)
		}
		each := int64(0)
		for i := range d.PerGood.Of {
			each += d.PerGood.Each
			if i < d.PerGood.More {
				each++
			}
		}
		if each != d.Total || d.PerGood.Most()-d.PerGood.Each > 1 {
			t.Fatalf("sheet by sheet %d, total %d", each, d.Total)
		}
	})
}

// A floor pays, and one coin less does not; what seconds bring lowers it.
func TestFloorsPay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := someBill(t)
		d, err := Break(b)
		if err != nil {
			t.Fatal(err)
		}
		good := int64(b.Good)
		if d.Floor*good < d.Total || d.Floor > 0 && (d.Floor-1)*good >= d.Total {
			t.Fatalf("floor %d for %d good sheets of a total %d", d.Floor, good, d.Total)
		}
		if d.FloorWithSeconds > d.Floor || d.FloorWithSeconds*good+d.SecondsBring < d.Total {
			t.Fatalf("with seconds %d and %d, without %d, total %d", d.FloorWithSeconds, d.SecondsBring, d.Floor, d.Total)
		}
		if b.Retree+b.Broken == 0 && (d.FloorWithSeconds != d.Floor || d.SecondsBring != 0) {
			t.Fatalf("no seconds, and yet %d and %d", d.FloorWithSeconds, d.SecondsBring)
		}
		if p := d.FloorWithSeconds - 1; p >= 0 {
			back, err := d.secondsBring(b, p)
			if err != nil || back+p*good >= d.Total {
				t.Fatalf("a coin less pays too: %d, %v", p, err)
			}
		}
		if 2*d.FloorWithSeconds > 2*d.Retail || d.Retail != 2*d.Floor {
			t.Fatalf("retail %d of a floor %d at half", d.Retail, d.Floor)
		}
	})
}

func TestSplitAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		total, n := rapid.Int64Range(0, 1e12).Draw(t, "total"), rapid.IntRange(1, 1e6).Draw(t, "n")
		s, err := Split(total, n)
		if err != nil || s.Sum() != total || s.More < 0 || s.More >= n || s.Most()*int64(n) < total {
			t.Fatalf("%+v of %d over %d, %v", s, total, n, err)
		}
	})
}

// A lot keeps its worth as it dries, and comes back to its price.
func TestALotKeepsItsWorth(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		price := measure.Cost(rapid.Float64Range(0, 100).Draw(t, "price"))
		w := func(name string) measure.MoistureWet {
			return measure.MoistureWet(rapid.Float64Range(0, 0.95).Draw(t, name))
		}
		bought, now := w("bought"), w("now")
		p, err := AsItLies(price, bought, now)
		if err != nil {
			t.Fatal(err)
		}
		mass := 1000 * (1 - bought) / (1 - now) // what a kilogram bought weighs now
		worth, err := Material(measure.Mass(mass), p)
		back, err2 := AsItLies(p, now, bought)
		if err != nil || err2 != nil || !near(worth, price) || !near(back, price) {
			t.Fatalf("worth %g, back %g, paid %g", float64(worth), float64(back), float64(price))
		}
	})
}

// The least run pays, and one sheet fewer does not; a charge never falls as the
// run grows, and a year of hours carries the year's overhead.
func TestRunsPay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		cost := func(name string, low, high float64) measure.Cost {
			return measure.Cost(rapid.Float64Range(low, high).Draw(t, name))
		}
		setUp, each, gain := cost("set-up", 0, 500), cost("each", 0, 50), cost("gain", 0.01, 50)
		n, err := LeastRun(setUp, each, each+gain)
		if err != nil {
			t.Fatal(err)
		}
		margin := float64(each + gain - each)
		if float64(n)*margin < float64(setUp)-1e-6 || n > 1 && (float64(n)-1)*margin > float64(setUp)+1e-6 {
			t.Fatalf("%g sheets for %g at a gain of %g", float64(n), float64(setUp), margin)
		}
		least := measure.Sheets(rapid.IntRange(1, 60).Draw(t, "least"))
		run := measure.Sheets(rapid.IntRange(1, 100).Draw(t, "run"))
		a, err := RunCharge(setUp, each, run, least)
		b, err2 := RunCharge(setUp, each, run+1, least)
		if err != nil || err2 != nil || b < a || run <= least && !near(a, setUp+each*measure.Cost(least)) {
			t.Fatalf("%g sheets %g, one more %g", float64(run), float64(a), float64(b))
		}
		hours := measure.Hours(rapid.Float64Range(1, 2000).Draw(t, "hours"))
		rate, err := HourlyOverhead(setUp, hours)
		year, err2 := Labour(hours, rate)
		if err != nil || err2 != nil || !near(year, setUp) {
			t.Fatalf("a year carries %g of %g", float64(year), float64(setUp))
		}
	})
}

func TestPricesWorkedByHand(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		call func() (measure.Cost, error)
		want measure.Cost
	}{
		"yearly 6000 over 1200 h":   {func() (measure.Cost, error) { return HourlyOverhead(6000, 1200) }, 5},
		"studio formula":            {func() (measure.Cost, error) { return StudioFormula(40, 120, OnMaterials, 0.20) }, 199.20},
		"studio formula, plain":     {func() (measure.Cost, error) { return StudioFormula(40, 120, 0, 0) }, 160},
		"with seconds":              {func() (measure.Cost, error) { return FloorWithSeconds(240, 40, 10, 5) }, 240.0 / 53},
		"without seconds":           {func() (measure.Cost, error) { return FloorWithSeconds(240, 40, 0, 0) }, 6},
		"twelve of at least 25":     {func() (measure.Cost, error) { return RunCharge(60, 4, 12, 25) }, 160},
		"thirty of at least 25":     {func() (measure.Cost, error) { return RunCharge(60, 4, 30, 25) }, 180},
		"wet pulp, 85 % water, 3 a": {func() (measure.Cost, error) { return AsItLies(3, 0.85, 0.05) }, 19},
	} {
		if got, err := c.call(); err != nil || !near(got, c.want) {
			t.Errorf("%s: %g, %v; want %g", name, float64(got), err, float64(c.want))
		}
	}
	if n, err := LeastRun(60, 4, 6.50); err != nil || n != 24 {
		t.Errorf("least run %g, %v", float64(n), err)
	}
	if _, err := LeastRun(60, 4, 4); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a price at cost: %v", err)
	}
}

func TestBreakdownEdges(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -0.01, 2e9} {
		c, s := measure.Cost(x), measure.Share(x)
		bill := func(change func(*Bill)) func() error {
			return func() error {
				b := Bill{Currency: "EUR", Items: []Item{{What: "a", Cost: 1}}, Made: 10, Good: 8}
				change(&b)
				_, err := Break(b)
				return err
			}
		}
		price := func(v measure.Cost, err error) error { return err }
		for name, call := range map[string]func() error{
			"an item":            bill(func(b *Bill) { b.Items[0].Cost = c }),
			"a bill's materials": bill(func(b *Bill) { b.OnMaterials = s }),
			"a bill's overhead":  bill(func(b *Bill) { b.Overhead = s }),
			"a shop's share":     bill(func(b *Bill) { b.ShopPays = s }),
			"AsItLies price":     func() error { return price(AsItLies(c, 0.1, 0.1)) },
			"AsItLies bought":    func() error { return price(AsItLies(1, measure.MoistureWet(x), 0.1)) },
			"AsItLies now":       func() error { return price(AsItLies(1, 0.1, measure.MoistureWet(x))) },
			"HourlyOverhead":     func() error { return price(HourlyOverhead(c, 1000)) },
			"HourlyOverhead h":   func() error { return price(HourlyOverhead(1000, measure.Hours(x))) },
			"StudioFormula a":    func() error { return price(StudioFormula(c, 1, 0, 0)) },
			"StudioFormula b":    func() error { return price(StudioFormula(1, c, 0, 0)) },
			"StudioFormula c":    func() error { return price(StudioFormula(1, 1, s, 0)) },
			"StudioFormula d":    func() error { return price(StudioFormula(1, 1, 0, s)) },
			"FloorWithSeconds a": func() error { return price(FloorWithSeconds(c, 1, 0, 0)) },
			"FloorWithSeconds b": func() error { return price(FloorWithSeconds(1, measure.Sheets(x), 0, 0)) },
			"FloorWithSeconds c": func() error { return price(FloorWithSeconds(1, 1, measure.Sheets(x), 0)) },
			"FloorWithSeconds d": func() error { return price(FloorWithSeconds(1, 1, 0, measure.Sheets(x))) },
			"RunCharge set-up":   func() error { return price(RunCharge(c, 1, 1, 1)) },
			"RunCharge sheet":    func() error { return price(RunCharge(1, c, 1, 1)) },
			"RunCharge sheets":   func() error { return price(RunCharge(1, 1, measure.Sheets(x), 1)) },
			"RunCharge least":    func() error { return price(RunCharge(1, 1, 1, measure.Sheets(x))) },
			"LeastRun set-up":    func() error { _, err := LeastRun(c, 1, 2); return err },
			"LeastRun sheet":     func() error { _, err := LeastRun(1, c, 2); return err },
			"LeastRun price":     func() error { _, err := LeastRun(1, 1, c); return err },
			"MinutesEach hours":  func() error { _, err := MinutesEach(measure.Hours(x), 1, 1); return err },
			"MinutesEach sheets": func() error { _, err := MinutesEach(1, 1, measure.Sheets(x)); return err },
		} {
			if err := call(); err == nil || fault.KindOf(err) != fault.KindOutOfRange || !strings.Contains(err.Error(), "between") {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
	for name, b := range map[string]Bill{
		"nothing made":      {Currency: "EUR", Good: 1},
		"none good":         {Currency: "EUR", Made: 5},
		"more good":         {Currency: "EUR", Made: 5, Good: 6},
		"too many retree":   {Currency: "EUR", Made: 5, Good: 3, Retree: 3},
		"too many broken":   {Currency: "EUR", Made: 5, Good: 3, Retree: 2, Broken: 1},
		"unknown currency":  {Currency: "ZZZ", Items: []Item{{What: "a", Cost: 1}}, Made: 5, Good: 3},
		"a currency of one": {Currency: "€", Made: 5, Good: 3},
	} {
		if d, err := Break(b); err == nil || d.Total != 0 {
			t.Errorf("%s: %+v", name, d)
		}
	}
	if _, err := Split(-1, 3); fault.KindOf(err) != fault.KindOutOfRange {
		t.Errorf("split of less than nothing: %v", err)
	}
	if _, err := MinutesEach(1, 0, 1); fault.KindOf(err) != fault.KindOutOfRange {
		t.Errorf("nobody at work: %v", err)
	}
}
