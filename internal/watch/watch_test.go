package watch_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/watch"
)

var start = time.Date(2030, 5, 3, 9, 0, 0, 0, time.UTC)

// made is a making of forty good sheets of A4 in 60 L, some sheets to a recharge.
func made(t testing.TB, change ...func(*plan.Request)) studio.Making {
	t.Helper()
	good, vat, jug, felts := 40, 60.0, 1000.0, 20
	r := plan.Request{
		Paper:      plan.Paper{Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, GrammageConditioned: 90, TolerancePct: new(12.0), BeatingHours: new(4.0), Drying: "stack"},
		Sheet:      plan.Sheet{LongMM: 297, ShortMM: 210},
		GoodSheets: &good,
		Studio:     plan.Studio{VatL: &vat, JugML: &jug, Felts: &felts},
	}
	for _, c := range change {
		c(&r)
	}
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	return studio.Making{ID: "m", Request: r, Plan: p}
}

// diary notes entries one after the other.
type diary struct {
	m      studio.Making
	events []studio.Event
}

func (d *diary) note(bodies ...studio.Body) {
	for _, b := range bodies {
		n := len(d.events)
		d.events = append(d.events, studio.NewEvent(fmt.Sprint("e", n), start.Add(time.Duration(n)*20*time.Second), b))
	}
}

func (d *diary) now() watch.Now { return watch.From(d.m, d.events) }

// do is what a maker does by the page: all that is due, then a sheet.
func (d *diary) do(n watch.Now) {
	for _, a := range n.Acts {
		if a.After != n.Couched {
			continue
		}
		switch a.Kind {
		case watch.Press:
			n.Post, n.InPost = n.Post+1, 0
		case watch.Recharge, watch.RunDown:
			if a.Stock > 0 {
				d.note(studio.Recharge{AfterSheet: new(n.Couched), StockML: float64(a.Stock) * 1000})
			}
			if a.Scoop > 0 || a.WaterIn != a.WaterOff {
				d.note(studio.VatChanged{StockOffL: float64(a.Scoop), WaterL: float64(a.WaterIn - a.WaterOff)})
			}
		}
	}
	d.note(studio.Post{Post: n.Post, Pulled: 1})
}

// A whole run by what comes next: every sheet is expected within the tolerance
// of the weight that is wanted, all together at it, the plan's posts are
// pressed, and it ends at the plan's sheets.
func TestWholeRun(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	presses, mean := 0, 0.0
	for {
		n := d.now()
		if n.Why != "" {
			t.Fatal(n.Why)
		}
		if n.Couched == n.Wanted {
			if last := n.Acts[len(n.Acts)-1]; last.Kind != watch.Finish || last.After != n.Wanted {
				t.Errorf("at the end stands %+v", last)
			}
			break
		}
		next := n.Ahead[0]
		mean += float64(next.Value) / float64(n.Wanted)
		if next.N != n.Couched+1 || math.Abs(float64(next.Value)/90-1) > 0.12 || next.Low >= next.Value || next.High <= next.Value {
			t.Errorf("sheet %d is expected as %+v", n.Couched+1, next)
		}
		if n.Acts[0].Kind == watch.Press && n.Acts[0].After == n.Couched {
			presses++
		}
		d.do(n)
	}
	if math.Abs(mean/90-1) > 0.01 {
		t.Errorf("the mean of the run is expected as %.3f g/m², and 90 are wanted", mean)
	}
	n := d.now()
	if want := (n.Wanted - 1) / n.PostHolds; presses != want || n.Post != want+1 {
		t.Errorf("%d posts of %d were pressed, the last is %d; %d sheets make %d full ones before the last", presses, n.PostHolds, n.Post, n.Wanted, want)
	}
}

// What was told ahead is what comes, as long as nothing is weighed.
func TestAheadComesTrue(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	d.do(d.now())
	first := d.now()
	for range 20 {
		d.do(d.now())
	}
	then := d.now()
	told := first.Ahead[20]
	if got := then.Ahead[0]; got.N != told.N || math.Abs(float64(got.Value/told.Value)-1) > 1e-3 {
		t.Errorf("sheet %d was told as %.3f g/m² twenty sheets before and is %.3f", told.N, told.Value, got.Value)
	}
}

