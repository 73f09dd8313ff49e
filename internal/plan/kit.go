package plan

import (
	"slices"
	"strings"

	"vatside/internal/drying"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Studio is the equipment a plan must know. Of each kind there may be one,
// under the short key, or a list in the order the studio likes to use them; the
// plan takes the first that serves. Without names what is out of order.
type Studio struct {
	VatL       *float64    `json:"vat_l,omitempty"`
	VatLeastL  *float64    `json:"vat_least_l,omitempty"`
	Vats       []Vat       `json:"vats,omitempty"`
	StockGL    *float64    `json:"stock_g_l,omitempty"`
	JugML      *float64    `json:"jug_ml,omitempty"`
	Beater     *Beater     `json:"beater,omitempty"`
	Beaters    []Beater    `json:"beaters,omitempty"`
	Press      *Press      `json:"press,omitempty"`
	Presses    []Press     `json:"presses,omitempty"`
	Moulds     []Mould     `json:"moulds,omitempty"`
	Felts      *int        `json:"felts,omitempty"`
	LiftKG     *float64    `json:"lift_kg,omitempty"` // the heaviest post that hands carry here
	Dryer      *Dryer      `json:"dryer,omitempty"`
	Dryers     []Dryer     `json:"dryers,omitempty"`
	Scales     []Scale     `json:"scales,omitempty"`
	Air        *Air        `json:"air,omitempty"`
	Seasons    []Season    `json:"seasons,omitempty"` // the room through the year
	Month      *int        `json:"month,omitempty"`   // 1 to 12: which season it is
	Water      *Water      `json:"water,omitempty"`
	AltitudeM  *float64    `json:"altitude_m,omitempty"`
	RateHour   *float64    `json:"rate_per_hour,omitempty"`
	Overhead   *float64    `json:"overhead_pct,omitempty"` // on hands and materials
	Currency   string      `json:"currency,omitempty"`
	HandsADay  *float64    `json:"hands_hours_per_day,omitempty"`
	FibreStock *float64    `json:"fibre_in_store_g,omitempty"` // air-dry grams the store holds; a plan that needs more says what is short
	Lots       []Lot       `json:"lots,omitempty"`
	Fibres     []fibre.Own `json:"fibres,omitempty"`
	Without    []string    `json:"without,omitempty"` // names of equipment that is out of order
}

// Vat is one vat: what it holds when worked, and its least workable level.
type Vat struct {
	Name   string   `json:"name,omitempty"`
	VatL   float64  `json:"vat_l"`
	LeastL *float64 `json:"least_l,omitempty"`
}

// Beater is one machine that beats: the most bone-dry fibre it takes and its
// water.
type Beater struct {
	Name      string  `json:"name,omitempty"`
	Kind      string  `json:"kind,omitempty"` // beater, blender
	RatedDryG float64 `json:"rated_dry_g"`
	WaterL    float64 `json:"water_l"`
	Ground    string  `json:"bars_ground,omitempty"` // the day its bars were last ground, such as 2026-03-01
}

// Press is its greatest force, and what goes into it.
type Press struct {
	Name     string   `json:"name,omitempty"`
	Kind     string   `json:"kind,omitempty"` // jack, screw, lever, weights, vacuum table
	ForceKN  float64  `json:"force_kn"`
	Daylight *float64 `json:"daylight_mm,omitempty"` // its opening
	LongMM   *float64 `json:"platen_long_mm,omitempty"`
	ShortMM  *float64 `json:"platen_short_mm,omitempty"`
}

// Mould is one mould by its formed size inside the deckle; of a divided deckle
// the size of one sheet, and how many come at a pull.
type Mould struct {
	Name    string   `json:"name"`
	LongMM  float64  `json:"long_mm"`
	ShortMM float64  `json:"short_mm"`
	AtAPull *int     `json:"sheets_at_a_pull,omitempty"`
	MeshCM  *float64 `json:"wires_per_cm,omitempty"`
	Face    string   `json:"face,omitempty"`  // wove, laid
	Shape   string   `json:"shape,omitempty"` // rectangle, round, oval, odd
	Count   *int     `json:"count,omitempty"`
}

// Dryer is places for sheets and moving air. Where it is boards and blotters,
// the places follow from the size of the sheet.
type Dryer struct {
	Name       string   `json:"name,omitempty"`
	Kind       string   `json:"kind,omitempty"` // as paper.drying; empty: stack
	Places     int      `json:"places,omitempty"`
	AirflowM3S float64  `json:"airflow_m3_s"`
	Boards     *int     `json:"boards,omitempty"`
	LongMM     *float64 `json:"board_long_mm,omitempty"` // of its boards, or the largest sheet it takes
	ShortMM    *float64 `json:"board_short_mm,omitempty"`
	Blotters   *int     `json:"blotters,omitempty"`
}

// Scale is what a scale can tell apart, and the most it carries.
type Scale struct {
	Name  string  `json:"name,omitempty"`
	StepG float64 `json:"step_g"`
	MostG float64 `json:"most_g"`
}

// Air is the room.
type Air struct {
	TempC float64 `json:"temp_c"`
	RHPct float64 `json:"rh_pct"`
}

// Season is the room in some months of the year.
type Season struct {
	Name   string  `json:"name"`
	Months []int   `json:"months"` // 1 to 12
	TempC  float64 `json:"temp_c"`
	RHPct  float64 `json:"rh_pct"`
}

// Water is what the studio knows of its water.
type Water struct {
	HardnessMGL *float64 `json:"hardness_mg_l,omitempty"` // as calcium carbonate
	PH          *float64 `json:"ph,omitempty"`
	IronMGL     *float64 `json:"iron_mg_l,omitempty"`
}

// Lot is fibre or an additive on the shelf, the oldest first. WetG is what the
// scale says; MoisturePct of it is water.
type Lot struct {
	Name        string   `json:"name"`
	What        string   `json:"what"` // the fibre or additive
	WetG        float64  `json:"wet_g"`
	MoisturePct *float64 `json:"moisture_pct_wet_basis,omitempty"`
	PriceKg     *float64 `json:"price_per_kg,omitempty"`
	Beaten      bool     `json:"beaten,omitempty"` // stock or scrap that need not be beaten again
	Cooked      bool     `json:"cooked,omitempty"` // raw fibre that was cooked already
}

// kit is the equipment a plan uses: of each kind the first of the studio's list
// that serves and is in order.
type kit struct {
	vat, least    measure.Volume
	vatName       string
	stock         measure.Consistency
	jug           float64
	beaters       []Beater
	presser       Press
	pressFits     bool
	felts, places int
	lift          *float64
	dryer         Dryer
	airflow       measure.Airflow
	step          float64 // g, of the finest scale; 0: not said
	temp          measure.Temperature
	rh            measure.RelHumidity
	altitude      measure.Altitude
	rate, day     float64
	overhead      float64
	currency      string
}

// settleKit picks the equipment; what nobody names is taken as usual, and told.
func (s *settled) settleKit(k Studio) {
	s.settleVat(k)
	s.stock = measure.Consistency(s.taken(k.StockGL, UsualStock, "stock of %g g/L"))
	s.jug = s.taken(k.JugML, UsualJug, "a jug of %g mL")
	s.beaters = inOrder(k.Without, join(k.Beater, k.Beaters), func(b Beater) string { return b.Name })
	if len(s.beaters) == 0 {
		s.beaters = []Beater{{RatedDryG: usualRated, WaterL: usualBeaterL}}
		s.assume("a beater that takes %g g in %g L", usualRated, usualBeaterL)
	}
	s.Studio.Moulds = k.mouldsInOrder()
	s.settlePress(k)
	s.settleDryer(k)
	for _, sc := range inOrder(k.Without, k.Scales, func(c Scale) string { return c.Name }) {
		if s.step == 0 || sc.StepG < s.step {
			s.step = sc.StepG
		}
	}
	s.settleRoom(k)
	s.rate = s.taken(k.RateHour, usualRate, "%g an hour for work")
	s.day = deref(k.HandsADay, usualDay)
	s.overhead = deref(k.Overhead, 0) / 100
	s.currency = or(k.Currency, "USD")
}

func (k Studio) mouldsInOrder() []Mould {
	return inOrder(k.Without, k.Moulds, func(m Mould) string { return m.Name })
}

// settleVat takes the first vat in which one sheet is a small part of the
// fibre, else the largest.
func (s *settled) settleVat(k Studio) {
	list := k.Vats
	if k.VatL != nil {
		list = slices.Insert(slices.Clone(list), 0, Vat{VatL: *k.VatL, LeastL: k.VatLeastL})
	}
	list = inOrder(k.Without, list, func(v Vat) string { return v.Name })
	if len(list) == 0 {
		s.assume("a vat of %g L", usualVat)
		s.vat, s.least = usualVat, measure.Volume(deref(k.VatLeastL, usualVat*usualLeastShare))
		return
	}
	serves := s.Sheet.LongMM * s.Sheet.ShortMM / 1e6 * usualDepth / sheetShare // L
	best := list[0]
	for _, v := range list {
		if v.VatL >= serves {
			best = v
			break
		}
		if v.VatL > best.VatL {
			best = v
		}
	}
	s.vat, s.vatName = measure.Volume(best.VatL), best.Name
	s.least = measure.Volume(deref(best.LeastL, best.VatL*usualLeastShare))
}

// settlePress takes the first press into which the sheet goes, else the first.
func (s *settled) settlePress(k Studio) {
	s.felts = usualFelts
	if k.Felts != nil {
		s.felts = *k.Felts
	} else {
		s.assume("%d felts", usualFelts)
	}
	s.lift = k.LiftKG
	all := join(k.Press, k.Presses)
	list := inOrder(k.Without, all, func(p Press) string { return p.Name })
	if len(list) == 0 {
		s.presser, s.pressFits = Press{}, true // every press is out of order: none
		if len(all) == 0 {
			s.presser.ForceKN = usualPress
			s.assume("a press of %g kN", usualPress)
		}
		return
	}
	s.presser = list[0]
	for _, p := range list {
		if holds(p.LongMM, p.ShortMM, s.Sheet) {
			s.presser, s.pressFits = p, true
			return
		}
	}
}

// settleDryer takes the first dryer of the paper's drying that the sheet goes
// into; a dryer that says no kind is a stack.
func (s *settled) settleDryer(k Studio) {
	s.places, s.airflow = usualPlaces, usualAirflow
	list := inOrder(k.Without, join(k.Dryer, k.Dryers), func(d Dryer) string { return d.Name })
	suits := func(d Dryer) bool { return or(d.Kind, drying.Stack) == s.drying }
	i := slices.IndexFunc(list, func(d Dryer) bool { return suits(d) && holds(d.LongMM, d.ShortMM, s.Sheet) })
	if i < 0 {
		i = slices.IndexFunc(list, suits)
	}
	if i < 0 && len(list) > 0 && s.drying != drying.Stack {
		i = 0 // hung or laid loose: as many as the dryer would hold
	}
	if i < 0 {
		s.assume("a dryer of %d places", usualPlaces)
		return
	}
	s.dryer = list[i]
	s.places, s.airflow = s.dryer.Places, measure.Airflow(s.dryer.AirflowM3S)
	if n, ok := s.dryer.onBoards(s.Sheet); ok {
		s.places = n
	}
}

// roomToHandle is left between sheets on a board, mm; common practice.
const roomToHandle = 10

// onBoards is the places of a dryer of boards for sheets of a size; false where
// its boards are not said or the sheet does not go on one.
func (d Dryer) onBoards(s Sheet) (int, bool) {
	if d.Boards == nil || d.LongMM == nil || d.ShortMM == nil {
		return 0, false
	}
	gap, err := drying.PlacesOnBoard(measure.Length(*d.LongMM), measure.Length(*d.ShortMM), measure.Length(s.LongMM), measure.Length(s.ShortMM), roomToHandle)
	if err != nil || gap == 0 {
		return 0, false
	}
	gaps, err := drying.GapsOfBoards(*d.Boards)
	return gaps * gap, err == nil
}

// settleRoom takes the room as it is said.
func (s *settled) settleRoom(k Studio) {
	room, said := k.Room()
	s.altitude = measure.Altitude(deref(k.AltitudeM, 0))
	s.temp, s.rh = measure.Temperature(room.TempC), measure.RelHumidity(room.RHPct/100)
	if !said {
		s.assume("a room at %g °C and %g %% RH", usualTemp, usualRH)
	}
}

// Room is the air of the month's season, else as it is in any month, else as
// rooms usually are, and then false.
func (k Studio) Room() (room Air, said bool) {
	if k.Month != nil {
		for _, season := range k.Seasons {
			if slices.Contains(season.Months, *k.Month) {
				return Air{TempC: season.TempC, RHPct: season.RHPct}, true
			}
		}
	}
	if k.Air != nil {
		return *k.Air, true
	}
	return Air{TempC: usualTemp, RHPct: usualRH}, false
}

// force is what the press gives, 0 without one.
func (k kit) force() measure.Force { return measure.Force(k.presser.ForceKN) }

// join is the one under the short key and the list, in that order.
func join[T any](one *T, list []T) []T {
	if one == nil {
		return list
	}
	return slices.Insert(slices.Clone(list), 0, *one)
}

// inOrder leaves out what is out of order.
func inOrder[T any](without []string, list []T, name func(T) string) []T {
	if len(without) == 0 {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), func(v T) bool {
		return name(v) != "" && slices.ContainsFunc(without, func(w string) bool { return strings.EqualFold(w, name(v)) })
	})
}

// holds reports whether a sheet goes onto a plate or board; one whose size is
// not said holds any.
func holds(long, short *float64, sheet Sheet) bool {
	if long == nil || short == nil {
		return true
	}
	a, b := max(*long, *short), min(*long, *short)
	return max(sheet.LongMM, sheet.ShortMM) <= a && min(sheet.LongMM, sheet.ShortMM) <= b
}

// usedNames are the names of the equipment the plan rests on, so that it can be
// asked what would be without one.
func (m *maker) usedNames() []string {
	out := []string{}
	add := func(name string) {
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	add(m.vatName)
	add(m.plan.Mould)
	for _, l := range m.plan.Loads {
		add(l.Machine)
	}
	add(m.presser.Name)
	add(m.dryer.Name)
	return out
}
