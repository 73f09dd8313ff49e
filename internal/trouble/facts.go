package trouble

import (
	"vatside/internal/measure"
)

// Facts are what is known of one making. All are optional: nil is unknown. None
// is guessed from another.
type Facts struct {
	Fibres        []string        `json:"fibres,omitempty"`
	LongFibre     *bool           `json:"long_fibre,omitempty"`      // it knots and staples: bast, long leaf
	FibreLength   *measure.Length `json:"fibre_length_mm,omitempty"` // mean, as it comes to the vat
	LongShare     *measure.Share  `json:"long_share,omitempty"`      // of long fibre in the furnish
	RecycledShare *measure.Share  `json:"recycled_share,omitempty"`
	Filler        *measure.Dose   `json:"filler,omitempty"` // chalk, clay and pigment on bone-dry fibre
	BeatingHours  *measure.Hours  `json:"beating_hours,omitempty"`
	Blender       *bool           `json:"blender,omitempty"` // beaten in a blender alone
	Coloured      *bool           `json:"coloured,omitempty"`
	RetentionAid  *bool           `json:"retention_aid,omitempty"`
	InternalSize  *bool           `json:"internal_size,omitempty"`
	SurfaceSize   *bool           `json:"surface_size,omitempty"`
	CuredDays     *measure.Days   `json:"cured_days,omitempty"` // since drying
	HardWater     *bool           `json:"hard_water,omitempty"`

	WetHours       *measure.Hours       `json:"wet_hours,omitempty"` // the wet stock or vat water stood
	WetTemperature *measure.Temperature `json:"wet_temperature_c,omitempty"`

	MeshPerCm      *measure.Number      `json:"mesh_per_cm,omitempty"` // wires or openings to the cm of the face
	MouldDiagonals *measure.Length      `json:"mould_diagonals_mm,omitempty"`
	DeckleRocks    *bool                `json:"deckle_rocks,omitempty"`
	Consistency    *measure.Consistency `json:"consistency_g_l,omitempty"`
	Crowding       *measure.Number      `json:"crowding,omitempty"` // crowding number of the stock
	FormationAid   *bool                `json:"formation_aid,omitempty"`
	VatTemperature *measure.Temperature `json:"vat_temperature_c,omitempty"`
	RechargeEvery  *int                 `json:"recharge_every,omitempty"`  // sheets; 0: never
	Thinning       *measure.Share       `json:"thinning,omitempty"`        // of the vat, by one sheet
	LateWeight     *measure.Share       `json:"late_weight,omitempty"`     // of the last sheets over the first, less one
	WeightError    *measure.Share       `json:"weight_error,omitempty"`    // of the first sheets over the aim, less one
	Drain          *measure.Minutes     `json:"drain_min,omitempty"`       // from lifting to the end of the shine
	Held           *measure.Minutes     `json:"held_min,omitempty"`        // the mould was held level after lifting
	Shook          *measure.Minutes     `json:"shook_min,omitempty"`       // from lifting to the last shake
	MinutesASheet  *measure.Minutes     `json:"minutes_a_sheet,omitempty"` // from pull to pull
	Across         *measure.Share       `json:"across,omitempty"`          // right edge over left, less one, against the light
	Along          *measure.Share       `json:"along,omitempty"`           // far edge over near, less one
	Pulled         *int                 `json:"pulled,omitempty"`          // sheets pulled
	KissedOff      *int                 `json:"kissed_off,omitempty"`      // of them
	FirstBad       *int                 `json:"first_bad,omitempty"`       // bad sheets in a row at the start of a run
	Wanted         *int                 `json:"wanted,omitempty"`          // good sheets
	FeltsDamp      *bool                `json:"felts_damp,omitempty"`      // wetted and wrung before couching
	SyntheticFelts *bool                `json:"synthetic_felts,omitempty"`
	SheetsInPost   *int                 `json:"sheets_in_post,omitempty"`

	Pressure  *measure.Pressure            `json:"pressure_kpa,omitempty"` // on the sheets
	Solids    *measure.Solids              `json:"solids,omitempty"`       // after the press
	Grammage  *measure.GrammageConditioned `json:"grammage_g_m2,omitempty"`
	Drying    string                       `json:"drying,omitempty"` // one of Dryings; "": unknown
	DryHours  *measure.Hours               `json:"dry_hours,omitempty"`
	RoomRH    *measure.RelHumidity         `json:"room_rh,omitempty"`
	Diagonals *measure.Length              `json:"diagonals_mm,omitempty"` // difference of the sheet's diagonals
}

