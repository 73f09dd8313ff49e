package studio_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/store"
	"vatside/internal/studio"
)

// start is the maker's time the tests begin at, on a clock an hour before UTC.
var start = time.Date(2026, 11, 20, 9, 0, 0, 0, time.FixedZone("studio", 3600))

// bench is a studio on a file of its own, with a clock that the test sets.
type bench struct {
	*studio.Service
	t     *testing.T
	store *store.Store
	now   time.Time
}

func newBench(t *testing.T) *bench {
	t.Helper()
	st, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	})
	b := &bench{t: t, store: st, now: start}
	b.Service = studio.New(st.Records(), func() time.Time { return b.now })
	return b
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func wantKind(t *testing.T, err error, kind fault.Kind) {
	t.Helper()
	if err == nil || fault.KindOf(err) != kind {
		t.Fatalf("got fault %v (%v), want kind %v", err, fault.KindOf(err), kind)
	}
}

func aPaper() studio.Paper {
	return studio.Paper{
		Name:   "box cover",
		Design: plan.Paper{Furnish: []plan.Part{{Fibre: "abaca", SharePct: 70}, {Fibre: "flax", SharePct: 30}}, GrammageConditioned: 100},
		Sheet:  plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"},
	}
}

// making starts a making of 60 sheets, A3, 100 g/m².
func (b *bench) making() studio.Making {
	b.t.Helper()
	p := must[studio.Paper](b.t)(b.SavePaper(b.t.Context(), aPaper()))
	br := must[studio.Brief](b.t)(b.SaveBrief(b.t.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 50, Sheet: p.Sheet, ConfidencePct: 90, WantedBy: "2026-12-01"}))
	return must[studio.Making](b.t)(b.StartMaking(b.t.Context(), br.ID, aRequest(), aPlan()))
}

func aRequest() plan.Request {
	good := 50
	return plan.Request{Paper: aPaper().Design, Sheet: aPaper().Sheet, GoodSheets: &good,
		Known: map[string]plan.Pin{"moisture": {Value: 0.07, Grade: source.Handbook}}}
}

func aPlan() plan.Plan {
	return plan.Plan{Seed: 7, Mould: "A3", Figures: map[string]figure.Figure{
		"sheets_couched":  {Kind: figure.Decision, Value: 60, Low: 60, High: 60, Unit: "sheets", Basis: source.Practice},
		"formed_long_mm":  {Kind: figure.Decision, Value: 440, Low: 440, High: 440, Unit: "mm"},
		"formed_short_mm": {Kind: figure.Decision, Value: 311, Low: 311, High: 311, Unit: "mm"},
	}, Vat: plan.VatTable{Recharges: []plan.Recharge{{BeforeSheet: 5, StockML: 800, Jugs: 1.5}}}}
}

func TestMakingIsFrozen(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	// A new revision of the paper changes nothing of what was begun.
	p := must[studio.Paper](t)(b.Paper(t.Context(), m.PaperID))
	p.Design.GrammageConditioned, p.Name, p.Change = 120, "box cover, heavy", "too soft at 100"
	must[studio.Paper](t)(b.SavePaper(t.Context(), p))
	got := must[studio.Making](t)(b.Making(t.Context(), m.ID))
	if diff := cmp.Diff(m, got); diff != "" {
		t.Errorf("the making changed (-begun +read):\n%s", diff)
	}
	byTag := must[studio.Making](t)(b.MakingByTag(t.Context(), " "+strings.ToLower(strings.ReplaceAll(m.Tag, "-", ""))))
	if byTag.ID != m.ID {
		t.Errorf("tag %s leads to %s, want %s", m.Tag, byTag.ID, m.ID)
	}
	light := must[[]studio.Making](t)(b.Makings(t.Context(), studio.MakingFilter{BriefID: m.BriefID, Light: true}))
	if len(light) != 1 || light[0].Plan.Figures != nil || light[0].Tag != m.Tag {
		t.Errorf("light list: %+v", light)
	}
	_, err := b.Making(t.Context(), "nothing")
	wantKind(t, err, fault.KindNotFound)
	_, err = b.StartMaking(t.Context(), "nothing", aRequest(), aPlan())
	wantKind(t, err, fault.KindNotFound)
}

