package studio_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"vatside/internal/beating"
	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/hidden"
)

// planned is a making of a request as it was planned by the handbook.
func planned(t testing.TB, change func(*plan.Request)) studio.Making {
	t.Helper()
	r := unpinned(t)
	change(&r)
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	return studio.Making{ID: "m", Request: r, Plan: p}
}

// seen is what a state teaches of the belief whose key begins so.
func seen(t testing.TB, m studio.Making, s studio.State, key string) (belief.Observation, bool) {
	t.Helper()
	list := studio.Learn(m, s)
	i := slices.IndexFunc(list, func(o belief.Observation) bool { return strings.HasPrefix(o.Belief, key) })
	if i < 0 {
		return belief.Observation{}, false
	}
	return list[i], true
}

// Each record that can teaches the belief it bears on. Values by hand.
func TestRecordsTeach(t *testing.T) {
	t.Parallel()
	same := func(*plan.Request) {}
	poured := func(r *plan.Request) { r.Paper.Forming = "poured" }
	loft := func(r *plan.Request) { r.Paper.Drying = "loft" }
	text := planned(t, same)
	value := func(m studio.Making, key string) float64 { return m.Plan.Figures[key].Value }
	rests := func(m studio.Making, key string) float64 {
		i := slices.IndexFunc(m.Plan.RestsOn, func(p plan.Prior) bool { return strings.HasPrefix(p.Key, key) })
		return m.Plan.RestsOn[i].Value
	}
	mass := value(planned(t, poured), "conditioned_mass_per_sheet_g")
	for _, c := range []struct {
		what   string
		making studio.Making
		state  studio.State
		key    string
		want   float64
	}{
		{"a handful of 100 g that dried to 92", text, studio.State{Measured: studio.Measured{Moistures: []studio.MoistureCheck{{WetG: 100, DryG: 92}}}}, "lot moisture", 0.08},
		{"poured sheets a tenth too heavy", planned(t, poured), studio.State{Dry: []studio.WeighedDry{{Sheets: 5, Grams: 5 * 1.1 * mass, RHPct: 50}}}, "effective depth/poured/", 1.1},
		{"poured test sheets a tenth too heavy", planned(t, poured), studio.State{Tests: []studio.TestWeighed{{Sheets: 3, Grams: 3 * 1.1 * mass, RHPct: 50}}}, "effective depth/poured/", 1.1},
		{"half as long again in the loft", planned(t, loft), studio.State{Measured: studio.Measured{Dried: []studio.Dried{{Hours: 1.5 * value(planned(t, loft), "drying_hours_a_load")}}}},
			"hours to dry, loft", 1.5 * rests(planned(t, loft), "hours to dry, loft")},
		{"kissed off", text, studio.State{Pulled: 60, KissedOff: 3, Couched: 57}, "kissed off/western", 0},
	} {
		o, ok := seen(t, c.making, c.state, c.key)
		if !ok || math.Abs(o.Value-c.want) > 1e-9*math.Max(1, c.want) {
			t.Errorf("%s: %s is seen as %.6f (%v), want %.6f", c.what, c.key, o.Value, ok, c.want)
		}
		if o.Trials == 0 && !strings.HasPrefix(c.key, "hours") && len(o.Effects) == 0 {
			t.Errorf("%s: %s stands under no effects", c.what, c.key)
		}
	}
	if o, _ := seen(t, text, studio.State{Pulled: 60, KissedOff: 3, Couched: 57}, "kissed off/western"); o.Hits != 3 || o.Trials != 60 {
		t.Errorf("kissed off: %g of %g", o.Hits, o.Trials)
	}
}

