package studio_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// diary makes entries of bodies, a minute apart.
func diary(bodies ...studio.Body) (list []studio.Event) {
	for i, b := range bodies {
		list = append(list, studio.NewEvent(fmt.Sprintf("e%03d", i), start.Add(time.Duration(i)*time.Minute), b))
	}
	return list
}

func couch(post, n int) (list []studio.Body) {
	for range n {
		list = append(list, studio.Post{Post: post, Pulled: 1})
	}
	return list
}

// Counted sheet by sheet, or on a card by posts with the recharges' places: the
// run is the same to the last sheet.
func TestLiveAndCardAreOneRun(t *testing.T) {
	t.Parallel()
	m := planned(t, func(*plan.Request) {})
	stock := m.Plan.Figures["recharge_stock_ml"].Value
	feed := func(after int) studio.Body { return studio.Recharge{AfterSheet: &after, StockML: stock} }
	test := studio.TestWeighed{Sheets: 3, Grams: 41, RHPct: 50}

	live := append(couch(1, 3), test)
	live = append(append(live, couch(1, 5)...), studio.Post{Post: 1, KissedOff: 1}, feed(7))
	live = append(append(live, couch(1, 3)...), feed(10))
	live = append(live, couch(2, 10)...)
	card := []studio.Body{test, feed(10), feed(7), studio.Post{Post: 1, Pulled: 11, KissedOff: 1}, studio.Post{Post: 2, Pulled: 10}}

	a := must[studio.Vat](t)(studio.Follow(m, diary(live...)))
	b := must[studio.Vat](t)(studio.Follow(m, diary(card...)))
	if a.Run.Pulled() != 20 || b.Run.Pulled() != 20 || a.Stopped != nil || b.Stopped != nil {
		t.Fatalf("followed %d and %d sheets: %v, %v", a.Run.Pulled(), b.Run.Pulled(), a.Stopped, b.Stopped)
	}
	for n := 1; n <= 20; n++ {
		x, err := a.Run.Sheet(n)
		y, err2 := b.Run.Sheet(n)
		if err != nil || err2 != nil || math.Abs(float64(x.Value/y.Value)-1) > 1e-12 {
			t.Errorf("sheet %d: live %v, card %v", n, x, y)
		}
	}
	if a.Fed != 10 || a.Post != 2 {
		t.Errorf("fed after %d sheets, post %d", a.Fed, a.Post)
	}
}

// Recharges that a card gives for a post lie evenly over it.
func TestRechargesOfAPost(t *testing.T) {
	t.Parallel()
	m := planned(t, func(*plan.Request) {})
	v := must[studio.Vat](t)(studio.Follow(m, diary(studio.Post{Post: 1, Pulled: 12}, studio.Post{Post: 2, Pulled: 12},
		studio.Recharge{Post: new(2), Times: 3, StockML: 3000})))
	if v.Fed != 20 || v.Live { // after 12, 16 and 20
		t.Errorf("last fed after %d, live %v", v.Fed, v.Live)
	}
}

// A followed run teaches the depth once, by all that was weighed; of three sheets
// weighed at the start by what normal against normal leaves of them, worked
// here apart: ln m = ln F − ln V + ln h + hand, F by stock and pouring.
func TestFollowedRunTeachesDepth(t *testing.T) {
	t.Parallel()
	m := planned(t, func(*plan.Request) {})
	p, err := studio.RunPrior(m.Request, m.Plan)
	if err != nil {
		t.Fatal(err)
	}
	run := must[studio.Vat](t)(studio.Follow(m, diary(couch(1, 3)...)))
	grams := 0.0 // of what the first three are expected to weigh, 15 % more
	for n := 1; n <= 3; n++ {
		s, err := run.Run.Sheet(n)
		if err != nil {
			t.Fatal(err)
		}
		grams += 1.15 * float64(s.Value) * float64(p.Area)
	}
	events := diary(append(couch(1, 3), studio.TestWeighed{Sheets: 3, Grams: grams, BoneDry: true})...)
	o, ok := seen(t, m, studio.Replay(m, events), "effective depth")
	want := math.Sqrt(p.StockDoubt*p.StockDoubt + p.Pour*p.Pour + p.LevelDoubts*p.LevelDoubts + p.Hand*p.Hand/3 + p.Drying*p.Drying + math.Pow(0.1/grams, 2))
	if !ok || math.Abs(o.Value/(1.15*float64(p.Depth))-1) > 0.01 || math.Abs(o.SD/want-1) > 0.05 {
		t.Errorf("depth %.3f mm with %.4f, want %.3f with %.4f (%v)", o.Value, o.SD, 1.15*float64(p.Depth), want, ok)
	}

	// A correction runs it anew; what was weighed from the press as well counts
	// within the one observation.
	fixed := append(events, studio.Correction("c", start.Add(time.Hour), events[3].ID, studio.TestWeighed{Sheets: 3, Grams: grams / 1.15, BoneDry: true}))
	o, _ = seen(t, m, studio.Replay(m, fixed), "effective depth")
	if math.Abs(o.Value/float64(p.Depth)-1) > 0.01 {
		t.Errorf("corrected, depth is %.3f, want %.3f", o.Value, p.Depth)
	}
	n := 0
	for _, o := range studio.Learn(m, studio.Replay(m, append(events, diary(append(couch(1, 4), studio.WeighedAtParting{Post: 1, Sheets: 3, Grams: 3 * grams})...)[4:]...))) {
		if strings.HasPrefix(o.Belief, "effective depth") {
			n++
		}
	}
	if n != 1 {
		t.Errorf("the depth was taught %d times", n)
	}
}

