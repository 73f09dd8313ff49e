package watch_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/watch"
)

// hot is a whole run by what comes next, with three sheets weighed hot after
// every six; a weighing is what is expected of the sheets, times what share
// says of the sheet that was couched last, and the scatter of three hands.
func hot(t *testing.T, seed uint64, share func(n int) float64) watch.Past {
	t.Helper()
	d := diary{m: made(t)}
	p, err := studio.RunPrior(d.m.Request, d.m.Plan)
	if err != nil {
		t.Fatal(err)
	}
	chance := rand.New(rand.NewPCG(seed, 3))
	each := d.m.Plan.Figures["dry_solids_per_sheet_g"].Value // as expected, all along
	for {
		n := d.now()
		if n.Couched >= n.Wanted {
			break
		}
		d.do(n)
		if c := n.Couched + 1; c%6 == 0 {
			d.note(studio.TestWeighed{Sheets: 3, From: c - 2, BoneDry: true, Sure: true, Grams: 3 * each * share(c) * math.Exp(p.Hand/math.Sqrt(3)*chance.NormFloat64())})
		}
	}
	past, err := watch.Back(d.m, d.events)
	if err != nil {
		t.Fatal(err)
	}
	return past
}

// Chance alone is called so; sheets that are a sixth lighter from the middle of a
// run on are seen, and where it began, to a weighing.
func TestDrift(t *testing.T) {
	t.Parallel()
	false1 := 0
	for seed := range uint64(6) {
		quiet := hot(t, seed, func(int) float64 { return 1 })
		if len(quiet.Weighings) < 6 || !quiet.Told() || !quiet.Fed {
			t.Fatalf("%d weighings of %d sheets", len(quiet.Weighings), len(quiet.Sheets))
		}
		if len(quiet.Drifts) > 0 {
			false1++
		}
		d := hot(t, seed, func(n int) float64 {
			if n > 24 {
				return 5.0 / 6
			}
			return 1
		}).Drifts
		if len(d) == 0 || !d[len(d)-1].Light || d[len(d)-1].From != 28 {
			t.Errorf("a sixth lighter from sheet 25 on: %+v", d)
		}
	}
	if false1 > 1 { // one in 238 weighings, of about fifty
		t.Errorf("%d of 6 runs drift by chance", false1)
	}
}

// What is said of a run follows its entries: marks between the sheets they fell
// between, posts, sheets as they are told at the vat, the weighing set aside.
func TestBack(t *testing.T) {
	t.Parallel()
	d := diary{m: made(t)}
	each := d.m.Plan.Figures["conditioned_mass_per_sheet_g"].Value
	for range 3 {
		d.note(studio.Post{Post: 1, Pulled: 1})
	}
	d.note(studio.TestWeighed{Sheets: 3, Grams: 3 * each, RHPct: 50}, studio.Recharge{AfterSheet: new(3), StockML: 1000},
		studio.VatChanged{StockOffL: 0.5, WaterL: -0.5}, studio.VatChanged{TempC: new(18.0)}, studio.Post{Post: 2, Pulled: 1},
		studio.TestWeighed{Sheets: 1, From: 4, Grams: 3 * each, RHPct: 50}, studio.VatStrained{TakenL: 1, Grams: 4})
	p, err := watch.Back(d.m, d.events)
	if err != nil || len(p.Sheets) != 4 || p.Posts[3] != 2 || len(p.Weighings) != 1 || len(p.Strange) != 1 || len(p.Drifts) > 0 {
		t.Fatalf("%+v: %v", p, err)
	}
	var marks []int
	for _, m := range p.Marks {
		marks = append(marks, m.After)
	}
	if got, want := marks, []int{3, 3, 3, 4, 4}; len(got) != len(want) || got[0] != 3 || got[4] != 4 {
		t.Errorf("marks after %v, want %v", got, want)
	}
	if w := p.Weighings[0]; w.First != 1 || w.Last != 3 || w.After != 3 || w.Beyond() || w.EventID != d.events[3].ID {
		t.Errorf("weighed: %+v", w)
	}
	if w := p.Strange[0]; !w.Beyond() || w.Off < 1 {
		t.Errorf("set aside: %+v", w)
	}
	if math.Abs(float64(p.Wanted)-90) > 0.5 || p.Tolerance != 0.12 || p.Within < 0.5 || !(p.Scatter > 0.01 && p.Scatter < 0.15) {
		t.Errorf("wanted %.1f, within %g: %.2f, scatter %.3f", float64(p.Wanted), p.Tolerance, p.Within, p.Scatter)
	}
	if now := d.now(); *now.Last != p.Sheets[3] {
		t.Errorf("at the vat %+v, afterwards %+v", *now.Last, p.Sheets[3])
	}
	empty, err := watch.Back(d.m, nil)
	if err != nil || empty.Told() || len(empty.Sheets) != 0 {
		t.Errorf("of nothing: %+v, %v", empty, err)
	}
	if _, err := watch.Back(made(t, func(r *plan.Request) { r.Paper.Forming = "poured"; r.Paper.PourG = new(5.0) }), nil); err == nil {
		t.Error("poured sheets were followed")
	}
}
