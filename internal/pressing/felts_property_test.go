package pressing

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

func TestPostSheetsAtMostHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := PostLimits{
			Felts:    rapid.IntRange(2, 100).Draw(t, "felts"),
			Daylight: measure.Length(rapid.Float64Range(50, 500).Draw(t, "daylight")),
			Layer:    measure.Length(rapid.Float64Range(2, 12).Draw(t, "layer")),
			Lift:     measure.Kilograms(rapid.Float64Range(10, 90).Draw(t, "lift")),
			Weight:   measure.Kilograms(rapid.Float64Range(0.2, 4).Draw(t, "weight")),
		}
		n, limit, err := PostSheetsAtMost(l)
		if err != nil {
			t.Fatal(err)
		}
		fits := func(sheets float64) map[string]bool {
			layers := sheets + 1
			return map[string]bool{"felts": layers <= float64(l.Felts), "daylight": layers*float64(l.Layer) <= float64(l.Daylight)+1e-6, "lift": layers*float64(l.Weight) <= float64(l.Lift)+1e-6}
		}
		for what, ok := range fits(float64(n)) {
			if !ok {
				t.Fatalf("%g sheets break %s", n, what)
			}
		}
		if fits(float64(n) + 1)[limit] {
			t.Fatalf("%g sheets, said to be limited by %s, leave room for one more", n, limit)
		}
	})
}

// waits counts how long the vat stands still for want of felts over some
// posts, forming sheet by sheet: a post of n takes its first felt and one for
// each sheet, and gives them back when it has been pressed and parted.
func waits(felts, post int, each, press float64, posts int) (minutes float64) {
	now, free, back := 0.0, felts, math.Inf(1)
	for range posts {
		take := func() {
			if now >= back-1e-9 {
				free, back = free+post+1, math.Inf(1)
			}
			if free == 0 { // stand and wait for the press
				minutes += back - now
				now, free, back = back, post+1, math.Inf(1)
			}
			free--
		}
		take()
		for range post {
			now += each
			take()
		}
		if now < back && !math.IsInf(back, 1) { // the press is still taken
			minutes += back - now
			now, free = back, free+post+1
		}
		back = now + press
	}
	return minutes
}

func TestFeltsToKeepGoing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		post := rapid.IntRange(2, 60).Draw(t, "post")
		each := rapid.Float64Range(0.2, 3).Draw(t, "minutes a sheet")
		press := rapid.Float64Range(0.05, 0.95).Draw(t, "share of the post's time") * each * float64(post)
		felts, err := FeltsToKeepGoing(measure.Sheets(post), measure.Number(60/each), measure.Minutes(press))
		if err != nil {
			t.Fatal(err)
		}
		if w := waits(felts, post, each, press, 5); w > 1e-6 {
			t.Fatalf("%d felts let the vat wait %g minutes", felts, w)
		}
		if w := waits(felts-2, post, each, press, 5); w <= 0 {
			t.Fatalf("two felts fewer than %d do as well", felts)
		}
	})
	if _, err := FeltsToKeepGoing(10, 30, 21); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("a press slower than the vat: %v", err)
	}
	if n, err := FeltsToKeepGoing(10, 30, 0); err != nil || n != 11 {
		t.Errorf("no pressing at all wants %d felts, %v", n, err)
	}
}

