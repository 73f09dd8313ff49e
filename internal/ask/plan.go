package ask

import (
	"reflect"
	"slices"

	"github.com/google/jsonschema-go/jsonschema"

	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/plan"
	"vatside/internal/recharge"
	"vatside/internal/sheet"
	"vatside/internal/source"
)

// Plan is the form of a brief and its plan.
var Plan = newForm[plan.Request, plan.Plan]("vatside plan", custom, plan.Check, amendPlan)

// Vat is the form of what a vat does.
var Vat = newForm[recharge.Request, recharge.Answer]("vatside vat", custom, recharge.Check, amendVat)

// bound is what may stand at a key: its least and most, as plan.Check has
// them, an example, and what it means where the key does not tell.
type bound struct {
	path      string
	low, high float64
	example   any
	about     string
}

var planBounds = []bound{
	{"good_sheets", 1, 20000, 50, "good sheets wanted"},
	{"confidence_pct", 50, 99.9, 95, "how sure the plan is to give them"},
	{"test_sheets", 0, 20, 3, "sheets pulled, ironed and weighed before the run"},
	{"paper.furnish[].share_pct", 0.1, 100, 70, "of bone-dry fibre; the shares add up to 100"},
	{"paper.furnish[].price_per_kg", 0, 10000, 18, ""},
	{"paper.grammage_conditioned_g_m2", 2, 3000, 100, "at 23 °C and 50 % RH"},
	{"paper.tolerance_pct", 0.5, 50, 8, "how far a sheet may be from the grammage"},
	{"paper.share_within_pct", 50, 99.9, 90, "share of the sheets that must be within the tolerance"},
	{"paper.beating_hours", 0, 24, 3, ""},
	{"paper.grams_per_sheet", 0.01, 20000, 12, "bone-dry, learned directly; several dips and poured sheets"},
	{"paper.dips", 1, 60, 3, ""},
	{"paper.furnish[].beating_hours", 0, 24, 6, "beaten by itself, so long; not said: with the rest"},
	{"paper.additives[].dose_pct", 0, 60, 3, "active solids on bone-dry fibre"},
	{"paper.additives[].dose_ml_l", 0, 500, 15, "of a formation aid: its made-up solution to a litre of vat"},
	{"paper.additives[].strength_pct", 0.1, 100, 12, "active share of the product as bought"},
	{"paper.additives[].price_per_kg", 0, 10000, 12, "of the product"},
	{"paper.surface_bath_pct", 0.05, 20, 3, "strength of the size bath, by mass"},
	{"sheet.fills_pct", 5, 100, 60, "of the box around an odd shape"},
	{"sheet.long_mm", 10, 3000, 420, "finished size"},
	{"sheet.short_mm", 10, 3000, 297, "finished size"},
	{"sheet.trim_mm", 0, 100, 5, "taken off each edge"},
	{"sheet.tolerance_mm", 0.5, 200, 5, "how far a deckle edge may fall from the size"},
	{"have.wet_g", 1, 1e6, 12247, "wet pulp in hand"},
	{"have.dry_g", 0, 1e6, 1800, "further dry fibre, air-dry"},
	{"studio.vat_l", 0.2, 5000, 80, ""},
	{"studio.vat_least_l", 0, 5000, 60, "least workable level, at most vat_l"},
	{"studio.stock_g_l", 1, 200, 30, ""},
	{"studio.jug_ml", 20, 20000, 1000, ""},
	{"studio.beater.rated_dry_g", 5, 500000, 680, ""},
	{"studio.beater.water_l", 0.2, 20000, 22.7, ""},
	{"studio.beaters[].rated_dry_g", 5, 500000, 680, ""},
	{"studio.beaters[].water_l", 0.2, 20000, 22.7, ""},
	{"studio.vats[].vat_l", 0.2, 5000, 80, ""},
	{"studio.vats[].least_l", 0, 5000, 60, "at most its vat_l"},
	{"studio.press.force_kn", 0, 5000, 60, "0: no press"},
	{"studio.presses[].force_kn", 0, 5000, 60, "0: no press"},
	{"studio.presses[].daylight_mm", 10, 3000, 230, "its opening"},
	{"studio.presses[].platen_long_mm", 50, 5000, 600, ""},
	{"studio.presses[].platen_short_mm", 50, 5000, 450, ""},
	{"studio.moulds[].sheets_at_a_pull", 1, 24, 2, "of a divided deckle; the size is that of one"},
	{"studio.moulds[].wires_per_cm", 1, 100, 8, ""},
	{"studio.moulds[].count", 1, 100, 1, ""},
	{"studio.lift_kg", 1, 500, 23, "the heaviest post that hands carry here"},
	{"studio.moulds[].long_mm", 10, 3000, 440, "formed size, inside the deckle"},
	{"studio.moulds[].short_mm", 10, 3000, 311, "formed size, inside the deckle"},
	{"studio.felts", 2, 2000, 24, ""},
	{"studio.dryer.places", 1, 10000, 20, ""},
	{"studio.dryer.airflow_m3_s", 0, 20, 0.03, ""},
	{"studio.dryers[].places", 1, 10000, 20, "left out where boards say it"},
	{"studio.dryers[].airflow_m3_s", 0, 20, 0.03, ""},
	{"studio.dryers[].boards", 2, 1000, 10, ""},
	{"studio.dryers[].board_long_mm", 50, 5000, 920, ""},
	{"studio.dryers[].board_short_mm", 50, 5000, 690, ""},
	{"studio.dryers[].blotters", 0, 10000, 36, ""},
	{"studio.scales[].step_g", 0.0001, 1000, 0.1, "what it can tell apart"},
	{"studio.scales[].most_g", 1, 1e6, 5000, ""},
	{"studio.seasons[].temp_c", 0, 45, 16, ""},
	{"studio.seasons[].rh_pct", 5, 90, 70, ""},
	{"studio.month", 1, 12, 11, "which season it is"},
	{"studio.water.hardness_mg_l", 0, 2000, 120, "as calcium carbonate"},
	{"studio.water.ph", 3, 11, 7.4, ""},
	{"studio.water.iron_mg_l", 0, 50, 0.1, ""},
	{"studio.overhead_pct", 0, 500, 20, "on hands and materials"},
	{"studio.lots[].wet_g", 0, 1e8, 2000, "as the scale says"},
	{"studio.lots[].moisture_pct_wet_basis", 0, 99, 8, ""},
	{"studio.lots[].price_per_kg", 0, 10000, 18, ""},
	{"studio.air.temp_c", 0, 45, 20, ""},
	{"studio.air.rh_pct", 5, 90, 50, ""},
	{"studio.altitude_m", -430, 5000, 0, ""},
	{"studio.rate_per_hour", 0, 100000, 25, ""},
	{"studio.hands_hours_per_day", 0.5, 16, 6, ""},
	{"studio.fibre_in_store_g", 0, 1e8, 5000, "air-dry"},
}

