package journey_test

import (
	"fmt"
	"reflect"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"vatside/internal/studio"
	"vatside/internal/testkit/browser"
)

// A post counted at the vat as a whole and the same post typed from the card lead
// to the same; with the recharges told for it, each stands where it was poured.
func TestVatByPostAndByCard(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	at, card, fed := s.making(), s.making(), s.making()
	post := func(m studio.Making, fed bool) {
		t.Helper()
		v := s.atVat(b, m, "0")
		click(b, `[data-open="more"]`, `[data-post] [name="pulled"]`)
		v.types(`[data-post] [name="pulled"]`, "20")
		v.types(`[data-post] [name="kissed"]`, "2")
		if !fed {
			b.Do(chromedp.Click(chromedp.CSS(`[name="fed"]`)))
		}
		b.Do(chromedp.Click(chromedp.CSS(`[data-post] .act`)), chromedp.WaitNotVisible(chromedp.CSS(`[data-post]`)))
		v.counts(18)
		v.saved()
	}
	post(at, false)
	post(fed, true)
	open(b, s.url+"/makings/"+card.ID+"/record")
	fill(b, "post-1-couched", "18")
	fill(b, "post-1-kissed", "2")
	click(b, ".finish .act", ".making")
	state := func(m studio.Making) studio.State {
		t.Helper()
		st, err := s.records.State(t.Context(), m.ID)
		if err != nil {
			t.Fatal(err)
		}
		return st
	}
	live, typed, poured := state(at), state(card), state(fed)
	if want := []studio.PostState{{Post: 1, Pulled: 20, KissedOff: 2, Couched: 18}}; !reflect.DeepEqual(live.Posts, want) || !reflect.DeepEqual(typed.Posts, want) || !reflect.DeepEqual(poured.Posts, want) {
		t.Errorf("counted %+v, typed %+v, with recharges %+v; want %+v", live.Posts, typed.Posts, poured.Posts, want)
	}
	if live.Couched != typed.Couched || live.KissedOff != typed.KissedOff || live.Recharged != 0 || typed.Recharged != 0 {
		t.Errorf("counted %+v, typed %+v", live, typed)
	}
	for i, r := range poured.Recharges {
		if i > 0 && *r.AfterSheet <= *poured.Recharges[i-1].AfterSheet || *r.AfterSheet >= 18 {
			t.Errorf("the recharges of the post stand after %d", *r.AfterSheet)
		}
	}
	if len(poured.Recharges) < 3 {
		t.Errorf("of the recharges told for 18 sheets %d were noted", len(poured.Recharges))
	}
}

// A card that is saved after a run was counted live changes nothing that it does
// not say.
func TestVatThenTheCard(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	m := s.making()
	start := time.Now().Add(-3 * time.Hour)
	var run []studio.Event
	add := func(body studio.Body) {
		n := len(run)
		run = append(run, studio.NewEvent(fmt.Sprint("live-", n), start.Add(time.Duration(n)*time.Minute), body))
	}
	for n := 1; n <= 60; n++ {
		after := n - 1
		if after > 0 {
			add(studio.Recharge{AfterSheet: &after, StockML: 390 + float64(n)})
		}
		add(studio.Post{Post: 1 + after/23, Pulled: 1})
		switch n {
		case 3:
			add(studio.TestWeighed{Sheets: 3, Grams: 41, BoneDry: true, From: 1})
		case 20:
			add(studio.TestWeighed{Sheets: 2, Grams: 27, RHPct: 50, From: 17, Sure: true})
		case 40:
			add(studio.WeighedAtParting{Post: 1, Sheets: 10, Grams: 400, Sure: true})
			add(studio.VatChanged{WaterL: -1.5})
		}
	}
	after := 60
	add(studio.Recharge{AfterSheet: &after, StockML: 500})
	if _, err := s.records.Record(t.Context(), m.ID, run...); err != nil {
		t.Fatal(err)
	}
	holds := func() (list []studio.Body) {
		for _, h := range studio.Holds(s.events(m)) {
			if _, ok := h.Body.(studio.Graded); !ok {
				list = append(list, h.Body)
			}
		}
		return list
	}
	before := holds()
	for _, good := range []string{"", "52"} {
		open(b, s.url+"/makings/"+m.ID+"/record")
		if good != "" {
			fill(b, "good", good)
		}
		click(b, ".finish .act", ".making")
		if got := holds(); !reflect.DeepEqual(got, before) {
			t.Errorf("the card saved with %q good: the record of the run had %d entries and has %d", good, len(before), len(got))
			for i := range min(len(got), len(before)) {
				if !reflect.DeepEqual(got[i], before[i]) {
					t.Fatalf("first other: %+v, not %+v", got[i], before[i])
				}
			}
		}
	}
	state, err := s.records.State(t.Context(), m.ID)
	if err != nil || state.Grades.Good != 52 || state.Couched != 60 || state.Recharged != 60 {
		t.Errorf("%d good of %d couched, %d recharges, %v", state.Grades.Good, state.Couched, state.Recharged, err)
	}
}
