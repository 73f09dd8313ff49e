package finishing

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func TestNoSheetIsLost(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		sheets, quire, ream := rapid.IntRange(0, 10000).Draw(t, "sheets"), rapid.IntRange(10, 50).Draw(t, "quire"), rapid.IntRange(5, 50).Draw(t, "ream")
		c, err := Count(sheets, quire, ream)
		if err != nil || (c.Reams*ream+c.Quires)*quire+c.Sheets != sheets || c.Quires >= ream || c.Sheets >= quire {
			t.Fatalf("%d sheets are %+v, %v", sheets, c, err)
		}
	})
}

func TestPilesAndPackets(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		sheets, caliper, highest := rapid.IntRange(1, 5000).Draw(t, "sheets"), rapid.Float64Range(0.05, 1).Draw(t, "caliper"), rapid.Float64Range(10, 300).Draw(t, "highest")
		n, err := Piles(measure.Sheets(sheets), measure.Length(caliper), measure.Length(highest))
		if err != nil {
			t.Fatal(err)
		}
		if each := math.Ceil(float64(sheets) / float64(n)); each*caliper > highest+1e-6 {
			t.Fatalf("%d piles of %g sheets are too high", n, each)
		}
		if n > 1 && math.Ceil(float64(sheets)/float64(n-1))*caliper <= highest-1e-6 {
			t.Fatalf("%d piles, one fewer would do", n)
		}
		each, limit, quire := rapid.Float64Range(1, 100).Draw(t, "each"), rapid.Float64Range(6, 25).Draw(t, "limit"), rapid.IntRange(1, 50).Draw(t, "quire")
		in, err := PacketSheets(measure.Mass(each), measure.Kilograms(limit), quire)
		if err != nil {
			t.Fatal(err)
		}
		if kg := float64(in) * each / 1000; kg > limit+1e-6 || kg+float64(quire)*each/1000 <= limit-1e-6 {
			t.Fatalf("%g sheets weigh %g kg of %g", in, kg, limit)
		}
	})
	if _, err := PacketSheets(100, 2, 25); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a quire of 2.5 kg in packets of 2: %v", err)
	}
}

func TestWrapCovers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		long, height := rapid.Float64Range(100, 1000).Draw(t, "long"), rapid.Float64Range(5, 300).Draw(t, "height")
		short := rapid.Float64Range(50, long).Draw(t, "short")
		l, w, err := Wrap(measure.Length(long), measure.Length(short), measure.Length(height), 20)
		if err != nil || float64(l*w) <= 2*(long*short+long*height+short*height) {
			t.Fatalf("a wrapper of %g × %g mm, %v", l, w, err)
		}
	})
}

func TestFlattening(t *testing.T) {
	t.Parallel()
	if low, mid, high, key := Flattening(); !(0 < low && low < mid && mid < high) || key == "" {
		t.Errorf("flattening: %g %g %g %q", low, mid, high, key)
	}
	for hours, want := range map[measure.Hours]int{0: 0, 24: 0, 25: 1, 72: 2} {
		if n, err := Reshuffles(hours); err != nil || n != want {
			t.Errorf("%g h: %d reshuffles, %v", hours, n, err)
		}
	}
}

func TestBadNumbersAreFaults(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e12} {
		l := measure.Length(x)
		_, _, long := Wrap(l, 200, 20, 10)
		_, _, short := Wrap(300, l, 20, 10)
		_, _, height := Wrap(300, 200, l, 10)
		_, _, overlap := Wrap(300, 200, 20, l)
		for name, err := range map[string]error{
			"area":       second(WeightFor(measure.Area(x), 2)),
			"pressure":   second(WeightFor(0.1, measure.Pressure(x))),
			"sheets":     second(Piles(measure.Sheets(x), 0.2, 50)),
			"caliper":    second(Piles(100, l, 50)),
			"highest":    second(Piles(100, 0.2, l)),
			"reshuffles": second(Reshuffles(measure.Hours(x))),
			"sort":       second(SortTime(measure.Sheets(x), 30)),
			"seconds":    second(SortTime(10, measure.Number(x))),
			"each":       second(PacketSheets(measure.Mass(x), 10, 25)),
			"limit":      second(PacketSheets(10, measure.Kilograms(x), 25)),
			"long":       long,
			"short":      short,
			"height":     height,
			"overlap":    overlap,
		} {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
	for _, bad := range [][3]int{{-1, 24, 20}, {10, 9, 20}, {10, 24, 4}} {
		if c, err := Count(bad[0], bad[1], bad[2]); fault.KindOf(err) != fault.KindOutOfRange || c != (Counted{}) {
			t.Errorf("%v: %+v, %v", bad, c, err)
		}
	}
}

// second drops the value of a result and keeps its error; a value beside an
// error must be zero.
func second[T ~float64 | ~int](v T, err error) error {
	if err != nil && v != 0 {
		return fmt.Errorf("a number %v came with the fault", v)
	}
	return err
}

func ExampleWeightFor() {
	// Sheets of 30 x 40 cm to be kept flat.
	kg, _ := WeightFor(0.12, LightPressure)
	fmt.Printf("%.0f kg\n", float64(kg))
	// Output: 24 kg
}

func ExampleCount() {
	c, _ := Count(60, QuireHandmade, QuiresToReam)
	fmt.Printf("%d quires and %d sheets\n", c.Quires, c.Sheets)
	// Output: 2 quires and 12 sheets
}

func ExampleSortTime() {
	m, _ := SortTime(100, 45)
	fmt.Printf("%.0f minutes\n", float64(m))
	// Output: 75 minutes
}

func ExamplePacketSheets() {
	// Sheets of 16 g, packets of 8 kg: twenty quires of 24 weigh 7.7 kg.
	n, _ := PacketSheets(16, 8, QuireHandmade)
	fmt.Println(float64(n))
	// Output: 480
}

func ExamplePiles() {
	// 300 sheets of 0.25 mm, 50 mm to a pile: 200 sheets in each.
	n, _ := Piles(300, 0.25, 50)
	fmt.Println(n)
	// Output: 2
}

func ExampleWrap() {
	// 200 × 300 mm, 40 mm high, 30 mm overlap.
	l, w, _ := Wrap(300, 200, 40, 30)
	fmt.Printf("%.0f × %.0f mm\n", float64(l), float64(w))
	// Output: 510 × 370 mm
}