// In a stack with a fan, drying teaches what the plan's hours hung on: how much
// of the air is used, or, where the air would have been quicker, what a stack
// never beats. Twice the hours in air half as dry is nothing new.
func TestDryingTeachesWhatItHungOn(t *testing.T) {
	t.Parallel()
	slow := planned(t, func(r *plan.Request) { r.Studio.Dryer.AirflowM3S = 0.001 })
	hours := slow.Plan.Figures["drying_hours_a_load"].Value
	dried := func(d studio.Dried) studio.State {
		return studio.State{Measured: studio.Measured{Dried: []studio.Dried{d}}}
	}
	if o, ok := seen(t, slow, dried(studio.Dried{Hours: 2 * hours}), "dryer efficiency/stack"); !ok || math.Abs(o.Value-0.175) > 1e-6 {
		t.Errorf("twice the hours: efficiency %.4f (%v), want half of 0.35", o.Value, ok)
	}
	fast := planned(t, func(r *plan.Request) { r.Studio.Dryer.AirflowM3S = 1 })
	least := fast.Plan.RestsOn[slices.IndexFunc(fast.Plan.RestsOn, func(p plan.Prior) bool { return p.Key == plan.StackLeast })].Value
	if o, ok := seen(t, fast, dried(studio.Dried{Hours: 1.5 * fast.Plan.Figures["drying_hours_a_load"].Value}), plan.StackLeast); !ok || math.Abs(o.Value/(1.5*least)-1) > 1e-9 {
		t.Errorf("half as long again under a strong fan: a stack takes %.3f h (%v), want half as long again as %.3f", o.Value, ok, least)
	}
	damp, _ := seen(t, slow, dried(studio.Dried{Hours: 3 * hours, AirC: 15, RHPct: 80}), "dryer efficiency/stack")
	if damp.Value < 0.3 || damp.Value > 0.42 { // 15 °C and 80 % take three times as long: docs/models/drying.md
		t.Errorf("three times the hours in air that takes three times as long: efficiency %.3f, want about 0.35", damp.Value)
	}
}

// Hours and weights are told in the air of the making's season, which goes
// before the room as it mostly is; hours in air in which nothing dries tell
// nothing.
func TestLearnsInTheSeasonsAir(t *testing.T) {
	t.Parallel()
	month := 7
	season := plan.Season{Name: "rains", Months: []int{6, 7, 8}, TempC: 28, RHPct: 80}
	m := planned(t, func(r *plan.Request) {
		r.Paper.Drying, r.Studio.Month = "loft", &month
		r.Studio.Air, r.Studio.Seasons = &plan.Air{TempC: 20, RHPct: 50}, []plan.Season{season}
	})
	rests := m.Plan.RestsOn[slices.IndexFunc(m.Plan.RestsOn, func(p plan.Prior) bool { return strings.HasPrefix(p.Key, "hours to dry") })].Value
	hours := m.Plan.Figures["drying_hours_a_load"].Value
	dried := func(air, rh float64) studio.State {
		return studio.State{Measured: studio.Measured{Dried: []studio.Dried{{Hours: hours, AirC: air, RHPct: rh}}}}
	}
	if o, ok := seen(t, m, dried(season.TempC, season.RHPct), "hours to dry"); !ok || math.Abs(o.Value/rests-1) > 1e-9 {
		t.Errorf("the hours planned, in the season's own air, are seen as %.2f h (%v), want %.2f", o.Value, ok, rests)
	}
	if o, ok := seen(t, m, dried(20, 99.9), "hours to dry"); ok {
		t.Errorf("hours in air in which nothing dries taught %.2f h", o.Value)
	}
	// a weight whose air was not said was weighed in the season's
	weighed := func(rh float64) float64 {
		g, ok := studio.Grammage(m, studio.State{Dry: []studio.WeighedDry{{Sheets: 10, Grams: 130, RHPct: rh}}})
		if !ok {
			t.Fatal("no grammage")
		}
		return float64(g)
	}
	if not, said := weighed(0), weighed(season.RHPct); math.Abs(not/said-1) > 1e-12 {
		t.Errorf("%.2f g/m² where the air was not said, %.2f in the season's", not, said)
	}
}

