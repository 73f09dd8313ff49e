package plan

import (
	"bytes"
	"encoding/json"

	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/source"
)

// Request is a brief with all that a plan may rest on: the wish, and, where
// the maker gives them, the studio's equipment and pinned coefficients. Keys
// carry their unit. A nil pointer means "not said": the studio's records fill
// it, else the handbook's defaults.
type Request struct {
	Paper         Paper          `json:"paper"`
	Sheet         Sheet          `json:"sheet"`
	GoodSheets    *int           `json:"good_sheets,omitempty"`
	Have          *Have          `json:"have,omitempty"`
	ConfidencePct *float64       `json:"confidence_pct,omitempty"`
	TestSheets    *int           `json:"test_sheets,omitempty"`
	Studio        Studio         `json:"studio"`
	Known         map[string]Pin `json:"known,omitempty"`
}

// Paper is the design to be made.
type Paper struct {
	Name                string     `json:"name,omitempty"`
	Use                 string     `json:"use,omitempty"`
	Forming             string     `json:"forming,omitempty"` // western, several dips, poured
	Furnish             []Part     `json:"furnish"`
	GrammageConditioned float64    `json:"grammage_conditioned_g_m2"`
	TolerancePct        *float64   `json:"tolerance_pct,omitempty"`
	ShareWithinPct      *float64   `json:"share_within_pct,omitempty"`
	BeatingHours        *float64   `json:"beating_hours,omitempty"`
	Drying              string     `json:"drying,omitempty"` // stack, exchange, board, loft, free
	Additives           []Additive `json:"additives,omitempty"`
	Dips                *int       `json:"dips,omitempty"`             // several dips: how many
	PourG               *float64   `json:"grams_per_sheet,omitempty"`  // several dips, poured: learned directly
	SurfaceSize         string     `json:"surface_size,omitempty"`     // a word such as gelatin; empty means waterleaf
	SurfaceWay          string     `json:"surface_way,omitempty"`      // dipped, nipped, brushed
	SurfaceBathPct      *float64   `json:"surface_bath_pct,omitempty"` // strength of the bath, by mass
	Finish              string     `json:"finish,omitempty"`           // what binders and scribes ask for, in words
}

// Tolerance is how far a sheet may weigh from what is wanted, as a fraction: as
// the paper says, else as usual.
func (p Paper) Tolerance() float64 { return deref(p.TolerancePct, usualTolerance) / 100 }

// Part is a share of the furnish, per cent of bone-dry fibre.
type Part struct {
	Fibre        string   `json:"fibre"`
	SharePct     float64  `json:"share_pct"`
	BeatingHours *float64 `json:"beating_hours,omitempty"` // beaten by itself, so long; not said: with the rest
	Cooked       *bool    `json:"cooked,omitempty"`        // raw fibre that is bought or kept cooked
	PriceKg      *float64 `json:"price_per_kg,omitempty"`
}

// Additive is added to the stock: active solids in per cent on bone-dry fibre;
// or, of a formation aid, millilitres of its made-up solution to a litre of
// vat. StrengthPct is how much of the product as bought is active.
type Additive struct {
	Kind        string   `json:"kind"`
	DosePct     float64  `json:"dose_pct,omitempty"`
	DoseMLL     float64  `json:"dose_ml_l,omitempty"`
	StrengthPct *float64 `json:"strength_pct,omitempty"`
	PriceKg     *float64 `json:"price_per_kg,omitempty"` // of the product
}

// Sheet is the finished size wanted: of a shape other than the rectangle, the
// box around it.
type Sheet struct {
	LongMM      float64  `json:"long_mm"`
	ShortMM     float64  `json:"short_mm"`
	Shape       string   `json:"shape,omitempty"`     // rectangle, round, oval, odd
	FillsPct    *float64 `json:"fills_pct,omitempty"` // odd: how much of its box it fills
	Edges       string   `json:"edges,omitempty"`     // deckle, trimmed
	TrimMM      *float64 `json:"trim_mm,omitempty"`
	ToleranceMM *float64 `json:"tolerance_mm,omitempty"` // how far a deckle edge may fall from the size
}

