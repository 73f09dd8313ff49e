package studio_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"vatside/internal/fault"
	"vatside/internal/studio"
)

func ptr[T any](v T) *T { return &v }

// aCard is a card of 60 sheets, filled in.
func aCard(form string) studio.CardEntry {
	return studio.CardEntry{
		FormID: form, At: start,
		Posts:     []studio.Post{{Post: 1, Pulled: 21, KissedOff: 1}, {Post: 2, Pulled: 20}, {Post: 3, Pulled: 22, KissedOff: 2}},
		Recharges: []studio.Recharge{{Times: 14, StockML: 11200}},
		Parting:   []studio.WeighedAtParting{{Post: 1, Sheets: 10, Grams: 410}},
		Tests:     []studio.TestWeighed{{Sheets: 3, Grams: 37}},
		Dry:       []studio.WeighedDry{{Sheets: 60, Grams: 745, RHPct: 52}},
		Sizes:     []studio.DrySize{{LongMM: 421, ShortMM: 298}},
		Grades:    &studio.Graded{Good: 54, Retree: 3, Broken: 1, Broke: 2},
		Minutes:   map[string]float64{"form": 190, "press": 25},
		StockLeft: &studio.StockLeft{Litres: 3},
		Remarks:   []string{"felt 7 leaves hairs"},
		Close:     true,
	}
}

func TestCardTypedBack(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	if err := b.FinishCard(ctx, m.ID, aCard("form-1")); err != nil {
		t.Fatal(err)
	}
	s := must[studio.State](t)(b.State(ctx, m.ID))
	if s.Pulled != 63 || s.KissedOff != 3 || s.Couched != 60 || s.Recharged != 14 || s.RechargeML != 11200 ||
		s.Grades.Good != 54 || s.Minutes["form"] != 190 || *s.StockLeftL != 3 || !s.Closed {
		t.Errorf("state: %+v", s)
	}
	if len(s.Missing) != 0 || len(s.Odd) != 0 {
		t.Errorf("missing %v, odd %v; want neither", s.Missing, s.Odd)
	}
	first := must[[]studio.Event](t)(b.Events(ctx, m.ID))
	b.now = b.now.Add(time.Minute)
	if err := b.FinishCard(ctx, m.ID, aCard("form-1")); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(first, must[[]studio.Event](t)(b.Events(ctx, m.ID))); diff != "" {
		t.Errorf("the same form sent twice stored more:\n%s", diff)
	}
}

// statesAlike compares what was counted and weighed, not when and by which entry.
func statesAlike(t *testing.T, want, got studio.State) {
	t.Helper()
	if diff := cmp.Diff(want, got,
		cmpopts.IgnoreFields(studio.State{}, "First", "Last", "LastAtVat", "LastParting", "ClosedAt", "Vat"),
		cmpopts.IgnoreFields(studio.RechargeSeen{}, "EventID", "At"), cmpopts.IgnoreFields(studio.RemarkSeen{}, "EventID", "At")); diff != "" {
		t.Errorf("state (-want +got):\n%s", diff)
	}
}

func TestCardTypedAgainCorrects(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m, plain := b.making(), b.making()
	again := aCard("form-2")
	again.Posts = []studio.Post{{Post: 1, Pulled: 21, KissedOff: 1}, {Post: 2, Pulled: 19}} // two posts after all
	again.Grades = &studio.Graded{Good: 36, Retree: 3}
	again.Dry[0] = studio.WeighedDry{Sheets: 39, Grams: 490, RHPct: 52}
	again.StockLeft, again.Remarks = nil, nil
	again.Sizes = append(again.Sizes, studio.DrySize{LongMM: 419, ShortMM: 297})
	clean := again
	clean.FormID = "form-clean"
	if err := b.FinishCard(ctx, plain.ID, clean); err != nil {
		t.Fatal(err)
	}
	want := must[studio.State](t)(b.State(ctx, plain.ID))

	forms := []studio.CardEntry{aCard("form-1"), again}
	before := 0
	for range 2 { // corrected twice over: there and back
		for i, form := range forms {
			form.FormID += time.Duration(before).String()
			b.now = b.now.Add(time.Minute)
			if err := b.FinishCard(ctx, m.ID, form); err != nil {
				t.Fatal(err)
			}
			events := must[[]studio.Event](t)(b.Events(ctx, m.ID))
			if len(events) <= before {
				t.Errorf("a changed card of %s added nothing", form.FormID)
			}
			before = len(events)
			if i == 1 {
				statesAlike(t, want, must[studio.State](t)(b.State(ctx, m.ID)))
			}
		}
	}
	// A form that was sent before another one came is told so.
	late := forms[0]
	late.FormID += time.Duration(0).String()
	wantKind(t, b.FinishCard(ctx, m.ID, late), fault.KindConflict)
}

