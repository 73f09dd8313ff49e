package cookery

import (
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Stage is how far fibre has come on its way to the pot.
type Stage string

// The stages, as they follow each other.
const (
	Fresh  Stage = "fresh" // as cut
	Dry    Stage = "dry"   // the plant, dried
	ForPot Stage = "pot"   // cleaned, dry: what is cooked
)

// Paper is a sheet that fibre is reckoned into.
type Paper struct {
	LongMM, ShortMM float64
	Grammage        float64 // in a room's air, g/m²
	SharePct        float64 // of it that is this fibre
}

// Harvest asks what a harvest makes, or where Sheets is set what must be cut
// for them.
type Harvest struct {
	Fibre   fibre.Fibre
	Stage   Stage // of the amount
	AmountG float64
	LeftPct float64  // water in what is called dry, % of its mass
	Solids  *float64 // of the fresh plant, by the quick test; nil: the handbook's
	Sheets  int
	Paper   Paper
	Yield   source.Value // pulp from dry fibre, as it is known now
}

// Chain is the way from plant to sheets, a figure a step; a step that is not
// known has none.
type Chain struct {
	Figures map[string]figure.Figure
	PotG    float64 // bone-dry fibre for the pot
	Missing string  // what is not known of the plant, in words; empty: nothing
}

// ChainOrder is the order in which the steps are shown.
var ChainOrder = []string{"fresh_g", "dry_plant_g", "pot_dry_g", "pulp_g", "sheets", "sheet_dry_g"}

const (
	chainDraws = 2000
	chainSeed  = 1
)

// lostPulp is the share of pulp that becomes no good sheet: fines through the
// strainer, the heel of the vat, sheets that fail (source: memory).
var lostPulp = source.Said(0.10, 0.20, 0.35, source.KeyMemory, "fines through the strainer, what stays in the vat, sheets that fail")

// usualRoomMoisture is that of paper in a room on its dry mass, where the fibre
// table does not say.
var usualRoomMoisture = source.Said(0.06, 0.075, 0.09, source.KeyMemory, "")

// chain is a way in the making.
type chain struct {
	Harvest
	bk   *figure.Book
	path cooking.Path
	out  Chain
}

// Chain works out the way. Faults: Invalid, OutOfRange.
func (h Harvest) Chain() (Chain, error) {
	path, known := cooking.PathOf(h.Fibre)
	c := chain{Harvest: h, bk: figure.NewBook(chainDraws, chainSeed), path: path, out: Chain{Figures: map[string]figure.Figure{}}}
	defer c.bk.Release()
	if h.Solids != nil {
		c.path.Dry = source.Value{Low: *h.Solids * 0.98, Mid: *h.Solids, High: min(1, *h.Solids*1.02), Source: source.KeyStudio, Grade: source.Measured, Note: "weighed, dried, weighed again"}
	}
	if !known {
		c.path.Cleaned = source.Value{}
	}
	if !h.Yield.Known() {
		c.out.Missing = "What is left of " + h.Fibre.Name + " after a cook is not known: weigh it before and after, and the next time it is."
	}
	var err error
	if h.Sheets > 0 {
		err = c.back()
	} else {
		err = c.forth()
	}
	if err == nil {
		err = c.bk.Err()
	}
	return c.out, err
}

// forth goes from what is in hand to sheets.
func (c *chain) forth() error {
	if !(c.AmountG >= 0.1 && c.AmountG <= 1e7) {
		return fault.OutOfRange("amount", "the fibre must be between 0.1 and 10000000 g")
	}
	at := figure.Given(c.bk, "what is in hand", measure.Mass(c.AmountG), source.KeyBrief, source.Standard)
	if c.Stage == Fresh {
		if !c.path.Dry.Known() {
			return fault.Invalid("handful", "how much of fresh %s is dry is not known: weigh a handful, dry it, weigh it again", c.Fibre.Name)
		}
		c.out.Figures["fresh_g"] = at.Figure()
		at = c.keep("dry plant", at, c.share("dry plant of fresh plant", c.path.Dry))
		c.out.Figures["dry_plant_g"] = at.Figure()
	} else if c.LeftPct > 0 {
		water := figure.Given(c.bk, "water still in it", measure.MoistureWet(c.LeftPct/100), source.KeyPractice, source.Practice)
		at = figure.Map2(c.bk, "bone-dry", "{0} × (1 − {1})", func(m measure.Mass, w measure.MoistureWet) (measure.Mass, error) { return m * measure.Mass(1-w), nil }, at, water)
	}
	if c.Stage == Dry {
		c.out.Figures["dry_plant_g"] = at.Figure()
	}
	if c.Stage != ForPot && c.path.Cleaned.Known() {
		at = c.keep("clean fibre for the pot", at, c.share("clean fibre of dry plant", c.path.Cleaned))
	}
	c.out.Figures["pot_dry_g"], c.out.PotG = at.Figure(), float64(at.Centre())
	if !c.Yield.Known() {
		return nil
	}
	pulp := c.keep("pulp", at, c.share("pulp of clean fibre", c.Yield))
	c.out.Figures["pulp_g"] = pulp.Figure()
	each, lost, err := c.sheet()
	if err != nil {
		return err
	}
	n := figure.Map3(c.bk, "good sheets", "{0} × (1 − {2}) / {1}, whole", func(p, m measure.Mass, l measure.Share) (measure.Sheets, error) {
		return cooking.SheetsFrom(min(p, 1e6), m, l)
	}, pulp, each, lost)
	c.out.Figures["sheets"] = n.Figure()
	return nil
}

// back goes from sheets to what must be cut.
func (c *chain) back() error {
	if !c.Yield.Known() {
		return fault.Invalid("fibre", "what is left of %s after a cook is not known: begin with what you have", c.Fibre.Name)
	}
	n := figure.Given(c.bk, "good sheets", measure.Sheets(c.Sheets), source.KeyBrief, source.Standard)
	each, lost, err := c.sheet()
	if err != nil {
		return err
	}
	c.out.Figures["sheets"] = n.Figure()
	pulp := figure.Map3(c.bk, "pulp", "{0} × {1} / (1 − {2})", cooking.PulpFor, n, each, lost)
	c.out.Figures["pulp_g"] = pulp.Figure()
	before := func(what string, m figure.Col[measure.Mass], s figure.Col[measure.Share]) figure.Col[measure.Mass] {
		return figure.Map2(c.bk, what, "{0} / {1}", func(m measure.Mass, s measure.Share) (measure.Mass, error) { return m / measure.Mass(s), nil }, m, s)
	}
	at := before("clean fibre for the pot", pulp, c.share("pulp of clean fibre", c.Yield))
	c.out.Figures["pot_dry_g"], c.out.PotG = at.AsDecision(), float64(at.Centre())
	if c.path.Cleaned.Known() {
		at = before("dry plant", at, c.share("clean fibre of dry plant", c.path.Cleaned))
		c.out.Figures["dry_plant_g"] = at.AsDecision()
	}
	if c.path.Dry.Known() {
		c.out.Figures["fresh_g"] = before("fresh plant to cut", at, c.share("dry plant of fresh plant", c.path.Dry)).AsDecision()
	}
	return nil
}

func (c *chain) keep(what string, m figure.Col[measure.Mass], s figure.Col[measure.Share]) figure.Col[measure.Mass] {
	return figure.Map2(c.bk, what, "{0} × {1}", func(m measure.Mass, s measure.Share) (measure.Mass, error) { return m * measure.Mass(s), nil }, m, s)
}

// sheet is the dry fibre of this kind in one sheet, and the share of pulp lost.
func (c *chain) sheet() (figure.Col[measure.Mass], figure.Col[measure.Share], error) {
	p := c.Paper
	area := p.LongMM * p.ShortMM / 1e6
	if !(area > 0 && area <= 10) || !(p.Grammage >= 5 && p.Grammage <= 2000) || !(p.SharePct > 0 && p.SharePct <= 100) {
		return figure.Col[measure.Mass]{}, figure.Col[measure.Share]{}, fault.OutOfRange("grammage", "a sheet of 5 to 2000 g/m², up to 10 m², of which 0 to 100 %% is this fibre")
	}
	room := c.Fibre.RoomMoisture
	if !room.Known() {
		room = usualRoomMoisture
	}
	weight := figure.Given(c.bk, "grammage", measure.GrammageConditioned(p.Grammage), source.KeyBrief, source.Standard)
	size := figure.Given(c.bk, "area of a sheet", measure.Area(area), source.KeyBrief, source.Standard)
	part := figure.Given(c.bk, "share of this fibre", measure.Share(p.SharePct/100), source.KeyBrief, source.Standard)
	moist := figure.Leaf(c.bk, "moisture of the sheet in the room, on its dry mass", measure.MoistureDry(room.Mid), c.bk.Drawn("moisture", room), room.Source, room.Grade, room.Note)
	each := figure.Map4(c.bk, "dry fibre in a sheet", "{0} × {1} × {2} / (1 + {3})", func(g measure.GrammageConditioned, a measure.Area, s measure.Share, m measure.MoistureDry) (measure.Mass, error) {
		return measure.Mass(float64(g) * float64(a) * float64(s) / (1 + float64(m))), nil
	}, weight, size, part, moist)
	c.out.Figures["sheet_dry_g"] = each.Figure()
	return each, c.share("pulp that becomes no good sheet", lostPulp), nil
}

// share enters a share with its band.
func (c *chain) share(what string, v source.Value) figure.Col[measure.Share] {
	col := c.bk.Drawn(what, v)
	for i := range col {
		col[i] = min(col[i], 1)
	}
	return figure.Leaf(c.bk, what, measure.Share(v.Mid), col, v.Source, v.Grade, v.Note)
}
