package ask

import (
	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/rehearsal"
)

// Simulate is the form of runs against hidden vats.
var Simulate = newForm[rehearsal.Request, rehearsal.Answer]("vatside vat simulate", custom, rehearsal.Check, amendSimulate)

// The ranges are those of rehearsal.Check.
var simulateBounds = []bound{
	{"vat_l", 0.2, 5000, 80, ""},
	{"formed_area_m2", 0.0001, 9, 0.0994, "inside the deckle"},
	{"target_formed_g_m2", 0.5, 3000, 86, "bone-dry solids on formed area"},
	{"sheets", 1, 500, 60, "of a run, the first weighed not counted"},
	{"recharge_every", 1, 20, 1, "sheets; by feel it is 8"},
	{"first_weighed", 0, 20, 3, "pulled and weighed together before the run; advised only"},
	{"weigh_every", 0, 500, 10, "sheets; 0: never"},
	{"weighed_together", 1, 500, 3, "the last so many; not said: as many as first_weighed, at least one"},
	{"result_delay_sheets", 0, 500, 0, "sheets pulled before a weighing is known"},
	{"effective_depth_mm", 0.5, 200, 20, "as the maker believes"},
	{"stock_g_l", 0.1, 500, 30, "as the maker believes"},
	{"solids_couched_pct", 2, 50, 10, "as the maker believes"},
	{"runs", 1, 10000, 1000, "all runs together at most 1,000,000 sheets"},
	{"seed", 0, 1<<31 - 1, 1, ""},
	{"hidden.depth_sd_pct", 0, 50, 15, "log-normal"},
	{"hidden.hand_pct", 0.1, 40, 4, "scatter from sheet to sheet"},
	{"hidden.stock_pct", 0, 50, 5, ""},
	{"hidden.carried_off_pct", 0, 80, 30, ""},
	{"hidden.drift_pct", 0, 50, 10, "of the depth over the run, up or down"},
	{"hidden.pour_pct", 0, 50, 2, "of each pouring"},
	{"hidden.forgotten_pct", 0, 90, 20, "share of the runs in which one recharge is noted and not poured"},
	{"hidden.scale_g", 0, 1000, 0.1, "of a reading"},
}

func amendSimulate(request *jsonschema.Schema) {
	for _, b := range simulateBounds {
		limit(at(request, b.path), b)
	}
	wordsAt(request, "policy", rehearsal.Policies)
}