// Ways of drying.
const (
	Stack    = "stack"    // between blotters and boards with moving air
	Exchange = "exchange" // between changed blotters
	Board    = "board"    // brushed on a board, glass or mirror
	Loft     = "loft"     // hung
	Free     = "free"     // unheld
)

// Dryings are the ways of drying that facts may name.
func Dryings() []string { return []string{Stack, Exchange, Board, Loft, Free} }

// check refuses facts that cannot be meant.
func (f *Facts) check() error {
	for _, err := range []error{
		inside("fibre_length_mm", "the fibre length", f.FibreLength, 0, 500, "mm"),
		inside("long_share", "the share of long fibre", f.LongShare, 0, 1, ""),
		inside("recycled_share", "the share of recycled fibre", f.RecycledShare, 0, 1, ""),
		inside("filler", "the filler on fibre", f.Filler, 0, 2, ""),
		inside("beating_hours", "the hours of beating", f.BeatingHours, 0, 200, "h"),
		inside("cured_days", "the days since drying", f.CuredDays, 0, 10_000, "days"),
		inside("wet_hours", "the hours the stock stood wet", f.WetHours, 0, 10_000, "h"),
		inside("wet_temperature_c", "the temperature of the wet stock", f.WetTemperature, -30, 100, "°C"),
		inside("mesh_per_cm", "the mesh of the face", f.MeshPerCm, 0.5, 100, "to the cm"),
		inside("mould_diagonals_mm", "the difference of the mould's diagonals", f.MouldDiagonals, 0, 200, "mm"),
		inside("consistency_g_l", "the consistency of the vat", f.Consistency, 0, 100, "g/L"),
		inside("crowding", "the crowding number", f.Crowding, 0, 10_000, ""),
		inside("vat_temperature_c", "the temperature of the vat", f.VatTemperature, 0, 60, "°C"),
		inside("recharge_every", "the sheets between recharges", f.RechargeEvery, 0, 10_000, ""),
		inside("thinning", "what a sheet thins the vat by", f.Thinning, 0, 0.99, ""),
		inside("late_weight", "the weight of the last sheets over the first, less one,", f.LateWeight, -1, 10, ""),
		inside("weight_error", "the weight over the aim, less one,", f.WeightError, -1, 10, ""),
		inside("drain_min", "the time to drain", f.Drain, 0, 1440, "min"),
		inside("held_min", "the time the mould was held", f.Held, 0, 1440, "min"),
		inside("shook_min", "the time until the last shake", f.Shook, 0, 1440, "min"),
		inside("minutes_a_sheet", "the time from pull to pull", f.MinutesASheet, 0.05, 1440, "min"),
		inside("across", "the right edge over the left, less one,", f.Across, -1, 10, ""),
		inside("along", "the far edge over the near, less one,", f.Along, -1, 10, ""),
		inside("pulled", "the sheets pulled", f.Pulled, 0, 1_000_000, ""),
		inside("kissed_off", "the pulls kissed off", f.KissedOff, 0, 1_000_000, ""),
		inside("first_bad", "the bad first sheets", f.FirstBad, 0, 1000, ""),
		inside("wanted", "the good sheets wanted", f.Wanted, 0, 1_000_000, ""),
		inside("sheets_in_post", "the sheets in a post", f.SheetsInPost, 0, 1000, ""),
		inside("pressure_kpa", "the pressure on the sheets", f.Pressure, 0, 20_000, "kPa"),
		inside("solids", "the solids after the press", f.Solids, 0.02, 0.95, ""),
		inside("grammage_g_m2", "the grammage", f.Grammage, 0, 5000, "g/m²"),
		inside("dry_hours", "the hours of drying", f.DryHours, 0, 10_000, "h"),
		inside("room_rh", "the relative humidity", f.RoomRH, 0, 1, ""),
		inside("diagonals_mm", "the difference of the sheet's diagonals", f.Diagonals, 0, 500, "mm"),
		f.together(),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}