var vatBounds = []bound{
	{"vat_l", 0.2, 5000, 80, ""},
	{"formed_area_m2", 0.0001, 9, 0.126, "inside the deckle"},
	{"effective_depth_mm", 0.5, 200, 19.4, "dip depth × retained share"},
	{"carried_off_l", 0, 500, 0.21, "couched water and drips, a sheet"},
	{"grammage_formed_g_m2", 0.5, 3000, 100, "bone-dry solids on formed area"},
	{"sheets", 1, 20000, 30, ""},
	{"tolerance_pct", 0.1, 90, 5, ""},
	{"hand_scatter_pct", 0, 40, 4, ""},
	{"share_within_pct", 1, 99.9, 90, ""},
	{"vat_least_l", 0, 5000, 60, "at most vat_l"},
	{"stock_g_l", 0.1, 500, 30, ""},
	{"jug_ml", 20, 20000, 1000, "1000 if not said"},
	{"first_fill_solids_g", 0.01, 1e6, 360, ""},
}

func limit(s *jsonschema.Schema, b bound) {
	s.Minimum, s.Maximum, s.Description = &b.low, &b.high, b.about
	s.Examples = []any{b.example}
}

// custom are the types that write their JSON themselves.
func custom() map[reflect.Type]*jsonschema.Schema {
	grades := choice(gradeWords()...)
	return map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[source.Grade](): grades,
		reflect.TypeFor[figure.Kind]():  choice(string(figure.Decision), string(figure.Outcome)),
		reflect.TypeFor[plan.Pin](): {
			Description: `Give a number, or an object such as {"value": 4, "grade": "measured"}`,
			OneOf: []*jsonschema.Schema{
				{Type: "number"},
				object([]string{"value"}, prop{"value", &jsonschema.Schema{Type: "number"}}, prop{"grade", grades}),
			},
		},
		reflect.TypeFor[recharge.Rule](): rule(),
	}
}

