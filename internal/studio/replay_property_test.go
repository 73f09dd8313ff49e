package studio_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"vatside/internal/beating"
	"vatside/internal/sizing"
	"vatside/internal/studio"
)

// kinds are all kinds of event that are no correction.
var kinds = append([]studio.Kind{studio.KindPost, studio.KindRecharge, studio.KindTest, studio.KindParting, studio.KindDry, studio.KindSize,
	studio.KindGraded, studio.KindStepTime, studio.KindStockLeft, studio.KindFibre, studio.KindRemark, studio.KindClosed}, listed...)

// listed are the kinds of which a state keeps every one as it was said.
var listed = []studio.Kind{studio.KindBeat, studio.KindCaliper, studio.KindDiagonals, studio.KindSized, studio.KindCobb, studio.KindInk,
	studio.KindSoaked, studio.KindHand, studio.KindSteeped, studio.KindMoisture, studio.KindAdded, studio.KindPressed, studio.KindDried,
	studio.KindSpoilt, studio.KindWater, studio.KindPhoto}

// drawEvents draws events of a making with corrections of events and of
// corrections, each with a time of its own. Numbers are whole, so that sums do
// not depend on the order of adding.
func drawEvents(t *rapid.T) []studio.Event {
	n := rapid.IntRange(1, 40).Draw(t, "events")
	minutes := rapid.Permutation(seq(n)).Draw(t, "minutes")
	var list []studio.Event
	for i := range n {
		id := fmt.Sprintf("e%02d", i)
		at := start.UTC().Add(time.Duration(minutes[i]) * time.Minute)
		if len(list) > 0 && rapid.IntRange(0, 2).Draw(t, "corrects") == 0 {
			target := rapid.SampledFrom(list).Draw(t, "target")
			if rapid.Bool().Draw(t, "void") {
				list = append(list, studio.Void(id, at, target.ID))
			} else {
				list = append(list, studio.Correction(id, at, target.ID, drawBody(t, rootKind(list, target))))
			}
			continue
		}
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		list = append(list, studio.NewEvent(id, at, drawBody(t, kind)))
	}
	return list
}

func seq(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func rootKind(list []studio.Event, e studio.Event) studio.Kind {
	for e.Kind == studio.KindCorrection {
		e = list[slices.IndexFunc(list, func(o studio.Event) bool { return o.ID == e.Corrects })]
	}
	return e.Kind
}

func drawBody(t *rapid.T, kind studio.Kind) studio.Body {
	n := func(lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, "n") }
	switch kind {
	case studio.KindPost:
		return studio.Post{Post: n(1, 3), Pulled: n(1, 25), KissedOff: n(0, 3)}
	case studio.KindRecharge:
		return studio.Recharge{Times: n(0, 3), StockML: float64(n(1, 2000))}
	case studio.KindDry:
		return studio.WeighedDry{Sheets: n(1, 60), Grams: float64(n(1, 900)), RHPct: float64(n(0, 100))}
	case studio.KindGraded:
		return studio.Graded{Good: n(1, 20), Retree: n(0, 3), Broken: n(0, 3), Broke: n(0, 3)}
	case studio.KindStepTime:
		return studio.StepTime{Step: rapid.SampledFrom([]string{"form", "press"}).Draw(t, "step"), Minutes: float64(n(0, 90))}
	case studio.KindStockLeft:
		return studio.StockLeft{Litres: float64(n(0, 20))}
	case studio.KindRemark:
		return studio.Remark{Text: fmt.Sprintf("remark %d", n(0, 9))}
	case studio.KindTest:
		return studio.TestWeighed{Sheets: n(1, 5), Grams: float64(n(1, 90))}
	case studio.KindParting:
		return studio.WeighedAtParting{Post: n(0, 3), Sheets: n(1, 20), Grams: float64(n(1, 900))}
	case studio.KindSize:
		return studio.DrySize{LongMM: float64(n(200, 420)), ShortMM: float64(n(100, 300))}
	case studio.KindFibre:
		return studio.FibreWeighed{Grams: float64(n(0, 2000))}
	}
	if slices.Contains(listed, kind) {
		return drawMeasured(t, kind)
	}
	return studio.Closed{}
}