// Readings that rise as the handbook has it, half as fast again, teach a pace
// of 1.5; another fibre in the same beater then is expected to beat faster.
func TestReadingsTeachThePace(t *testing.T) {
	t.Parallel()
	m := planned(t, func(r *plan.Request) { r.Paper.Furnish = []plan.Part{{Fibre: "abaca", SharePct: 100}} })
	abaca, _ := fibre.Get("abaca")
	cotton, _ := fibre.Get("cotton rag")
	rate, err := beating.HandbookRate(beating.BySchopperRiegler, abaca)
	if err != nil {
		t.Fatal(err)
	}
	start := math.Log(0.16 / 0.84)
	var s studio.State
	for _, h := range []float64{0.5, 1, 1.5, 2} {
		v := 100 / (1 + math.Exp(-(start + 1.5*rate.Mid*h)))
		s.Beats = append(s.Beats, studio.BeatSeen{BeatReading: studio.BeatReading{Load: 1, Hours: h, Scale: beating.BySchopperRiegler, Value: &v}})
	}
	o, ok := seen(t, m, s, "beating pace/")
	if !ok || math.Abs(o.Value-1.5) > 0.05 {
		t.Fatalf("a pace of 1.5 is seen as %.3f (%v)", o.Value, ok)
	}
	machine := m.Plan.Loads[0].Machine
	b, err := plan.BeatingPace(machine, cotton)
	if err != nil {
		t.Fatal(err)
	}
	if b = b.With(belief.NewKnown([]belief.Observation{o}, nil)); b.Centre() < 1.05 || b.Centre() > 1.4 || !strings.Contains(b.Lent(), "other fibres in") {
		t.Errorf("cotton in the beater that beats abaca half as fast again: %.2f, by %q", b.Centre(), b.Lent())
	}
}

// A cook's yield is learned from fibre, sheets and stock left, within the error
// of such a balance; a ready pulp's small loss is not.
func TestCookTeachesItsYield(t *testing.T) {
	t.Parallel()
	for _, loss := range []float64{0.35, 0.5, 0.6} {
		m := planned(t, func(r *plan.Request) {
			r.Paper.Furnish = []plan.Part{{Fibre: "kozo", SharePct: 100}}
			r.Paper.Additives = nil
		})
		truth := hidden.Truth{ShrinkLong: 0.01, ShrinkShort: 0.01, Moisture: 0.066, Retained: 0.65, Lost: 0.08, Depth: 20, Hand: 0.02, Couched: 0.1, Loss: loss, Lot: 0.1}
		res := hidden.Play(m.Request, m.Plan, truth, rand.New(rand.NewPCG(4, 3)))
		s := written(m.Request, m.Plan, res, truth)
		s.FibreG = m.Plan.Figures["fibre_air_dry_g"].Value
		// what is beaten and neither in sheets nor in the vat is left in the pail
		made := s.FibreG * (1 - 0.1) * (1 - loss)
		in := res.TestGrams / (1 + truth.Moisture)
		for _, g := range res.Sheets {
			in += g
		}
		left := math.Max(0, made-in-m.Plan.Figures["heel_fibre_g"].Value) / *m.Request.Studio.StockGL
		s.StockLeftL = &left
		o, ok := seen(t, m, s, "yield/")
		if !ok {
			t.Fatalf("nothing was learned of the cook: %v", m.Plan.RestsOn)
		}
		if math.Abs(o.Value-loss) > 0.12 { // two of the balance's error
			t.Errorf("a loss of %.2f is found as %.3f", loss, o.Value)
		}
	}
	text := planned(t, func(*plan.Request) {})
	left := 1.0
	s := studio.State{FibreG: 900, StockLeftL: &left, Couched: 53, Dry: []studio.WeighedDry{{Sheets: 10, Grams: 125, RHPct: 50}}}
	if o, ok := seen(t, text, s, "beater loss"); ok {
		t.Errorf("a balance of a ready pulp taught a loss of %.3f", o.Value)
	}
}

// The mould a sheet was made on stands with what was learned of its depth, and
// lends to other papers on it.
func TestDepthKnowsItsMould(t *testing.T) {
	t.Parallel()
	moulds := func(r *plan.Request) {
		r.Studio.Moulds = []plan.Mould{{Name: "A3", LongMM: 426, ShortMM: 301}, {Name: "small", LongMM: 300, ShortMM: 212}}
	}
	m := planned(t, moulds)
	if m.Plan.Mould != "A3" {
		t.Fatalf("the mould taken is %q", m.Plan.Mould)
	}
	s := studio.State{Tests: []studio.TestWeighed{{Sheets: 3, Grams: m.Plan.Figures["test_weight_g"].Value * 1.2, RHPct: 50}}}
	o, ok := seen(t, m, s, "effective depth/western/")
	if !ok || !slices.ContainsFunc(o.Effects, func(e belief.Effect) bool { return strings.HasSuffix(e.Name, "on the mould A3") }) {
		t.Fatalf("the depth stands under %+v", o.Effects)
	}
	known := belief.NewKnown([]belief.Observation{o}, nil)
	other := m.Request
	other.Paper.Furnish = []plan.Part{{Fibre: "flax", SharePct: 100}}
	depth := func(mould string) float64 {
		list, err := plan.BeliefsOn(other, mould, known)
		if err != nil {
			t.Fatal(err)
		}
		return list[slices.Index(plan.KnownKeys(), "effective_depth_mm")].Centre()
	}
	if on, off := depth("A3"), depth("small"); !(on > off && off > 20) {
		t.Errorf("a flax sheet is reckoned with %.2f mm on the mould learned on, %.2f on another", on, off)
	}
}