// A button pressed twice begins one making.
func TestMakingBegunTwice(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	again := must[studio.Making](t)(b.StartAfter(t.Context(), m.BriefID, 0, aRequest(), aPlan()))
	another := must[studio.Making](t)(b.StartAfter(t.Context(), m.BriefID, 1, aRequest(), aPlan()))
	if again.ID != m.ID || another.ID == m.ID {
		t.Errorf("first %s, pressed again %s, begun anew %s", m.ID, again.ID, another.ID)
	}
}

func TestConflictIsTold(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	p := must[studio.Paper](t)(b.SavePaper(ctx, aPaper()))
	b.now = start.Add(5*time.Hour + 2*time.Minute)
	first := p
	first.Note = "from the first window"
	must[studio.Paper](t)(b.SavePaper(ctx, first))
	second := p
	second.Note = "from the second window"
	_, err := b.SavePaper(ctx, second)
	wantKind(t, err, fault.KindConflict)
	if !strings.Contains(err.Error(), "changed at 14:02 in another window") {
		t.Errorf("the conflict says %q", err)
	}
	b.now = b.now.AddDate(0, 0, 1)
	_, err = b.SavePaper(ctx, second)
	if !strings.Contains(err.Error(), "on 2026-11-20 at 14:02") {
		t.Errorf("a day later the conflict says %q", err)
	}
	revisions := must[[]studio.Paper](t)(b.PaperRevisions(ctx, p.ID))
	if len(revisions) != 2 || revisions[0].Note != first.Note || revisions[1].Revision != 1 {
		t.Errorf("revisions kept: %+v", revisions)
	}

	profile := must[studio.Profile](t)(b.Profile(ctx))
	if diff := cmp.Diff(studio.NewProfile(), profile); diff != "" {
		t.Errorf("a new studio's profile: %s", diff)
	}
	profile.Name, profile.By = "Vat House", "the laptop"
	saved := must[studio.Profile](t)(b.SaveProfile(ctx, profile))
	_, err = b.SaveProfile(ctx, profile)
	wantKind(t, err, fault.KindConflict)
	if !strings.Contains(err.Error(), "by the laptop") {
		t.Errorf("the conflict says %q", err)
	}
	if diff := cmp.Diff(saved, must[studio.Profile](t)(b.Profile(ctx))); diff != "" {
		t.Errorf("the profile read back: %s", diff)
	}

	brief := must[studio.Brief](t)(b.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 5, Sheet: p.Sheet, ConfidencePct: 90}))
	if brief.PaperRevision != 2 {
		t.Errorf("a brief takes revision %d, want the present one, 2", brief.PaperRevision)
	}
	must[studio.Brief](t)(b.SaveBrief(ctx, brief))
	_, err = b.SaveBrief(ctx, brief)
	wantKind(t, err, fault.KindConflict)
}

func TestRecordsAreChecked(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	bad := aPaper()
	bad.Design.Furnish[1].SharePct = 20
	_, err := b.SavePaper(ctx, bad)
	wantKind(t, err, fault.KindInvalid)
	bad = aPaper()
	bad.ID = "nothing"
	_, err = b.SavePaper(ctx, bad)
	wantKind(t, err, fault.KindNotFound)
	_, err = b.SaveBrief(ctx, studio.Brief{PaperID: "nothing", GoodSheets: 5, Sheet: aPaper().Sheet, ConfidencePct: 90})
	wantKind(t, err, fault.KindNotFound)
	_, err = b.SaveBrief(ctx, studio.Brief{PaperID: "x", GoodSheets: 0, WantedBy: "1 December"})
	if n := len(fault.All(err)); n != 5 { // sheets, two sides, confidence, date
		t.Errorf("got %d faults, want 5: %v", n, err)
	}
	profile := studio.NewProfile()
	profile.System, profile.Currency = "imperial", "euro"
	_, err = b.SaveProfile(ctx, profile)
	if n := len(fault.All(err)); n != 2 {
		t.Errorf("got %d faults, want 2: %v", n, err)
	}
}