// drawMeasured draws what is measured besides the card's own blanks.
func drawMeasured(t *rapid.T, kind studio.Kind) studio.Body {
	n := func(lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, "n")) }
	word := rapid.SampledFrom([]string{"", "2", "soft", "like a drum"})
	switch kind {
	case studio.KindBeat:
		b := studio.BeatReading{Load: int(n(1, 3)), Hours: n(0, 24), Roll: word.Draw(t, "roll"), Scale: beating.Scale(int(n(0, 2)))}
		if v := n(30, 80); b.Roll == "" || rapid.Bool().Draw(t, "read") {
			b.Value = &v
		}
		return b
	case studio.KindCaliper:
		return studio.Caliper{ThicknessMM: []float64{n(1, 9) / 16, n(1, 9) / 16}}
	case studio.KindDiagonals:
		return studio.Diagonals{FirstMM: n(400, 600), SecondMM: n(400, 600), LongMM: n(300, 420), ShortMM: n(200, 300)}
	case studio.KindSized:
		return studio.Sized{DryG: n(1, 50), WetG: n(50, 150), BathPct: n(0, 10)}
	case studio.KindCobb:
		return studio.Cobb{DryG: n(1, 5), WetG: n(5, 9), AreaCM2: 100, Seconds: n(1, 120)}
	case studio.KindInk:
		return studio.InkStrip{Says: sizing.InkStrip(int(n(1, 6)))}
	case studio.KindSoaked:
		return studio.Soaked{BeforeLongMM: 420, BeforeShortMM: 297, WetLongMM: n(420, 430), WetShortMM: n(297, 305), AfterLongMM: n(0, 420), AfterShortMM: n(0, 297)}
	}
	return drawBench(t, kind, n, word.Draw(t, "word"))
}

// drawBench draws what is done besides pulling sheets.
func drawBench(t *rapid.T, kind studio.Kind, n func(lo, hi int) float64, word string) studio.Body {
	switch kind {
	case studio.KindSteeped:
		return studio.Steeped{Hours: n(1, 48)}
	case studio.KindMoisture:
		return studio.MoistureCheck{WetG: n(50, 100), DryG: n(20, 50)}
	case studio.KindAdded:
		return studio.Added{What: "size" + word, Grams: n(0, 50), ML: n(1, 500), When: word}
	case studio.KindPressed:
		return studio.Pressed{Post: int(n(0, 3)), ForceKN: n(0, 200), Minutes: n(1, 60)}
	case studio.KindDried:
		return studio.Dried{Hours: n(1, 200), Where: word, AirC: n(0, 30), RHPct: n(0, 90)}
	case studio.KindSpoilt:
		return studio.Spoilt{Sheets: int(n(1, 9)), Why: "torn" + word}
	case studio.KindWater:
		return studio.WaterUsed{Litres: n(1, 300)}
	case studio.KindPhoto:
		return studio.Photo{Hash: strings.Repeat("0a", 32), Format: "JPEG", Width: int(n(1, 9)), Height: int(n(1, 9)), Caption: word}
	}
	return studio.HandSays{Handle: "firm", Rattle: word, Remark: word}
}

// tally is what the model below reads off events.
type tally struct {
	Couched, Recharged, Dry, Good int
	RechargeML, Form, Left        float64
	Tested, Parted, Sizes         int
	Fibre                         float64
	Remarks                       []string
	Listed                        map[studio.Kind][]string // as it stands in the events
	Closed                        bool
}