// A level read off the mark after forty sheets teaches how wet they were couched:
// what is missing of the water, over what they weigh.
func TestLevelTeachesCouchedSolids(t *testing.T) {
	t.Parallel()
	m := planned(t, func(*plan.Request) {})
	p, err := studio.RunPrior(m.Request, m.Plan)
	if err != nil {
		t.Fatal(err)
	}
	v := must[studio.Vat](t)(studio.Follow(m, diary(couch(1, 40)...)))
	_, water := v.Run.Vat()
	lost := float64(p.Vat - water)      // by what is believed
	level := float64(p.Vat) - 1.15*lost // near enough for the straight line that the filter takes
	o, ok := seen(t, m, studio.Replay(m, diary(append(couch(1, 40), studio.VatChanged{LevelL: &level})...)), "couched solids")
	carried := 1.15 * (1/float64(p.Couched) - 1)
	if want := 1 / (1 + carried); !ok || math.Abs(o.Value/want-1) > 0.02 {
		t.Errorf("couched solids %.4f, want %.4f (%v)", o.Value, want, ok)
	}
}

// However sheets are counted and kissed off, the run has as many as the record.
func TestFollowsTheCount(t *testing.T) {
	t.Parallel()
	m := planned(t, func(*plan.Request) {})
	rapid.Check(t, func(r *rapid.T) {
		var list []studio.Body
		in := map[int]int{}
		for range rapid.IntRange(1, 20).Draw(r, "entries") {
			post := rapid.IntRange(1, 3).Draw(r, "post")
			pulled := rapid.IntRange(0, 4).Draw(r, "pulled")
			kissed := rapid.IntRange(0, in[post]+pulled).Draw(r, "kissed")
			if pulled+kissed == 0 {
				continue
			}
			in[post] += pulled - kissed
			list = append(list, studio.Post{Post: post, Pulled: pulled, KissedOff: kissed})
		}
		events := diary(list...)
		v, err := studio.Follow(m, events)
		if err != nil {
			r.Fatal(err)
		}
		s := studio.Replay(m, events)
		if len(v.Posts) != s.Couched {
			r.Fatalf("the run has %d sheets, the record %d", len(v.Posts), s.Couched)
		}
		for _, p := range s.Posts {
			n := 0
			for _, q := range v.Posts {
				if q == p.Post {
					n++
				}
			}
			if n != p.Couched {
				r.Fatalf("post %d has %d sheets, the record %d", p.Post, n, p.Couched)
			}
		}
	})
}

// What cannot be followed says why.
func TestNotFollowed(t *testing.T) {
	t.Parallel()
	m := planned(t, func(r *plan.Request) { r.Paper.Forming = "poured" })
	if _, err := studio.Follow(m, nil); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("poured: %v", err)
	}
	m.Request.Paper.Forming, m.Plan = "", plan.Plan{}
	if _, err := studio.Follow(m, nil); fault.KindOf(err) != fault.KindInfeasible {
		t.Errorf("without a plan: %v", err)
	}
	for _, b := range []studio.Body{studio.VatChanged{}, studio.VatChanged{WaterL: math.Inf(1)}, studio.VatStrained{TakenL: -1, Grams: 2}, studio.VatChanged{TempC: new(90.0)}} {
		e := studio.NewEvent("x", start, b)
		if _, err := studio.ReadBody(e.Kind, e.Body); err == nil {
			t.Errorf("%+v was taken", b)
		}
	}
}
