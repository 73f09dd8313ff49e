package drying

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

var everyWay = []string{Stack, Exchange, Board, Loft, Free, Plate}

func TestPlacesOnBoardFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string, low, high float64) measure.Length {
			return measure.Length(rapid.Float64Range(low, high).Draw(t, name))
		}
		bl, bs, gap := side("board long", 700, 1500), side("board short", 700, 1500), side("gap", 0, 40)
		sl, ss := side("sheet long", 50, 700), side("sheet short", 50, 700)
		n := must(PlacesOnBoard(bl, bs, sl, ss, gap))
		if area := float64(n) * float64(sl*ss); area > float64((bl+1)*(bs+1)) {
			t.Fatalf("%d sheets cover %g of %g mm²", n, area, bl*bs)
		}
		if must(PlacesOnBoard(bs, bl, sl, ss, gap)) != n || must(PlacesOnBoard(bl, bs, ss, sl, gap)) != n {
			t.Fatal("turning the board or the sheet changes the count")
		}
		if must(PlacesOnBoard(bl+50, bs, sl, ss, gap)) < n || must(PlacesOnBoard(bl, bs, sl-10, ss, gap)) < n || must(PlacesOnBoard(bl, bs, sl, ss, 0)) < n {
			t.Fatal("a larger board, a smaller sheet or no gap takes fewer")
		}
	})
	if _, err := PlacesOnBoard(900, 600, 901, 300, 0); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a sheet longer than the board: %v", err)
	}
	if n := must(PlacesOnBoard(900, 600, 900, 600, 30)); n != 1 {
		t.Errorf("a sheet as large as the board: %d places", n)
	}
}

func TestPlacesOnLines(t *testing.T) {
	t.Parallel()
	last := 0
	for length := measure.Length(400); length < 10000; length += 130 {
		n := must(PlacesOnLines(3, length, 300, 20, SpurLeast))
		if n < last || n%(3*SpurLeast) != 0 {
			t.Errorf("lines of %g mm hold %d after %d", length, n, last)
		}
		last = n
	}
	if _, err := PlacesOnLines(1, 299, 300, 0, 1); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a line shorter than a sheet is wide: %v", err)
	}
}

func TestVisits(t *testing.T) {
	t.Parallel()
	for _, kind := range everyWay {
		for hours := measure.Hours(0); hours < 100; hours += 3.5 {
			list := must(Visits(kind, hours))
			last := measure.Hours(0)
			for _, v := range list {
				if v.At < last || v.At > hours || v.Act == "" {
					t.Errorf("%s over %g h: visit %+v after %g h", kind, hours, v, last)
				}
				last = v.At
			}
			if last != hours {
				t.Errorf("%s over %g h: the last visit is at %g h", kind, hours, last)
			}
		}
	}
	if list := must(Visits(Stack, 24)); len(list) != 2 || list[0].At < 4 || list[0].At > 6 {
		t.Errorf("a stack of 24 h is visited at %v; tighten after 4 to 6 h", list)
	}
	if list := must(Visits(Exchange, 48)); len(list) != 6 || list[0].At != 8 {
		t.Errorf("two days of changed blotters: %v; want five changes, the first after 8 h, and the end", list)
	}
	if _, err := Visits("oven", 5); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("oven: %v", err)
	}
}

func TestAttended(t *testing.T) {
	t.Parallel()
	for _, kind := range everyWay {
		rapid.Check(t, func(t *rapid.T) {
			sheets, loads := measure.Sheets(rapid.IntRange(0, 500).Draw(t, "sheets")), measure.Loads(rapid.IntRange(0, 20).Draw(t, "loads"))
			hours := measure.Hours(rapid.Float64Range(0.1, 100).Draw(t, "hours"))
			base := must(Attended(kind, sheets, loads, hours))
			if must(Attended(kind, sheets+1, loads, hours)) < base || must(Attended(kind, sheets, loads+1, hours)) < base || must(Attended(kind, sheets, loads, hours+8)) < base {
				t.Fatalf("%s: more work takes less than %g minutes", kind, base)
			}
			if kind == Plate && math.Abs(float64(base)-60*float64(loads)*float64(hours)) > 1e-9 {
				t.Fatalf("a plate is left alone: %g minutes", base)
			}
		})
	}
	// A run of 60 sheets in two loads: changed blotters take the most hands,
	// hanging the least.
	stack, exchange, loft := must(Attended(Stack, 60, 2, 24)), must(Attended(Exchange, 60, 2, 60)), must(Attended(Loft, 60, 2, 48))
	if !(loft < stack && stack < exchange) {
		t.Errorf("loft %g, stack %g, exchange %g minutes", loft, stack, exchange)
	}
	if _, err := Attended("oven", 10, 1, 5); fault.KindOf(err) != fault.KindInvalid {
		t.Errorf("oven: %v", err)
	}
}

func TestStackRefusesDrippingSheets(t *testing.T) {
	t.Parallel()
	for solids, refused := range map[measure.Solids]bool{0.08: true, 0.12: true, 0.169: true, StackSolids: false, 0.22: false, 0.35: false, 1: false} {
		if err := CheckStack(solids); (fault.KindOf(err) == fault.KindInfeasible) != refused || (err != nil) != refused {
			t.Errorf("%g: %v", solids, err)
		}
	}
}

func TestWaysRefuse(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e12} {
		l := measure.Length(x)
		_, visits := Visits(Stack, measure.Hours(x))
		for name, err := range map[string]error{
			"board long":  failure(PlacesOnBoard(l, 600, 300, 200, 0)),
			"board short": failure(PlacesOnBoard(900, l, 300, 200, 0)),
			"sheet long":  failure(PlacesOnBoard(900, 600, l, 200, 0)),
			"sheet short": failure(PlacesOnBoard(900, 600, 300, l, 0)),
			"gap":         failure(PlacesOnBoard(900, 600, 300, 200, l)),
			"line":        failure(PlacesOnLines(1, l, 300, 0, 4)),
			"line width":  failure(PlacesOnLines(1, 2000, l, 0, 4)),
			"line gap":    failure(PlacesOnLines(1, 2000, 300, l, 4)),
			"plate":       failure(PlateHours(10, 2, measure.Minutes(x))),
			"attended":    failure(Attended(Loft, measure.Sheets(x), 1, 10)),
			"loads":       failure(Attended(Loft, 10, measure.Loads(x), 10)),
			"visits":      visits,
			"solids":      CheckStack(measure.Solids(x)),
		} {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"one board":  failure(GapsOfBoards(1)),
		"no lines":   failure(PlacesOnLines(0, 2000, 300, 0, 4)),
		"spur of 9":  failure(PlacesOnLines(1, 2000, 300, 0, 9)),
		"no places":  failure(PlateHours(10, 0, 3)),
		"no per gap": failure(Places(5, 0)),
	} {
		if fault.KindOf(err) != fault.KindOutOfRange {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func ExamplePlacesOnBoard() {
	// Letter sheets on a board of 690 x 920 mm, 5 mm between them.
	n, _ := PlacesOnBoard(920, 690, 279, 216, 5)
	fmt.Println(n)
	// Output: 9
}

func ExamplePlacesOnLines() {
	// Three lines of 4 m; sheets 300 mm wide in spurs of four, 30 mm apart.
	n, _ := PlacesOnLines(3, 4000, 300, 30, 4)
	fmt.Println(n)
	// Output: 144
}

func ExamplePlateHours() {
	// 40 sheets, two at a time, four minutes each time.
	h, _ := PlateHours(40, 2, 4)
	fmt.Printf("%.1f h\n", float64(h))
	// Output: 1.3 h
}