func TestForgettingAPersonLeavesBriefs(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	p := must[studio.Paper](t)(b.SavePaper(ctx, aPaper()))
	who := must[studio.Person](t)(b.SavePerson(ctx, studio.Person{Name: "Quillon Marrowby", Contact: "Marrowby's bindery, Nowhere"}))
	brief := must[studio.Brief](t)(b.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 5, Sheet: p.Sheet, ConfidencePct: 90, PersonID: who.ID, Remarks: "wove"}))
	if err := b.ForgetPerson(ctx, who.ID); err != nil {
		t.Fatal(err)
	}
	if err := b.ForgetPerson(ctx, who.ID); err != nil {
		t.Errorf("forgetting twice: %v", err)
	}
	if people := must[[]studio.Person](t)(b.People(ctx)); len(people) != 0 {
		t.Errorf("still there: %+v", people)
	}
	want := brief
	want.PersonID = ""
	if diff := cmp.Diff(want, must[studio.Brief](t)(b.Brief(ctx, brief.ID))); diff != "" {
		t.Errorf("the brief changed:\n%s", diff)
	}
	_, err := b.SavePerson(ctx, who)
	wantKind(t, err, fault.KindNotFound)
	_, err = b.SaveBrief(ctx, brief)
	wantKind(t, err, fault.KindNotFound)
}

func TestSendingTwiceStoresOnce(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	post := studio.NewEvent("tablet-1", start, studio.Post{Post: 1, Pulled: 20, KissedOff: 2})
	for range 3 {
		s := must[studio.State](t)(b.Record(ctx, m.ID, post, post))
		if s.Couched != 18 {
			t.Fatalf("couched %d, want 18", s.Couched)
		}
	}
	if n := len(must[[]studio.Event](t)(b.Events(ctx, m.ID))); n != 1 {
		t.Errorf("%d events are stored, want 1", n)
	}
	// The same id for something else is told, and nothing of that sending kept.
	_, err := b.Record(ctx, m.ID, studio.NewEvent("tablet-2", start, studio.Post{Post: 2, Pulled: 1}),
		studio.NewEvent("tablet-1", start, studio.Post{Post: 1, Pulled: 19}))
	wantKind(t, err, fault.KindConflict)
	other := b.making()
	_, err = b.Record(ctx, other.ID, post)
	wantKind(t, err, fault.KindConflict)
	if s := must[studio.State](t)(b.State(ctx, m.ID)); s.Pulled != 20 {
		t.Errorf("pulled %d, want 20", s.Pulled)
	}
	got := must[studio.Making](t)(b.Making(ctx, m.ID))
	got.Progress.Gist = studio.Gist{} // has tests of its own
	want := studio.Progress{Stage: studio.AtVat, Couched: 18, Since: start.UTC()}
	if diff := cmp.Diff(want, got.Progress); diff != "" {
		t.Errorf("progress:\n%s", diff)
	}
}