func TestCardAfterCountingAtTheVat(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m, plain := b.making(), b.making()
	b.now = start.Add(3 * time.Hour)
	var live []studio.Event
	for i := range 21 { // post 1 sheet by sheet, one of them kissed off
		live = append(live, studio.NewEvent("tap-"+time.Duration(i).String(), start.Add(time.Duration(i)*time.Minute), studio.Post{Post: 1, Pulled: 1}))
	}
	live = append(live,
		studio.NewEvent("kiss", start.Add(time.Hour), studio.Post{Post: 1, KissedOff: 1}),
		studio.NewEvent("jug-1", start.Add(time.Hour), studio.Recharge{AfterSheet: ptr(5), StockML: 5600}),
		studio.NewEvent("jug-2", start.Add(2*time.Hour), studio.Recharge{AfterSheet: ptr(9), Times: 13, StockML: 5600}),
		studio.NewEvent("word", start.Add(time.Hour), studio.Remark{Text: "foam"}))
	must[studio.State](t)(b.Record(ctx, m.ID, live...))

	// A card that says of the posts what was counted leaves the counting alone.
	same := studio.CardEntry{FormID: "a", At: start, Posts: []studio.Post{{Post: 1, Pulled: 21, KissedOff: 1}}, Recharges: []studio.Recharge{{Times: 14, StockML: 11200}}}
	if err := b.FinishCard(ctx, m.ID, same); err != nil {
		t.Fatal(err)
	}
	if n := len(must[[]studio.Event](t)(b.Events(ctx, m.ID))); n != len(live) {
		t.Errorf("%d events after the same card, want %d", n, len(live))
	}
	// One that says otherwise holds, and nothing is counted twice; the remark
	// made at the vat stays.
	if err := b.FinishCard(ctx, m.ID, aCard("b")); err != nil {
		t.Fatal(err)
	}
	want := aCard("c")
	want.Remarks = []string{"foam", "felt 7 leaves hairs"}
	if err := b.FinishCard(ctx, plain.ID, want); err != nil {
		t.Fatal(err)
	}
	got := must[studio.State](t)(b.State(ctx, m.ID))
	expect := must[studio.State](t)(b.State(ctx, plain.ID))
	expect.Recharges = got.Recharges // counted at the vat, with their places: told in total, they add up to it
	expect.Remarks, got.Remarks = nil, nil
	statesAlike(t, expect, got)
	if s := must[studio.State](t)(b.State(ctx, m.ID)); len(s.Remarks) != 2 {
		t.Errorf("remarks: %+v", s.Remarks)
	}
}

func TestCardFaultsNameTheField(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	card := aCard("")
	card.Posts[1].Pulled = -4
	card.Posts[2].Post = 1
	card.Minutes["press"] = -1
	err := b.FinishCard(t.Context(), m.ID, card)
	var fields []string
	for _, f := range fault.All(err) {
		fields = append(fields, f.Field)
	}
	want := []string{"form_id", "posts[1].pulled", "posts[2]", "minutes[press].minutes"}
	if diff := cmp.Diff(want, fields); diff != "" {
		t.Error(diff)
	}
	wantKind(t, b.FinishCard(t.Context(), "nothing", aCard("x")), fault.KindNotFound)
}

// A card typed again on a laptop whose clock was put back still holds.
func TestCardTypedAgainWithTheClockPutBack(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	for i, good := range []int{50, 51, 52} {
		b.now = start.Add(-time.Duration(i) * time.Hour)
		card := studio.CardEntry{FormID: time.Duration(i).String(), At: start, Grades: &studio.Graded{Good: good}}
		if err := b.FinishCard(ctx, m.ID, card); err != nil {
			t.Fatal(err)
		}
		if s := must[studio.State](t)(b.State(ctx, m.ID)); s.Grades.Good != good {
			t.Errorf("typed %d good, the record says %d", good, s.Grades.Good)
		}
	}
}