// A file of an older program is learned from anew, once, when first asked; what
// was left out stays left out.
func TestLearnsAnewAfterUpgrade(t *testing.T) {
	t.Parallel()
	b, ctx := newBench(t), t.Context()
	times := 0
	b.Learner = func(m studio.Making, s studio.State) []belief.Observation {
		times++
		return []belief.Observation{{ID: m.ID + "/x", Making: m.ID, Belief: "x", Value: 3, At: s.Last, Centre: 2, Scatter: 0.1, Effects: []belief.Effect{{Name: "making of other papers", Weight: 0.2}}}}
	}
	m := b.making()
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("d1", start, studio.WeighedDry{Sheets: 10, Grams: 125, RHPct: 50})))
	if err := b.ExcludeObservation(ctx, m.ID+"/x", "the scale was wet"); err != nil {
		t.Fatal(err)
	}
	err := b.store.Write(ctx, func(tx *store.Tx) error {
		if err := tx.SetLearner(ctx, 0); err != nil {
			return err
		}
		return tx.ReplaceObservations(ctx, m.ID, []belief.Observation{{ID: m.ID + "/x", Belief: "x", Value: 1, At: start}})
	})
	if err != nil {
		t.Fatal(err)
	}
	times = 0
	for range 2 {
		list := must[[]belief.Observation](t)(b.Observations(ctx, studio.ObservationFilter{}))
		if len(list) != 1 || list[0].Value != 3 || list[0].Excluded != "the scale was wet" || list[0].Centre != 2 || list[0].Scatter != 0.1 || len(list[0].Effects) != 1 {
			t.Errorf("after the upgrade: %+v", list)
		}
	}
	if times != 1 {
		t.Errorf("learned %d times, want once", times)
	}
}

// What is known is read again after every change of it, and only then.
func TestKnownFollowsEveryChange(t *testing.T) {
	t.Parallel()
	b, ctx := newBench(t), t.Context()
	b.Learner = func(m studio.Making, s studio.State) []belief.Observation {
		return []belief.Observation{{ID: m.ID + "/x", Making: m.ID, Belief: "x", Value: float64(s.Pulled), At: s.Last}}
	}
	x := func() belief.Belief {
		t.Helper()
		known := must[belief.Known](t)(b.Known(ctx))
		return belief.Belief{Key: "x", Link: belief.Plain, SD: 1, Making: 1}.With(known)
	}
	x() // a new file is learned from anew once, while it holds nothing
	m := b.making()
	if got := x(); len(got.Seen) != 0 {
		t.Errorf("before anything was written down: %+v", got.Seen)
	}
	must[studio.State](t)(b.Record(ctx, m.ID, studio.NewEvent("p1", start, studio.Post{Post: 1, Pulled: 4})))
	if got := x(); got.Count() != 1 || math.Abs(got.Centre()-2) > 1e-9 {
		t.Errorf("after a record: %d seen, %g", got.Count(), got.Centre())
	}
	if err := b.ExcludeObservation(ctx, m.ID+"/x", "felts were soaked"); err != nil {
		t.Fatal(err)
	}
	if got := x(); got.Count() != 0 {
		t.Errorf("after it was left out: %d seen", got.Count())
	}
	if err := b.SetPin(ctx, "x", belief.Pin{Value: 7}); err != nil {
		t.Fatal(err)
	}
	if got := x(); got.Centre() != 7 {
		t.Errorf("after a pin: %g", got.Centre())
	}
	if err := b.ForgetPin(ctx, "x"); err != nil {
		t.Fatal(err)
	}
	if err := b.ExcludeObservation(ctx, m.ID+"/x", ""); err != nil {
		t.Fatal(err)
	}
	if got := x(); math.Abs(got.Centre()-2) > 1e-9 {
		t.Errorf("after both were taken back: %g", got.Centre())
	}
}
