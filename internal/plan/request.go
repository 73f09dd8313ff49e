package plan

import (
	"bytes"
	"encoding/json"

	"vatside/internal/fault"
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
	Dips                *int       `json:"dips,omitempty"`            // several dips: how many
	PourG               *float64   `json:"grams_per_sheet,omitempty"` // several dips, poured: learned directly
	SurfaceSize         string     `json:"surface_size,omitempty"`    // a word such as gelatin; empty means waterleaf
	Finish              string     `json:"finish,omitempty"`          // what binders and scribes ask for, in words
}

// Part is a share of the furnish, per cent of bone-dry fibre.
type Part struct {
	Fibre    string   `json:"fibre"`
	SharePct float64  `json:"share_pct"`
	PriceKg  *float64 `json:"price_per_kg,omitempty"`
}

// Additive is added to the stock, per cent on bone-dry fibre.
type Additive struct {
	Kind    string  `json:"kind"`
	DosePct float64 `json:"dose_pct"`
}

// Sheet is the finished size wanted.
type Sheet struct {
	LongMM      float64  `json:"long_mm"`
	ShortMM     float64  `json:"short_mm"`
	Edges       string   `json:"edges,omitempty"` // deckle, trimmed
	TrimMM      *float64 `json:"trim_mm,omitempty"`
	ToleranceMM *float64 `json:"tolerance_mm,omitempty"` // how far a deckle edge may fall from the size
}

// Have is pulp in hand, for the reverse question "what can this make?".
type Have struct {
	WetG      float64    `json:"wet_g"`
	SolidsPct [2]float64 `json:"solids_pct"`
	DryG      *float64   `json:"dry_g,omitempty"` // further dry material, air-dry
}

// Studio is the equipment a plan must know.
type Studio struct {
	VatL       *float64 `json:"vat_l,omitempty"`
	VatLeastL  *float64 `json:"vat_least_l,omitempty"`
	StockGL    *float64 `json:"stock_g_l,omitempty"`
	JugML      *float64 `json:"jug_ml,omitempty"`
	Beater     *Beater  `json:"beater,omitempty"`
	Press      *Press   `json:"press,omitempty"`
	Moulds     []Mould  `json:"moulds,omitempty"`
	Felts      *int     `json:"felts,omitempty"`
	Dryer      *Dryer   `json:"dryer,omitempty"`
	Air        *Air     `json:"air,omitempty"`
	AltitudeM  *float64 `json:"altitude_m,omitempty"`
	RateHour   *float64 `json:"rate_per_hour,omitempty"`
	Currency   string   `json:"currency,omitempty"`
	HandsADay  *float64 `json:"hands_hours_per_day,omitempty"`
	FibreStock *float64 `json:"fibre_in_store_g,omitempty"` // air-dry grams the store holds; a plan that needs more says what is short
}

// Beater is one Hollander: the most bone-dry fibre it takes and its water.
type Beater struct {
	RatedDryG float64 `json:"rated_dry_g"`
	WaterL    float64 `json:"water_l"`
}

// Press is its greatest force.
type Press struct {
	ForceKN float64 `json:"force_kn"`
}

// Mould is one mould by its formed size inside the deckle.
type Mould struct {
	Name    string  `json:"name"`
	LongMM  float64 `json:"long_mm"`
	ShortMM float64 `json:"short_mm"`
}

// Dryer is places for sheets and moving air.
type Dryer struct {
	Places     int     `json:"places"`
	AirflowM3S float64 `json:"airflow_m3_s"`
}

// Air is the room.
type Air struct {
	TempC float64 `json:"temp_c"`
	RHPct float64 `json:"rh_pct"`
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