// model works the same out another way: it takes corrections off the end of
// the maker's order one by one, each changing what it points at in place, the
// corrections of corrections before the corrections they point at.
func model(events []studio.Event) tally {
	list := slices.Clone(events)
	slices.SortFunc(list, func(a, b studio.Event) int { return a.At.Compare(b.At) })
	depth := func(e studio.Event) (d int) {
		for ; e.Kind == studio.KindCorrection; d++ {
			e = list[slices.IndexFunc(list, func(o studio.Event) bool { return o.ID == e.Corrects })]
		}
		return d
	}
	fixes := slices.DeleteFunc(slices.Clone(list), func(e studio.Event) bool { return e.Kind != studio.KindCorrection })
	slices.SortStableFunc(fixes, func(a, b studio.Event) int {
		return cmp.Or(cmp.Compare(depth(b), depth(a)), a.At.Compare(b.At))
	})
	says := map[string]string{}
	gone := map[string]bool{}
	for _, e := range list {
		says[e.ID] = string(e.Body)
	}
	for _, f := range fixes {
		if gone[f.ID] {
			continue
		}
		if says[f.ID] == `{"void":true}` {
			gone[f.Corrects] = true
		} else {
			gone[f.Corrects], says[f.Corrects] = false, says[f.ID]
		}
	}
	var sum tally
	for _, e := range list {
		if e.Kind == studio.KindCorrection || gone[e.ID] {
			continue
		}
		sum.add(e.Kind, says[e.ID])
	}
	return sum
}

func (s *tally) add(kind studio.Kind, body string) {
	var b struct {
		Pulled, Times, Good, Sheets int
		KissedOff                   int     `json:"kissed_off"`
		StockML                     float64 `json:"stock_ml"`
		Litres, Minutes, Grams      float64
		Step, Text                  string
	}
	if err := json.Unmarshal([]byte(body), &b); err != nil {
		panic(err)
	}
	switch kind {
	case studio.KindPost:
		s.Couched += b.Pulled - b.KissedOff
	case studio.KindRecharge:
		s.Recharged += max(b.Times, 1)
		s.RechargeML += b.StockML
	case studio.KindDry:
		s.Dry += b.Sheets
	case studio.KindGraded:
		s.Good += b.Good
	case studio.KindStepTime:
		if b.Step == "form" {
			s.Form += b.Minutes
		}
	case studio.KindStockLeft:
		s.Left = b.Litres
	case studio.KindRemark:
		s.Remarks = append(s.Remarks, b.Text)
	case studio.KindClosed:
		s.Closed = true
	case studio.KindTest:
		s.Tested += b.Sheets
	case studio.KindParting:
		s.Parted += b.Sheets
	case studio.KindSize:
		s.Sizes++
	case studio.KindFibre:
		s.Fibre += b.Grams
	default:
		s.list(kind, body)
	}
}

func (s *tally) list(kind studio.Kind, body string) {
	if s.Listed == nil {
		s.Listed = map[studio.Kind][]string{}
	}
	s.Listed[kind] = append(s.Listed[kind], body)
}

func read(s studio.State) tally {
	sum := tally{Couched: s.Couched, Recharged: s.Recharged, Good: s.Grades.Good, RechargeML: s.RechargeML, Form: s.Minutes["form"], Closed: s.Closed}
	for _, d := range s.Dry {
		sum.Dry += d.Sheets
	}
	if s.StockLeftL != nil {
		sum.Left = *s.StockLeftL
	}
	for _, r := range s.Remarks {
		sum.Remarks = append(sum.Remarks, r.Text)
	}
	for _, w := range s.Tests {
		sum.Tested += w.Sheets
	}
	for _, w := range s.Parting {
		sum.Parted += w.Sheets
	}
	sum.Sizes, sum.Fibre = len(s.Sizes), s.FibreG
	all := s.Besides()
	for _, r := range s.Beats {
		all = append(all, r.BeatReading)
	}
	for _, p := range s.Photos {
		all = append(all, p.Photo)
	}
	for _, b := range all {
		sum.list(b.Kind(), string(studio.NewEvent("", start, b).Body))
	}
	return sum
}

