package plan_test

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/source"
)

// brief draws a request of any kind that a studio might send.
func brief(t *rapid.T) plan.Request {
	pick := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	maybe := func(name string, low, high float64) *float64 {
		if !rapid.Bool().Draw(t, "say "+name) {
			return nil
		}
		return ptr(rapid.Float64Range(low, high).Draw(t, name))
	}
	long := rapid.Float64Range(80, 900).Draw(t, "long")
	r := plan.Request{
		Paper: plan.Paper{
			Forming: pick("forming", "", "western", "western", "several dips", "poured"), Drying: pick("drying", "", "stack", "exchange", "board", "loft", "free"),
			Furnish:             []plan.Part{{Fibre: pick("fibre", "cotton linters", "cotton rag", "flax", "kozo"), SharePct: 60}, {Fibre: "abaca", SharePct: 40}},
			GrammageConditioned: rapid.Float64Range(15, 400).Draw(t, "g"), TolerancePct: maybe("tolerance", 4, 20), BeatingHours: maybe("hours", 0.5, 10),
		},
		Sheet:      plan.Sheet{LongMM: long, ShortMM: long * rapid.Float64Range(0.4, 1).Draw(t, "ratio"), Edges: pick("edges", "", "deckle", "trimmed")},
		GoodSheets: ptr(rapid.IntRange(1, 400).Draw(t, "n")), ConfidencePct: maybe("confidence", 60, 99),
		Studio: plan.Studio{VatL: ptr(rapid.Float64Range(60, 400).Draw(t, "vat")), StockGL: ptr(rapid.Float64Range(25, 60).Draw(t, "stock"))},
	}
	if rapid.Bool().Draw(t, "chalk") {
		r.Paper.Additives = []plan.Additive{{Kind: "calcium carbonate", DosePct: rapid.Float64Range(0.5, 20).Draw(t, "dose")}}
	}
	return r
}

// feasible makes a plan, or skips what the equipment cannot do.
func feasible(t *rapid.T, r plan.Request) plan.Plan {
	p, err := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 300})
	if fault.KindOf(err) == fault.KindInfeasible {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Asking for more sheets, or for more confidence, never asks for less fibre or
// fewer pulls.
func TestMoreNeverAsksForLess(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := brief(t)
		p := feasible(t, r)
		more := r
		more.GoodSheets = ptr(*r.GoodSheets + rapid.IntRange(1, 60).Draw(t, "more"))
		surer := r
		conf := 95.0
		if r.ConfidencePct != nil {
			conf = *r.ConfidencePct
		}
		surer.ConfidencePct = ptr(conf + (99.8-conf)*rapid.Float64Range(0, 1).Draw(t, "surer"))
		q, s := feasible(t, more), feasible(t, surer)
		if p.Seed != q.Seed || p.Seed != s.Seed {
			t.Fatalf("seeds %d, %d, %d: what is asked for moved the draws", p.Seed, q.Seed, s.Seed)
		}
		for _, key := range []string{"fibre_air_dry_g", "fibre_bone_dry_g", "sheets_couched", "sheets_to_pull", "fibre_in_sheets_g", "posts", "beater_loads"} {
			a, b, c := p.Figures[key].Value, q.Figures[key].Value, s.Figures[key].Value
			if b < a*(1-1e-9) {
				t.Errorf("%d sheets want %s %g, %d want %g", *r.GoodSheets, key, a, *more.GoodSheets, b)
			}
			if c < a*(1-1e-9) {
				t.Errorf("confidence %g %% wants %s %g, %g %% wants %g", conf, key, a, *surer.ConfidencePct, c)
			}
		}
	})
}

