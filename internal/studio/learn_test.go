package studio_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/testkit/hidden"
)

// unpinned is the worked making of the plan's tests with nothing fixed.
func unpinned(t testing.TB) plan.Request {
	t.Helper()
	b, err := os.ReadFile("../plan/testdata/worked_request.json")
	if err != nil {
		t.Fatal(err)
	}
	var r plan.Request
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	r.Known = nil
	return r
}

// written is what the maker writes on the card of a making that went so.
func written(r plan.Request, p plan.Plan, res hidden.Result, t hidden.Truth) studio.State {
	n := 0.0
	for _, g := range res.Sheets {
		n += g * (1 + t.Moisture)
	}
	couched := len(res.Sheets) + *r.TestSheets
	mean := n / float64(len(res.Sheets))
	return studio.State{
		Pulled: couched + 2, KissedOff: 2, Couched: couched, Recharged: len(p.Vat.Recharges),
		Tests:   []studio.TestWeighed{{Sheets: *r.TestSheets, Grams: res.TestGrams, RHPct: 50}},
		Parting: []studio.WeighedAtParting{{Post: 1, Sheets: 10, Grams: 10 * mean / (1 + t.Moisture) / 0.3}},
		Dry:     []studio.WeighedDry{{Sheets: 10, Grams: 10 * mean, RHPct: 50}},
		Sizes:   []studio.DrySize{{LongMM: math.Round(res.DryLong), ShortMM: math.Round(res.DryShort)}},
		Graded:  true, Grades: studio.Graded{Good: res.Good, Broke: len(res.Sheets) - res.Good},
		Minutes: map[string]float64{"pull and couch": 150, "beat": 60},
	}
}

// narrower is how wide a band may still be after four makings, over what it
// was. What is left is the lot's moisture, what differs from making to making,
// and, of the hours, the steps whose minutes were not written down.
var narrower = map[string]float64{"fibre_air_dry_g": 0.75, "dry_long_mm": 0.75, "water_after_press_kg": 0.75, "hands_on_hours": 0.85}

// A studio that writes its cards up learns its own depth and shrinkage: after
// four makings the plan's bands are narrower, and the depth it reckons with is
// close to the hidden one.
func TestMakingsTeach(t *testing.T) {
	t.Parallel()
	r := unpinned(t)
	known := belief.Known{Seen: map[string][]belief.Observation{}}
	truth := hidden.Truth{ShrinkLong: 0.012, ShrinkShort: 0.010, Moisture: 0.066, Retained: 0.65, Lost: 0.08, Depth: 15, Hand: 0.04, Couched: 0.1, Loss: 0.03, Lot: 0.08}
	widths := map[string][]float64{}
	var p plan.Plan
	for i := range 5 {
		var err error
		if p, err = plan.Make(r, known); err != nil {
			t.Fatal(err)
		}
		for k := range narrower {
			f := p.Figures[k]
			low, high := f.Low, f.High
			if f.ExpectedLow != nil {
				low, high = *f.ExpectedLow, *f.ExpectedHigh
			}
			widths[k] = append(widths[k], (high-low)/f.Value)
		}
		res := hidden.Play(r, p, truth, rand.New(rand.NewPCG(uint64(i), 3)))
		m := studio.Making{ID: "making" + string(rune('a'+i)), Request: r, Plan: p}
		for _, o := range studio.Learn(m, written(r, p, res, truth)) {
			known.Seen[o.Belief] = append(known.Seen[o.Belief], o)
		}
	}
	for k, w := range widths {
		t.Logf("%s: bands over the makings, of the amount: %.4f", k, w)
		if w[4] > w[0]*narrower[k] {
			t.Errorf("after four makings the band of %s is %.3f of the amount, it began at %.3f", k, w[4], w[0])
		}
	}
	for _, b := range p.RestsOn {
		switch b.Key {
		case "effective_depth_mm":
			if math.Abs(b.Value-15) > 1 {
				t.Errorf("the depth reckoned with is %.2f mm; the hidden one is 15", b.Value)
			}
			if b.Seen != 4 || b.State != "measured" {
				t.Errorf("depth: seen %d times, %s", b.Seen, b.State)
			}
		case "shrink_long_pct":
			if math.Abs(b.Value-1.1) > 0.3 {
				t.Errorf("the shrinkage reckoned with is %.2f %%; the hidden one is 1.1", b.Value)
			}
		case "lost_later_pct":
			if b.Value < 4 || b.Value > 13 {
				t.Errorf("losses reckoned with are %.1f %%; the hidden ones are 8", b.Value)
			}
		}
	}
}

// Without test sheets the dry weights tell of the depth, more weakly.
func TestDepthFromDryWeights(t *testing.T) {
	t.Parallel()
	r := unpinned(t)
	none := 0
	r.TestSheets = &none
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	truth := hidden.Truth{ShrinkLong: 0.01, ShrinkShort: 0.01, Moisture: 0.066, Retained: 0.65, Lost: 0.08, Depth: 16, Hand: 0.01, Couched: 0.1, Loss: 0.032, Lot: 0.085}
	res := hidden.Play(r, p, truth, rand.New(rand.NewPCG(1, 3)))
	s := written(r, p, res, truth)
	s.Tests = nil
	for _, o := range studio.Learn(studio.Making{ID: "m", Request: r, Plan: p}, s) {
		if o.Value > 10 && o.SD > 0 && o.Trials == 0 {
			if math.Abs(o.Value/16-1) > 2*o.SD {
				t.Errorf("depth read from the run is %.2f mm ± %.0f %%; the hidden one is 16", o.Value, o.SD*100)
			}
			return
		}
	}
	t.Error("nothing was learned of the depth")
}
