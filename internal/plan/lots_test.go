package plan_test

import (
	"math"
	"strings"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/plan"
)

func lot(name, what string, grams, moisture float64, beaten bool) plan.Lot {
	return plan.Lot{Name: name, What: what, WetG: grams, MoisturePct: &moisture, Beaten: beaten}
}

// shelf is the worked making from a shelf: nothing of moisture is fixed.
func shelf(t *testing.T, lots ...plan.Lot) plan.Plan {
	t.Helper()
	r := worked(t)
	delete(r.Known, "moisture_air_dry_pct_wet_basis")
	r.Studio.Lots = lots
	p, err := plan.Make(r, belief.Known{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Each lot is weighed at its own moisture: the dry fibre of all is what the
// plan asks for, 1014 g by the contract, in the shares of the furnish.
func TestLotsAreWeighedByTheirDryFibre(t *testing.T) {
	t.Parallel()
	moist := map[string]float64{"old rag": 12, "new rag": 6, "abaca bale": 9}
	p := shelf(t, lot("old rag", "cotton rag", 300, 12, false), lot("new rag", "cotton rag", 5000, 6, false), lot("abaca bale", "abaca", 5000, 9, false))
	dry, rag := 0.0, 0.0
	for _, w := range p.Weigh {
		if w.Additive {
			continue
		}
		if w.Lot == "" {
			t.Errorf("%.0f g of %s come from nowhere", w.Grams, w.What)
		}
		d := w.Grams * (1 - moist[w.Lot]/100)
		dry += d
		if w.What == "cotton rag" {
			rag += d
		}
		if w.Lot == "old rag" && math.Abs(w.Grams-300) > 0.01 {
			t.Errorf("of the oldest lot %.1f g are taken, it holds 300", w.Grams)
		}
	}
	if math.Abs(dry-1014) > 10 || math.Abs(rag/dry-0.7) > 1e-6 {
		t.Errorf("the lots hold %.0f g dry, of it %.3f rag; want 1014 and 0.7", dry, rag/dry)
	}
}

// Stock and broke that are beaten already do not go into the beater again, and
// are weighed wet: 10 kg at 3 % solids are 300 g of fibre.
func TestBeatenLotsAreNotBeatenAgain(t *testing.T) {
	t.Parallel()
	p := shelf(t, lot("pail from last week", "cotton rag", 10000, 97, true), lot("rag", "cotton rag", 5000, 8, false), lot("abaca", "abaca", 5000, 8, false))
	beaten := 0.0
	for _, l := range p.Loads {
		beaten += float64(l.Loads) * l.EachG
	}
	if math.Abs(beaten-(1014-300)) > 10 {
		t.Errorf("%.0f g go into the beater, want 714", beaten)
	}
	for _, w := range p.Weigh {
		if w.Lot == "pail from last week" && math.Abs(w.Grams-10000) > 0.1 {
			t.Errorf("of the pail %.0f g are taken, want all 10000", w.Grams)
		}
	}
	all := shelf(t, lot("pail", "cotton rag", 60000, 97, true), lot("tub", "abaca", 60000, 97, true))
	if n := all.Figures["beater_loads"].Value; n != 0 || len(all.Loads) != 0 {
		t.Errorf("all is beaten already, and yet there are %g loads", n)
	}
}

// A shelf that holds too little says so, and by how much as it lies.
func TestShelfTooSmall(t *testing.T) {
	t.Parallel()
	p := shelf(t, lot("rag", "cotton rag", 100, 8, false), lot("abaca", "abaca", 5000, 8, false))
	for _, w := range p.Warnings {
		if w.Code == "store short" && strings.Contains(w.Text, "cotton rag") {
			return
		}
	}
	t.Error("100 g of rag for 700 g, and nothing is said")
}

// What the tables of the trade have against each other is said in the plan.
func TestWhatDoesNotGoTogether(t *testing.T) {
	t.Parallel()
	codes := func(change func(*plan.Request)) map[string]bool {
		r := worked(t)
		change(&r)
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]bool{}
		for _, w := range p.Warnings {
			out[w.Code] = true
		}
		return out
	}
	with := func(kinds ...string) func(*plan.Request) {
		return func(r *plan.Request) {
			r.Paper.Additives = nil
			for _, k := range kinds {
				r.Paper.Additives = append(r.Paper.Additives, plan.Additive{Kind: k, DosePct: 3})
			}
		}
	}
	if !codes(with("rosin size", "calcium carbonate"))["clash"] || codes(with("calcium carbonate"))["clash"] {
		t.Error("rosin size with chalk is an acid size with an alkali: it must be said, and only then")
	}
	board := func(kind string) func(*plan.Request) {
		return func(r *plan.Request) {
			with(kind)(r)
			r.Paper.Drying = "board"
		}
	}
	if !codes(board("AKD"))["size on glass"] || codes(board("calcium carbonate"))["size on glass"] {
		t.Error("paper sized in the stock sticks to glass: it must be said, and only of it")
	}
	wet := func(solids float64) func(*plan.Request) {
		return func(r *plan.Request) { r.Known["solids_pressed_pct"] = plan.Pin{Value: solids} }
	}
	if !codes(wet(14))["too wet for a stack"] || codes(wet(33))["too wet for a stack"] {
		t.Error("dripping sheets must not go into a stack, pressed ones may")
	}
}

// Of cooked fibre a raw furnish takes what the cook left of the raw: kozo of
// which half is left weighs out at half its dry mass, less what beating loses.
// Where cooked kozo is asked for, raw kozo is left on the shelf.
func TestCookedLots(t *testing.T) {
	t.Parallel()
	weigh := func(cooked bool, lots ...plan.Lot) map[string]float64 {
		r := worked(t)
		delete(r.Known, "moisture_air_dry_pct_wet_basis")
		delete(r.Known, "beater_loss_pct")
		r.Paper.Furnish = []plan.Part{{Fibre: "kozo", SharePct: 100}}
		if cooked {
			r.Paper.Furnish[0].Cooked = &cooked
		}
		r.Studio.Lots = lots
		p, err := plan.Make(r, belief.Known{})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]float64{}
		for _, w := range p.Weigh {
			if !w.Additive {
				out[w.Lot] += w.Grams
			}
		}
		return out
	}
	done := lot("pot", "kozo", 1e5, 85, false)
	done.Cooked = true
	raw := lot("bale", "kozo", 1e5, 10, false)
	fromRaw, fromPot, asked := weigh(false, raw)["bale"]*0.9, weigh(false, done)["pot"]*0.15, weigh(true, raw, done)
	f, _ := fibre.Get("kozo")
	if by := fromRaw * f.Yield.Mid / 0.968; math.Abs(fromPot/by-1) > 0.05 {
		t.Errorf("%.0f g dry from the bale, or %.0f g from the pot; by hand %.0f", fromRaw, fromPot, by)
	}
	if asked["bale"] != 0 || math.Abs(asked["pot"]*0.15/fromPot-1) > 0.1 {
		t.Errorf("cooked kozo is weighed out as %v", asked)
	}
}