// A heavier sheet of the same stock takes no less fibre.
func TestHeavierTakesMore(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := brief(t)
		heavy := r
		heavy.Paper.GrammageConditioned *= rapid.Float64Range(1.01, 1.6).Draw(t, "heavier")
		p, q := feasible(t, r), feasible(t, heavy)
		for _, key := range []string{"fibre_per_sheet_g", "fibre_air_dry_g", "conditioned_mass_per_sheet_g"} {
			// fewer sheets to a recharge move the mean of the run by a trifle
			if q.Figures[key].Value < p.Figures[key].Value*0.995 {
				t.Errorf("%s: %g at %g g/m², %g at %g g/m²", key, p.Figures[key].Value, r.Paper.GrammageConditioned, q.Figures[key].Value, heavy.Paper.GrammageConditioned)
			}
		}
	})
}

// Any brief that is taken gives numbers only, with sums that hold.
func TestAnyBriefGivesNumbers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		p := feasible(rt, brief(rt))
		for key, f := range p.Figures {
			checkFigure(t, key, f)
		}
		if t.Failed() {
			rt.Fatalf("see above")
		}
		if len(p.Steps) > 0 && (p.Steps[0].Key != "weigh" || p.Steps[len(p.Steps)-1].Key != "clean-down") {
			rt.Fatalf("the steps go from %s to %s", p.Steps[0].Key, p.Steps[len(p.Steps)-1].Key)
		}
		level := 0.0
		for _, a := range p.Vat.Recharges {
			level = max(level, a.VatL)
			for _, v := range []float64{a.SolidsG, a.StockML, a.Jugs, a.WaterOffL, a.WaterInL, a.VatL, a.GrammageBefore, a.GrammageAfter} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					rt.Fatalf("recharge %+v", a)
				}
			}
		}
		if _, err := json.Marshal(p); err != nil {
			rt.Fatal(err)
		}
	})
}

// The same request and knowledge give the same answer, byte for byte.
func TestSameRequestSameAnswer(t *testing.T) {
	t.Parallel()
	for name, r := range requests(t) {
		var texts [2][]byte
		for i := range texts {
			p, err := plan.Make(r, belief.Known{})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if texts[i], err = json.Marshal(p); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(texts[0], texts[1]) {
			t.Errorf("%s: two answers to one request differ", name)
		}
	}
}

// The number of draws moves figures by no more than their sampling error: the
// centre of what follows from centres alone stays where it is.
func TestMoreDrawsSamePlan(t *testing.T) {
	t.Parallel()
	r := requests(t)["unknown"]
	few, err1 := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 2000})
	many, err2 := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 20000})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	for key, f := range few.Figures {
		g := many.Figures[key]
		if math.Abs(f.Value-g.Value) > 0.04*math.Abs(g.Value)+1e-9 || math.Abs(f.High-f.Low-(g.High-g.Low)) > 0.12*(g.High-g.Low)+0.001*g.Value {
			t.Errorf("%s is %.4g (%.4g–%.4g) from 2,000 draws, %.4g (%.4g–%.4g) from 20,000", key, f.Value, f.Low, f.High, g.Value, g.Low, g.High)
		}
	}
}

// Without pins the request names every prior with its source and grade, all
// from the handbook; with all pinned, none is left.
func TestUnknownNamesEveryPrior(t *testing.T) {
	t.Parallel()
	r := requests(t)["unknown"]
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]plan.Prior{}
	for _, b := range p.RestsOn {
		named[b.Key] = b
		s, ok := source.Get(b.Source)
		if !ok || b.State != "handbook" || b.Seen != 0 || b.Name == "" || b.Belief == "" {
			t.Errorf("%+v", b)
		}
		if b.Grade < s.Grade {
			t.Errorf("%s is graded %s, its source only %s", b.Key, b.Grade, s.Grade)
		}
		if !(b.Low < b.High && b.Low <= b.Value*1.0001 && b.Value <= b.High*1.0001) {
			t.Errorf("%s is %g, %g–%g", b.Key, b.Value, b.Low, b.High)
		}
	}
	for k := range worked(t).Known {
		if k == "shrink_short_pct" {
			k = "shrink_ratio" // both shrinkages are drawn as their mean and ratio
		}
		if _, ok := named[k]; !ok {
			t.Errorf("%s is not named", k)
		}
	}
	fixed, err := plan.Make(worked(t), belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range fixed.RestsOn {
		if _, pinned := worked(t).Known[b.Key]; pinned && (b.State != "fixed" || b.Low != b.High || math.Abs(b.Value-worked(t).Known[b.Key].Value) > 1e-9) {
			t.Errorf("pinned, yet %+v", b)
		}
	}
}