// A replay agrees with the model, whatever is corrected.
func TestReplayAgreesWithModel(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		events := drawEvents(t)
		if diff := gocmp.Diff(model(events), read(studio.Replay(studio.Making{}, events))); diff != "" {
			t.Fatalf("replay (-model +replay):\n%s", diff)
		}
	})
}

// A replay does not depend on the order of arrival, nor on what comes twice.
func TestReplayInAnyOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		events := drawEvents(t)
		want := studio.Replay(studio.Making{}, events)
		shuffled := rapid.Permutation(events).Draw(t, "arrival")
		for i := range shuffled {
			shuffled[i].Seq = int64(i + 1)
		}
		twice := append(shuffled, rapid.SliceOf(rapid.SampledFrom(shuffled)).Draw(t, "again")...)
		if diff := gocmp.Diff(want, studio.Replay(studio.Making{}, twice)); diff != "" {
			t.Fatalf("state (-as made +as arrived):\n%s", diff)
		}
	})
}

// What Record returns while entries arrive, out of order and some of them
// again, is in the end the replay of what was made.
func TestLiveIsReplay(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.now = start.Add(24 * time.Hour)
	run := 0
	rapid.Check(t, func(rt *rapid.T) {
		m := b.making()
		run++
		events := drawEvents(rt)
		for i := range events { // ids are the studio's, not the making's
			events[i].ID = fmt.Sprintf("%d-%s", run, events[i].ID)
			if events[i].Corrects != "" {
				events[i].Corrects = fmt.Sprintf("%d-%s", run, events[i].Corrects)
			}
		}
		want := studio.Replay(m, events)
		arrival := rapid.Permutation(events).Draw(rt, "arrival")
		var live studio.State
		for len(arrival) > 0 {
			n := rapid.IntRange(1, len(arrival)).Draw(rt, "batch")
			batch := append(slices.Clone(arrival[:n]), rapid.SliceOfN(rapid.SampledFrom(events), 0, 3).Draw(rt, "again")...)
			arrival = arrival[n:]
			var err error
			if live, err = b.Record(t.Context(), m.ID, batch...); err != nil {
				rt.Fatal(err)
			}
		}
		stored, err := b.State(t.Context(), m.ID)
		if err != nil {
			rt.Fatal(err)
		}
		if diff := gocmp.Diff(live, stored); diff != "" {
			rt.Fatalf("state (-live +read back):\n%s", diff)
		}
		if diff := gocmp.Diff(want, live); diff != "" {
			rt.Fatalf("state (-as made +live):\n%s", diff)
		}
	})
}

// Corrections in a ring, or of what never arrives, end and are told.
func TestCorrectionsThatLeadNowhere(t *testing.T) {
	t.Parallel()
	s := studio.Replay(studio.Making{}, []studio.Event{
		studio.Void("a", start, "b"), studio.Void("b", start, "a"),
		studio.NewEvent("p", start, studio.Post{Post: 1, Pulled: 4}),
		studio.Correction("q", start, "p", studio.Remark{Text: "no post"}),
		studio.Void("r", start, "never arrives"),
	})
	if s.Couched != 4 || len(s.Odd) != 2 || s.Odd[0].Code != "correction" || s.Odd[1].Code != "correction" {
		t.Errorf("couched %d, odd %+v; want 4, and two corrections flagged", s.Couched, s.Odd)
	}
	b := newBench(t)
	m := b.making()
	if _, err := b.Record(t.Context(), m.ID, studio.Void("late", start, "p1")); err != nil {
		t.Fatal(err) // before what it corrects
	}
	_, err := b.Record(t.Context(), m.ID, studio.Correction("x", start, "y", studio.Closed{}), studio.Correction("y", start, "x", studio.Closed{}))
	if err == nil {
		t.Error("a ring was taken")
	}
	if got := must[studio.State](t)(b.Record(t.Context(), m.ID, studio.NewEvent("p1", start, studio.Post{Post: 1, Pulled: 4}))); got.Pulled != 0 || len(got.Odd) != 0 {
		t.Errorf("voided before it came: pulled %d, odd %+v", got.Pulled, got.Odd)
	}
}