// Have is pulp in hand, for the reverse question "what can this make?".
type Have struct {
	WetG      float64    `json:"wet_g"`
	SolidsPct [2]float64 `json:"solids_pct"`
	DryG      *float64   `json:"dry_g,omitempty"` // further dry material, air-dry
}

// Pin fixes a coefficient: a bare number in JSON, or an object with a grade.
type Pin struct {
	Value float64      `json:"value"`
	Grade source.Grade `json:"grade"`
}

// UnmarshalJSON reads a pin as a bare number, which is graded common practice,
// or as {"value": …, "grade": "measured"}.
func (p *Pin) UnmarshalJSON(b []byte) error {
	var v float64
	if err := json.Unmarshal(b, &v); err == nil && !bytes.Equal(bytes.TrimSpace(b), []byte("null")) {
		*p = Pin{Value: v, Grade: source.Practice}
		return nil
	}
	type plain Pin
	full := struct {
		Value *float64 `json:"value"`
		Grade *source.Grade
	}{}
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&full); err != nil || full.Value == nil {
		return fault.Invalid("", `Give a number, or {"value": 4, "grade": "measured"}.`)
	}
	q := plain{Value: *full.Value, Grade: source.Practice}
	if full.Grade != nil {
		q.Grade = *full.Grade
	}
	*p = Pin(q)
	return nil
}

// MarshalJSON writes what UnmarshalJSON reads.
func (p Pin) MarshalJSON() ([]byte, error) {
	if p.Grade == source.Practice {
		return json.Marshal(p.Value)
	}
	return json.Marshal(struct {
		Value float64      `json:"value"`
		Grade source.Grade `json:"grade"`
	}{p.Value, p.Grade})
}

// Plan is the answer to a Request.
type Plan struct {
	Figures  map[string]figure.Figure `json:"figures"`
	Weigh    []Weigh                  `json:"weigh"`
	Loads    []Load                   `json:"loads"`
	Vat      VatTable                 `json:"vat"`
	Steps    []Step                   `json:"steps"`
	Warnings []Warning                `json:"warnings"`
	HelpMost []Help                   `json:"help_most"`
	RestsOn  []Prior                  `json:"rests_on"`
	Mould    string                   `json:"mould,omitempty"`
	Uses     []string                 `json:"uses"` // the equipment by name, that the plan rests on
	Seed     uint64                   `json:"seed"`
}

// Weigh is one thing to weigh out: a fibre as it lies on the shelf, or an
// additive as bought dry.
type Weigh struct {
	What     string  `json:"what"`
	Lot      string  `json:"lot,omitempty"`
	Grams    float64 `json:"grams"`
	Additive bool    `json:"additive"`
	ActiveG  float64 `json:"active_g,omitempty"`    // of it, what acts
	Solution float64 `json:"solution_ml,omitempty"` // made up as Note says
	Note     string  `json:"note,omitempty"`
}

// Load is what one machine does of one batch: so many equal loads.
type Load struct {
	Batch   string  `json:"batch"`
	Machine string  `json:"machine,omitempty"`
	Loads   int     `json:"loads"`
	EachG   float64 `json:"each_g"` // bone-dry
	WaterL  float64 `json:"water_l"`
	Hours   float64 `json:"hours"` // a load
}

// VatTable is what to do at the vat, sheet by sheet.
type VatTable struct {
	Recharges []Recharge `json:"recharges"`
	Tests     []TestRow  `json:"tests"` // what to do after the test sheets, by their weight
}

// Recharge is one act at the vat before a sheet: stock in, or, in the
// run-down, water off.
type Recharge struct {
	BeforeSheet    int     `json:"before_sheet"`
	SolidsG        float64 `json:"solids_g"`
	StockML        float64 `json:"stock_ml"`
	Jugs           float64 `json:"jugs"`
	WaterOffL      float64 `json:"water_off_l"`          // taken off through a strainer, so that the level holds (or, run down, falls)
	WaterInL       float64 `json:"water_in_l,omitempty"` // water added, where the stock is thicker than keeps the level
	VatL           float64 `json:"vat_l"`                // level after the act
	GrammageBefore float64 `json:"grammage_before_g_m2"`
	GrammageAfter  float64 `json:"grammage_after_g_m2"`
	RunDown        bool    `json:"run_down"`
}