// two-thousand-sheets-2016: 2,000 sheets in 9 h 15 are 16.7 s a sheet, 40 posts
// of 50, 13.9 minutes to a post. The crew formed 50 in 9 minutes at its best,
// which leaves 4.9 to press and part. 52 felts would have stopped the vat, the
// crew's 72 did not.
func TestCrewKeptGoing(t *testing.T) {
	t.Parallel()
	const hours = 9.25
	if each := hours * 3600 / 2000; math.Abs(each-16.7) > 0.06 {
		t.Errorf("%.2f s a sheet", each)
	}
	posts, err := Posts(2000, 50)
	if err != nil || posts != 40 {
		t.Errorf("%g posts, %v", posts, err)
	}
	cycle := hours * 60 / float64(posts)
	if math.Abs(cycle-13.9) > 0.05 {
		t.Errorf("%.2f min to a post", cycle)
	}
	press := cycle - 9
	felts, err := FeltsToKeepGoing(50, 2000/hours, measure.Minutes(press))
	if err != nil || felts != 70 { // by hand: 51, and 17.6 sheets meanwhile on 19
		t.Errorf("%d felts keep it going, %v; want 70: over 52 and not over 72", felts, err)
	}
	if w := waits(72, 50, hours*60/2000, press, 40); w > 0 {
		t.Errorf("with 72 felts the vat waits %g minutes", w)
	}
	w := waits(52, 50, hours*60/2000, press, 40)
	t.Logf("with 52 felts the vat waits %.0f minutes over the day", w)
	if w < 60 {
		t.Errorf("with 52 felts the vat waits %g minutes; want over an hour", w)
	}
	if n, by, err := PostSheetsAtMost(PostLimits{Felts: 52}); err != nil || n < 50 || by != "felts" {
		t.Errorf("52 felts hold %g sheets by %s, %v", n, by, err)
	}
}

// wet-pressing-2001: 27 sheets in 230 mm, a felt with its sheet at most 8.5 mm;
// up to 90 kg, which nobody lifts.
func TestProductionPost(t *testing.T) {
	t.Parallel()
	l := PostLimits{Daylight: 230, Layer: 8.2}
	if n, by, err := PostSheetsAtMost(l); err != nil || n != 27 || by != "daylight" {
		t.Errorf("%g sheets by %s, %v; want 27 by daylight", n, by, err)
	}
	l.Layer = LayerThick
	if n, _, err := PostSheetsAtMost(l); err != nil || n < 25 || n > 27 {
		t.Errorf("at the most a layer may be, %g sheets, %v; want just under 27", n, err)
	}
	l.Lift, l.Weight = LiftAlone, 3.3
	if n, by, err := PostSheetsAtMost(l); err != nil || n != 5 || by != "lift" {
		t.Errorf("%g sheets by %s, %v; one person lifts 5 such layers with their felts", n, by, err)
	}
}

func TestPostLimitsRefuse(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		l    PostLimits
		want fault.Kind
	}{
		"nothing said":      {PostLimits{}, fault.KindInvalid},
		"one felt":          {PostLimits{Felts: 1}, fault.KindInfeasible},
		"negative felts":    {PostLimits{Felts: -3}, fault.KindOutOfRange},
		"layers of nothing": {PostLimits{Daylight: 200}, fault.KindOutOfRange},
		"no weight":         {PostLimits{Lift: 23}, fault.KindOutOfRange},
		"no number":         {PostLimits{Daylight: measure.Length(math.NaN()), Layer: 8}, fault.KindOutOfRange},
		"infinite lift":     {PostLimits{Lift: measure.Kilograms(math.Inf(1)), Weight: 2}, fault.KindOutOfRange},
		"too low":           {PostLimits{Daylight: 12, Layer: 8}, fault.KindInfeasible},
	} {
		if n, _, err := PostSheetsAtMost(c.l); fault.KindOf(err) != c.want || n != 0 {
			t.Errorf("%s: %g, %v", name, n, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e9} {
		for name, err := range map[string]error{
			"post":    second(FeltsToKeepGoing(measure.Sheets(x), 30, 10)),
			"rate":    second(FeltsToKeepGoing(10, measure.Number(x), 10)),
			"minutes": second(FeltsToKeepGoing(10, 30, measure.Minutes(x))),
		} {
			if fault.KindOf(err) != fault.KindOutOfRange {
				t.Errorf("%s of %g: %v", name, x, err)
			}
		}
	}
}

func ExamplePostSheetsAtMost() {
	n, by, _ := PostSheetsAtMost(PostLimits{Felts: 40, Daylight: 150, Layer: 6, Lift: 23, Weight: 0.8})
	fmt.Printf("%.0f sheets, for the %s\n", float64(n), by)
	// Output: 24 sheets, for the daylight
}

func ExampleFeltsToKeepGoing() {
	// Posts of 20 at 30 sheets an hour, 20 minutes to press and part: 21 felts
	// in the press, and ten sheets on eleven felts meanwhile.
	n, _ := FeltsToKeepGoing(20, 30, 20)
	fmt.Println(n)
	// Output: 32
}