// The first sheets are weighed; ten per cent heavy, the next recharge is less
// and the words say so.
func TestFirstSheetsMoveTheDose(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	for range 3 {
		d.do(d.now())
	}
	before := d.now()
	if a := before.Acts[0]; a.Kind != watch.Weigh || a.After != 3 {
		t.Fatalf("after three sheets comes %+v", a)
	}
	stock := func(n watch.Now) float64 {
		for _, a := range n.Acts {
			if a.Kind == watch.Recharge {
				return float64(a.Stock)
			}
		}
		return 0
	}
	each := d.m.Plan.Figures["conditioned_mass_per_sheet_g"].Value
	d.note(studio.TestWeighed{Sheets: 3, Grams: 3 * each * 1.1, RHPct: 50})
	after := d.now()
	if after.Acts[0].Kind == watch.Weigh || stock(after) >= stock(before) {
		t.Errorf("after weighing comes %+v; stock before %.3f, after %.3f L", after.Acts[0], stock(before), stock(after))
	}
}

// A sheet kissed off goes back: nothing is done twice, and it is counted.
func TestKissedOff(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	for range 4 {
		d.do(d.now())
	}
	was := d.now()
	d.do(was)
	d.note(studio.Post{Post: was.Post, KissedOff: 1})
	n := d.now()
	if n.Couched != was.Couched || n.KissedOff != 1 || math.Abs(float64(n.Ahead[0].Value/was.Ahead[0].Value)-1) > 1e-9 {
		t.Errorf("before %d couched and next %v, after %d and %v", was.Couched, was.Ahead[0], n.Couched, n.Ahead[0])
	}
}

// A weighing out of all reason is asked about, and believed once the maker
// stands by it.
func TestAsks(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	for range 6 {
		d.do(d.now())
	}
	d.note(studio.TestWeighed{Sheets: 1, From: 6, Grams: 30, RHPct: 50})
	n := d.now()
	if len(n.Asks) != 1 || n.Asks[0].EventID != d.events[len(d.events)-1].ID || n.Asks[0].Off < 2 {
		t.Fatalf("asked: %+v", n.Asks)
	}
	d.events = append(d.events, studio.Correction("c", start.Add(time.Hour), n.Asks[0].EventID, studio.TestWeighed{Sheets: 1, From: 6, Grams: 30, RHPct: 50, Sure: true}))
	if n := d.now(); len(n.Asks) != 0 || n.Last.Value < 100 {
		t.Errorf("stood by: %+v, the last sheet %+v", n.Asks, n.Last)
	}
}

// A lump that was noted and not poured is told from the weighings after it.
func TestMissed(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t, func(r *plan.Request) { r.Paper.TolerancePct = new(20.0) })}
	each := d.m.Plan.Figures["conditioned_mass_per_sheet_g"].Value
	var lump string
	for range 3 {
		d.do(d.now())
	}
	d.note(studio.TestWeighed{Sheets: 3, Grams: 3 * each, RHPct: 50})
	for lump == "" {
		d.do(d.now())
		for _, e := range d.events {
			if e.Kind == studio.KindRecharge {
				lump = e.ID
			}
		}
	}
	for range 2 {
		d.do(d.now())
	}
	n := d.now()
	as := d.m.Plan.Figures["recharge_stock_ml"].Value / 1000 // it stayed in the pail: F/(F + s·stock) of what is reckoned
	p, err := studio.RunPrior(d.m.Request, d.m.Plan)
	if err != nil {
		t.Fatal(err)
	}
	full := float64(n.Vat.Fibre)
	light := (full - as*float64(p.Stock)) / full
	d.note(studio.TestWeighed{Sheets: 3, From: n.Couched - 2, Grams: 3 * each * float64(n.Last.Value) / 90 * light, RHPct: 50, Sure: true})
	if n = d.now(); n.Missed == nil || n.Missed.EventID != lump {
		t.Errorf("missed: %+v, the last lump is %s", n.Missed, lump)
	}
}

// Poured sheets are counted, not followed; the posts are told all the same.
func TestPouredIsCounted(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t, func(r *plan.Request) { r.Paper.Forming = "poured"; r.Paper.PourG = new(5.0) })}
	d.note(studio.Post{Post: 1, Pulled: 1})
	if n := d.now(); n.Why == "" || n.Couched != 1 || len(n.Ahead) != 0 || n.Acts[len(n.Acts)-1].Kind != watch.Finish {
		t.Errorf("poured: %+v", n)
	}
}

func BenchmarkNow(b *testing.B) {
	d := diary{m: made(b)}
	for range 40 {
		d.do(d.now())
	}
	for b.Loop() {
		d.now()
	}
}
