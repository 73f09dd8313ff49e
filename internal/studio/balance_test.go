package studio_test

import (
	"strings"
	"testing"

	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// A maker's first run of a new beater (common practice): two pounds of dry
// shreds in eleven US gallons, ten of them used, about 65 sheets "mostly" of
// 5.5 × 8.5 in. Ten elevenths of 907 g in 65 sheets is 12.7 g each, 421 g/m²:
// board, not paper. It is flagged with the sum, not refused.
func TestImplausibleBalanceIsFlagged(t *testing.T) {
	t.Parallel()
	good, stock, none := 65, 21.8, 0.0 // 907 g in 41.6 L
	m := studio.Making{
		Request: plan.Request{Paper: plan.Paper{GrammageConditioned: 100}, Sheet: plan.Sheet{LongMM: 215.9, ShortMM: 139.7}, GoodSheets: &good,
			Studio: plan.Studio{StockGL: &stock, VatLeastL: &none}},
		Plan: plan.Plan{Figures: map[string]figure.Figure{"fibre_air_dry_g": {Value: 200}, "fibre_bone_dry_g": {Value: 200}}},
	}
	state := func(grams, left float64) studio.State {
		return studio.Replay(m, []studio.Event{
			studio.NewEvent("e1", start, studio.FibreWeighed{Grams: grams}),
			studio.NewEvent("e2", start, studio.StockLeft{Litres: left}),
			studio.NewEvent("e3", start, studio.Post{Post: 1, Pulled: 65}),
		})
	}
	odd := state(907, 3.785).Odd
	if len(odd) != 1 || odd[0].Code != "balance" || !strings.Contains(odd[0].Text, "about 421 g/m²") && !strings.Contains(odd[0].Text, "about 420 g/m²") {
		t.Errorf("flags: %+v", odd)
	}
	if odd := state(285, 3.785).Odd; len(odd) != 0 { // 202 g in 65 sheets: 103 g/m²
		t.Errorf("a plausible balance is flagged: %+v", odd)
	}
}