// rule is the four ways to say how a vat is recharged.
func rule() *jsonschema.Schema {
	act := must[plan.Recharge](nil)
	most := 20000 // one before every sheet
	act.Required = []string{"before_sheet"}
	for _, b := range []bound{
		{"before_sheet", 1, 20000, 4, ""}, {"solids_g", 0, 1e5, 35, ""}, {"stock_ml", 0, 1e7, 1166, ""}, {"water_off_l", 0, 5000, 0.5, ""},
	} {
		limit(at(act, b.path), b)
	}
	dose := func(low, high float64, example any) *jsonschema.Schema {
		s := &jsonschema.Schema{Type: "number"}
		limit(s, bound{"", low, high, example, ""})
		return s
	}
	every := dose(1, 20000, 3)
	every.Type = "integer"
	return &jsonschema.Schema{
		Description: `Give "none", "advised", an object such as {"every": 3, "solids_g": 35, "stock_g_l": 30}, or a list as a plan's vat.recharges`,
		OneOf: []*jsonschema.Schema{
			choice("none", "advised"),
			object([]string{"every", "solids_g", "stock_g_l"}, prop{"every", every}, prop{"solids_g", dose(0, 1e5, 35)}, prop{"stock_g_l", dose(0.1, 500, 30)}),
			{Type: "array", Items: act, MaxItems: &most},
		},
	}
}

func amendPlan(request *jsonschema.Schema) {
	request.Required = []string{"paper", "sheet"}
	request.AnyOf = []*jsonschema.Schema{{Required: []string{"good_sheets"}}, {Required: []string{"have"}}}
	request.Not = &jsonschema.Schema{Required: []string{"good_sheets", "have"}}
	for _, b := range planBounds {
		limit(at(request, b.path), b)
	}
	wordsAt(request, "paper.forming", plan.Formings)
	wordsAt(request, "paper.drying", fibre.Dryings())
	wordsAt(request, "sheet.edges", plan.Edges)
	wordsAt(request, "sheet.shape", sheet.Shapes())
	wordsAt(request, "studio.beaters[].kind", plan.BeaterKinds)
	wordsAt(request, "studio.presses[].kind", plan.PressKinds)
	wordsAt(request, "studio.moulds[].face", plan.Faces)
	wordsAt(request, "studio.moulds[].shape", sheet.Shapes())
	wordsAt(request, "studio.dryers[].kind", fibre.Dryings())
	most := 200
	at(request, "paper.name").MaxLength = &most
	least, parts, moulds := 1, 40, 200 // ours: more than any shelf holds
	at(request, "paper.additives").MaxItems = &parts
	for _, key := range []string{"moulds", "vats", "beaters", "presses", "dryers", "scales", "seasons", "lots", "fibres", "without"} {
		at(request, "studio."+key).MaxItems = &moulds
	}
	furnish := at(request, "paper.furnish")
	furnish.Examples = []any{[]plan.Part{{Fibre: "cotton rag", SharePct: 70}, {Fibre: "abaca", SharePct: 30}}}
	furnish.MinItems, furnish.MaxItems = &least, &parts
	at(request, "paper.furnish[].fibre").Examples = []any{"cotton rag"}
	at(request, "paper.additives[].kind").Examples = []any{"calcium carbonate"}
	at(request, "studio.currency").Pattern = "^([A-Z]{3})?$"
	solids := at(request, "have.solids_pct")
	solids.Examples = []any{[]int{8, 15}}
	limit(solids.Items, bound{"", 0.1, 95, 10, ""})
	known := at(request, "known")
	known.PropertyNames = choice(plan.KnownKeys()...)
	known.Description = "what is fixed, by coefficient"
	at(request, "paper").Examples = []any{struct {
		Furnish []plan.Part `json:"furnish"`
		G       int         `json:"grammage_conditioned_g_m2"`
	}{[]plan.Part{{Fibre: "cotton rag", SharePct: 100}}, 100}}
	at(request, "sheet").Examples = []any{plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"}}
}

func amendVat(request *jsonschema.Schema) {
	request.Required = slices.DeleteFunc(request.Required, func(k string) bool { return k == "recharge" }) // not said: none
	for _, b := range vatBounds {
		limit(at(request, b.path), b)
	}
}

// wordsAt says which words may stand at a key.
func wordsAt(s *jsonschema.Schema, path string, list []string) {
	at(s, path).Enum = choice(list...).Enum
}

func choice(list ...string) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "string"}
	for _, w := range list {
		s.Enum = append(s.Enum, w)
	}
	return s
}

type prop struct {
	key string
	of  *jsonschema.Schema
}

func object(required []string, props ...prop) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Required: required, Properties: map[string]*jsonschema.Schema{}, AdditionalProperties: &jsonschema.Schema{Not: &jsonschema.Schema{}}}
	for _, p := range props {
		s.Properties[p.key] = p.of
		s.PropertyOrder = append(s.PropertyOrder, p.key)
	}
	return s
}

func gradeWords() []string {
	var out []string
	for g := source.Standard; g <= source.Memory; g++ {
		out = append(out, g.String())
	}
	return out
}