func TestBadEventsAreRefused(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	raw := func(kind studio.Kind, body string) studio.Event {
		return studio.Event{ID: "a", Kind: kind, Body: json.RawMessage(body), At: start}
	}
	good := studio.NewEvent("good", start, studio.Remark{Text: "the felts are tired"})
	for name, c := range map[string]struct {
		event studio.Event
		field string
	}{
		"unknown kind":           {raw("mended", `{}`), "events[1].kind"},
		"unknown key":            {raw(studio.KindPost, `{"post":1,"puled":3}`), "events[1].body"},
		"no object":              {raw(studio.KindPost, `[1]`), "events[1].body"},
		"broken JSON":            {raw(studio.KindPost, `{"post":1`), "events[1].body"},
		"two objects":            {raw(studio.KindClosed, `{}{}`), "events[1].body"},
		"negative":               {studio.NewEvent("a", start, studio.Post{Post: 1, Pulled: -1}), "events[1].body.pulled"},
		"nothing counted":        {studio.NewEvent("a", start, studio.Post{Post: 1}), "events[1].body.pulled"},
		"no weight":              {studio.NewEvent("a", start, studio.WeighedDry{Sheets: 3}), "events[1].body.grams"},
		"humidity over 100":      {studio.NewEvent("a", start, studio.WeighedDry{Sheets: 3, Grams: 30, RHPct: 101}), "events[1].body.rh_pct"},
		"empty remark":           {studio.NewEvent("a", start, studio.Remark{Text: " "}), "events[1].body.text"},
		"no id":                  {studio.NewEvent("", start, studio.Closed{}), "events[1].id"},
		"a clock never set":      {studio.NewEvent("a", time.Unix(0, 0), studio.Closed{}), "events[1].at"},
		"correction of nothing":  {studio.Void("a", start, ""), "events[1].corrects"},
		"correction of itself":   {studio.Void("a", start, "a"), "events[1].corrects"},
		"correction of no fit":   {studio.Correction("a", start, "good", studio.Post{Post: 1, Pulled: 1}), "events[1].body"},
		"plain event corrects":   {studio.Event{ID: "a", Kind: studio.KindClosed, At: start, Corrects: "good"}, "events[1].corrects"},
		"another making's event": {studio.Event{ID: "a", MakingID: "other", Kind: studio.KindClosed, At: start}, "events[1].making"},
	} {
		_, err := b.Record(t.Context(), m.ID, good, c.event)
		var f *fault.Error
		if !errors.As(err, &f) || f.Field != c.field {
			t.Errorf("%s: got %v, want a fault of %s", name, err, c.field)
		}
	}
	if n := len(must[[]studio.Event](t)(b.Events(t.Context(), m.ID))); n != 0 {
		t.Errorf("%d events were kept of refused sendings", n)
	}
	_, err := b.Record(t.Context(), "nothing", good)
	wantKind(t, err, fault.KindNotFound)
}

func TestObservationsFollowTheRecord(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	b.Learner = func(m studio.Making, s studio.State) []belief.Observation {
		var list []belief.Observation
		for i, d := range s.Dry {
			list = append(list, belief.Observation{ID: fmt.Sprintf("%s/dry-%d", m.ID, i), Making: m.ID, Belief: "depth/a3",
				Value: d.Grams / float64(d.Sheets), SD: 0.02, At: s.Last})
		}
		return list
	}
	m := b.making()
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("d1", start, studio.WeighedDry{Sheets: 10, Grams: 125, RHPct: 50})))
	list := must[[]belief.Observation](t)(b.Observations(ctx, studio.ObservationFilter{Belief: "depth/a3"}))
	want := []belief.Observation{{ID: m.ID + "/dry-0", Making: m.ID, Belief: "depth/a3", Value: 12.5, SD: 0.02, At: start.UTC()}}
	if diff := cmp.Diff(want, list); diff != "" {
		t.Fatalf("observations:\n%s", diff)
	}
	// Left out stays left out when a correction rebuilds the observation.
	if err := b.ExcludeObservation(ctx, list[0].ID, "the scale was wet"); err != nil {
		t.Fatal(err)
	}
	must[studio.State](t)(b.Record(ctx, m.ID, studio.Correction("d2", start, "d1", studio.WeighedDry{Sheets: 10, Grams: 120, RHPct: 50})))
	if err := b.Relearn(ctx); err != nil {
		t.Fatal(err)
	}
	list = must[[]belief.Observation](t)(b.Observations(ctx, studio.ObservationFilter{MakingID: m.ID}))
	if len(list) != 1 || list[0].Value != 12 || list[0].Excluded != "the scale was wet" {
		t.Errorf("after the correction: %+v", list)
	}
	if err := b.ExcludeObservation(ctx, list[0].ID, ""); err != nil {
		t.Fatal(err)
	}
	must[studio.State](t)(b.Record(ctx, m.ID, studio.Void("d3", start, "d1")))
	if list = must[[]belief.Observation](t)(b.Observations(ctx, studio.ObservationFilter{})); len(list) != 0 {
		t.Errorf("after the voiding: %+v", list)
	}
	wantKind(t, b.ExcludeObservation(ctx, "nothing", "x"), fault.KindNotFound)
}