// band is a figure's relative half band, of a decision what will be used.
func band(p plan.Plan, key string) float64 {
	f := p.Figures[key]
	if f.ExpectedLow != nil {
		return (*f.ExpectedHigh - *f.ExpectedLow) / (*f.ExpectedHigh + *f.ExpectedLow) * 100
	}
	return (f.High - f.Low) / 2 / f.Value * 100
}

// rests says which figure a coefficient is felt in. The lot's moisture and the
// beater's loss are left out: what they take from the fibre they take from the
// strength of the stock as well, and the amount to weigh hardly rests on them.
var rests = map[string]string{
	"shrink_long_pct": "dry_long_mm", "moisture_conditioned_pct_dry_basis": "dry_solids_per_sheet_g", "effective_depth_mm": "vat_consistency_g_l",
	"solids_pressed_pct": "water_after_press_kg",
	"solids_couched_pct": "level_stock_g_l", "additive_retained_pct": "fibre_per_sheet_g", "hand_scatter_pct": "share_within_pct",
}

// Pinning a coefficient, or observing it once at its centre, narrows what
// rests on it.
func TestKnowingNarrows(t *testing.T) {
	t.Parallel()
	r := requests(t)["unknown"]
	many := plan.Options{Draws: 8000} // the draws are the same whatever is known
	before, err := plan.MakeWith(r, belief.Known{}, many)
	if err != nil {
		t.Fatal(err)
	}
	list, err := plan.Beliefs(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	for i, key := range plan.KnownKeys() {
		figure, ok := rests[key]
		if !ok {
			continue
		}
		b := list[i]
		prior := before.RestsOn[0]
		for _, p := range before.RestsOn {
			if p.Key == key {
				prior = p
			}
		}
		fixed := r
		fixed.Known = map[string]plan.Pin{key: {Value: prior.Value, Grade: source.Measured}}
		pinned, err := plan.MakeWith(fixed, belief.Known{}, many)
		if err != nil {
			t.Fatalf("%s: %v", key, err)
		}
		seen, err := plan.MakeWith(r, belief.Known{Seen: map[string][]belief.Observation{b.Key: {{Value: b.Centre()}, {Value: b.Centre()}}}}, many)
		if err != nil {
			t.Fatalf("%s: %v", key, err)
		}
		was, now, then := band(before, figure), band(pinned, figure), band(seen, figure)
		if now >= was {
			t.Errorf("%s pinned: %s was ±%.2f %%, is ±%.2f %%", key, figure, was, now)
		}
		if then >= was {
			t.Errorf("%s seen twice: %s was ±%.2f %%, is ±%.2f %%", key, figure, was, then)
		}
	}
}

// What a test is said to do is what it does: with the test's outcome at the
// centre and its error as promised, the band comes out within 15 % of what was
// said, or a point; narrower also by a tenth of the band there was, since draws
// far out, which the test rules out, count for more than the forecast sees.
func TestHelpDoesWhatItSays(t *testing.T) {
	t.Parallel()
	for name, r := range requests(t) {
		if r.Have != nil {
			continue
		}
		p, err := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 8000})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, h := range p.HelpMost[:min(3, len(p.HelpMost))] {
			if i > 0 && h.BandNow-h.BandNew > p.HelpMost[i-1].BandNow-p.HelpMost[i-1].BandNew+1e-9 {
				t.Errorf("%s: %s stands after what helps less", name, h.Belief)
			}
			if h.BandNew >= h.BandNow || h.BandNew < 0 || h.Minutes <= 0 || h.Measure == "" {
				t.Errorf("%s: %+v", name, h)
			}
			if math.Abs(band(p, h.Narrows)-h.BandNow) > 0.02*h.BandNow {
				t.Errorf("%s: %s is said to be ±%.2f %% now and is ±%.2f %%", name, h.Narrows, h.BandNow, band(p, h.Narrows))
			}
			after, err := plan.MakeWith(r, belief.Known{}, plan.Options{Draws: 8000, Amend: func(by map[string]belief.Belief) {
				by[h.Belief] = tested(by[h.Belief], plan.ErrorOfTest(h.Belief))
			}})
			if err != nil {
				t.Fatalf("%s, %s: %v", name, h.Belief, err)
			}
			got := band(after, h.Narrows)
			t.Logf("%-28s %-36s %-16s ±%5.1f %% → said ±%5.1f %%, is ±%5.1f %%", name, h.Belief, h.Narrows, h.BandNow, h.BandNew, got)
			if near := max(1, 0.15*h.BandNew); got > h.BandNew+near || got < h.BandNew-max(near, 0.1*h.BandNow) {
				t.Errorf("%s: testing %s was to leave %s ±%.1f %%, and leaves ±%.1f %%", name, h.Belief, h.Narrows, h.BandNew, got)
			}
		}
	}
}