// TestRow is one row of the table for the test sheets: if together they weigh
// between From and To (ironed, at the room's moisture), do this.
type TestRow struct {
	FromG    float64 `json:"from_g"`
	ToG      float64 `json:"to_g"` // 0: no upper end
	StockML  float64 `json:"stock_ml"`
	Jugs     float64 `json:"jugs"`
	WaterInL float64 `json:"water_in_l"`
}

// Step is one step of the making, in order.
type Step struct {
	Key       string   `json:"key"`  // weigh, soak, beat, …
	Name      string   `json:"name"` // plain words
	Note      string   `json:"note,omitempty"`
	HandsOn   Span     `json:"hands_on_min"`
	WaitLeast float64  `json:"wait_least_h"`
	WaitMost  float64  `json:"wait_most_h"`
	Occupies  []string `json:"occupies"`            // hands, beater, vat, press, dryer
	KeepByH   float64  `json:"keep_by_h,omitempty"` // the next step must start within so many hours
	Cautions  []string `json:"cautions,omitempty"`
	UsualMin  float64  `json:"usual_min"` // hands-on minutes of a usual studio, before what this one knows
}

// Span is a value with its 90 % band.
type Span struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Warning is what equipment, safety or arithmetic says against the plan.
type Warning struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// Help is one cheap test and what it would do to the plan.
type Help struct {
	Measure string  `json:"measure"` // what to do, in words
	Belief  string  `json:"belief"`  // the coefficient it tells of
	Minutes float64 `json:"minutes"`
	Narrows string  `json:"narrows"` // key of the figure
	BandNow float64 `json:"band_now_pct"`
	BandNew float64 `json:"band_then_pct"`
}

// Prior is one coefficient the plan rests on, named with source and grade.
type Prior struct {
	Key    string       `json:"key"`  // as under known, where it can be fixed there
	Name   string       `json:"name"` // plain words
	Value  float64      `json:"value"`
	Low    float64      `json:"low"`
	High   float64      `json:"high"`
	Unit   string       `json:"unit"`
	Source string       `json:"source"`
	Grade  source.Grade `json:"grade"`
	State  string       `json:"state"`  // handbook, measured, fixed
	Seen   int          `json:"seen"`   // observations of this studio
	Belief string       `json:"belief"` // key of what the studio learns
}

// Keys of the figures, in the order of the page and the card.
var FigureOrder = []string{
	"promise_pct", "sheets_to_pull", "sheets_couched", "formed_long_mm", "formed_short_mm", "dry_long_mm", "dry_short_mm",
	"fibre_air_dry_g", "fibre_bone_dry_g", "fibre_in_sheets_g", "heel_fibre_g",
	"conditioned_mass_per_sheet_g", "dry_solids_per_sheet_g", "fibre_per_sheet_g",
	"beater_loads", "beater_load_g", "beater_hours",
	"vat_consistency_g_l", "vat_first_fill_g", "vat_first_fill_l", "sheets_per_recharge", "recharge_solids_g", "recharge_stock_ml", "recharge_jugs",
	"level_stock_g_l", "level_rise_l", "crowding", "grammage_g_m2", "caliper_mm", "density_g_cm3", "bulk_cm3_g", "share_within_pct", "test_weight_g",
	"post_sheets", "posts", "post_weight_kg", "press_pressure_kpa", "water_after_press_kg",
	"dryer_loads", "drying_hours", "size_on_sheet_pct", "size_bath_l", "size_g", "hands_on_hours", "elapsed_days",
	"cost_work", "cost_materials", "cost_overhead", "cost_total", "cost_per_good_sheet", "price_floor_shop", "sheets_possible",
}