func TestPins(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	pin := belief.Pin{Value: 0.041, Grade: source.Measured, Why: "ten sheets, ruler"}
	for range 2 {
		if err := b.SetPin(ctx, "shrinkage/abaca", pin); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(map[string]belief.Pin{"shrinkage/abaca": pin}, must[map[string]belief.Pin](t)(b.Pins(ctx))); diff != "" {
		t.Error(diff)
	}
	for range 2 {
		if err := b.ForgetPin(ctx, "shrinkage/abaca"); err != nil {
			t.Fatal(err)
		}
	}
	if pins := must[map[string]belief.Pin](t)(b.Pins(ctx)); len(pins) != 0 {
		t.Errorf("still fixed: %v", pins)
	}
	wantKind(t, b.SetPin(ctx, "", pin), fault.KindInvalid)
}

func TestBench(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	ctx := t.Context()
	m := b.making()
	where := func() string {
		got := must[studio.Bench](t)(b.Bench(ctx))
		return fmt.Sprintf("%d at the vat, %d drying, %d waiting, %d promised", len(got.AtVat), len(got.Drying), len(got.Waiting), len(got.Promised))
	}
	step := func(want string, events ...studio.Event) {
		t.Helper()
		must[studio.State](t)(b.Record(ctx, m.ID, events...))
		if got := where(); got != want {
			t.Errorf("got %s; want %s", got, want)
		}
	}
	step("0 at the vat, 0 drying, 1 waiting, 1 promised")
	step("1 at the vat, 0 drying, 0 waiting, 1 promised", studio.NewEvent("1", start, studio.Post{Post: 1, Pulled: 20}))
	b.now = start.Add(13 * time.Hour)
	step("0 at the vat, 1 drying, 0 waiting, 1 promised")
	b.now = start.Add(24 * time.Hour) // the next morning the vat goes on, after the first post's parting
	step("1 at the vat, 0 drying, 0 waiting, 1 promised",
		studio.NewEvent("2", start.Add(time.Hour), studio.WeighedAtParting{Post: 1, Sheets: 10, Grams: 300}),
		studio.NewEvent("3", b.now, studio.Post{Post: 2, Pulled: 20}))
	step("0 at the vat, 1 drying, 0 waiting, 1 promised", studio.NewEvent("4", b.now, studio.Post{Post: 3, Pulled: 20}))
	step("0 at the vat, 0 drying, 1 waiting, 1 promised", studio.NewEvent("5", b.now, studio.Graded{Good: 51, Broken: 9}))
	p := must[studio.Bench](t)(b.Bench(ctx)).Promised[0]
	if p.Good != 51 || p.PaperName != "box cover" || p.DaysLeft == nil || *p.DaysLeft != 10 {
		t.Errorf("promise %+v; want 51 good, 10 days left", p)
	}
	step("0 at the vat, 0 drying, 0 waiting, 1 promised", studio.NewEvent("6", b.now, studio.Closed{}))
	p.Brief.Settled = true
	must[studio.Brief](t)(b.SaveBrief(ctx, p.Brief))
	step("0 at the vat, 0 drying, 0 waiting, 0 promised")
}

func TestUndoneAsAWhole(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	m := b.making()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err := b.Record(ctx, m.ID, studio.NewEvent("x", start, studio.Closed{}))
	wantKind(t, err, fault.KindBusy)
	if s := must[studio.State](t)(b.State(t.Context(), m.ID)); s.Closed {
		t.Error("a stopped sending was kept")
	}
}