// With one coefficient unknown, no test sheets and a hand without scatter, a test leaves of the band
// what its error leaves of the coefficient: e/√(σ² + e²).
func TestHelpOfOneUnknown(t *testing.T) {
	t.Parallel()
	for _, key := range []string{"moisture_air_dry_pct_wet_basis", "beater_loss_pct", "additive_retained_pct"} {
		r := worked(t)
		r.TestSheets, r.Studio.VatLeastL = ptr(0), ptr(0.0)
		known := map[string]plan.Pin{}
		for k, v := range r.Known {
			if k != key {
				known[k] = v
			}
		}
		known["hand_scatter_pct"] = plan.Pin{}
		r.Known = known
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		list, err := plan.Beliefs(r, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		var sd float64
		for i, k := range plan.KnownKeys() {
			if k == key {
				_, sd = list[i].Next()
			}
		}
		e := plan.ErrorOfTest(key)
		want, found := e/math.Hypot(sd, e), false
		for _, h := range p.HelpMost {
			if h.Belief == key {
				found = true
				if got := h.BandNew / h.BandNow; math.Abs(got-want) > 0.05*want {
					t.Errorf("%s leaves %.3f of the band of %s, want %.3f", key, got, h.Narrows, want)
				}
			}
		}
		if !found {
			t.Errorf("%s is the one unknown, and its test is not named: %+v", key, p.HelpMost)
		}
	}
}

// Fibre is weighed out so that it suffices in all but a third of the risk.
func TestFibreKeepsItsThird(t *testing.T) {
	t.Parallel()
	enough := regexp.MustCompile(`fibre enough ([0-9.]+) %`)
	for conf, want := range map[float64]float64{95: 98.3, 80: 93.3, 60: 86.7} {
		r := requests(t)["unknown"]
		r.ConfidencePct = ptr(conf)
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, l := range p.Figures["promise_pct"].Sum {
			if m := enough.FindStringSubmatch(l.Note); m != nil {
				got = m[1]
			}
		}
		if v, err := strconv.ParseFloat(got, 64); err != nil || math.Abs(v-want) > 0.15 {
			t.Errorf("confidence %g %%: fibre suffices in %s %%, want %g", conf, got, want)
		}
	}
}

// tested is the belief once the next making's own value was measured with an
// error of sd on the link scale, at the centre: normal and normal.
func tested(b belief.Belief, sd float64) belief.Belief {
	m, s := b.Next()
	b.Mean, b.SD, b.Making, b.Seen = m, s*sd/math.Hypot(s, sd), 0, nil
	return b
}
