package plan

import (
	"fmt"
	"math"

	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/source"
	"vatside/internal/vat"
)

// weight works out one sheet: its mass, its bone-dry solids, its fibre, and
// the vat consistency that gives it.
func (m *maker) weight() {
	bk := m.bk
	g := given(m, "grammage wanted", measure.GrammageConditioned(m.Paper.GrammageConditioned), "brief")
	if m.Paper.PourG != nil && m.forming != "western" {
		m.mass = given(m, "conditioned mass of a sheet", measure.Mass(*m.Paper.PourG), "brief")
	} else {
		m.mass = figure.Map2(bk, "conditioned mass of a sheet", "{0} × {1}", sheet.ConditionedMass, g, m.aimArea)
	}
	m.moisture = draw[measure.MoistureDry](m, "moisture_conditioned_pct_dry_basis")
	m.waterleaf = m.beforeSize()
	m.solids = figure.Map2(bk, "dry solids of a sheet", "{0} / (1 + {1})", sheet.DrySolids, m.waterleaf, m.moisture)
	m.doseCol = given(m, "additives on fibre", m.dose, "brief")
	if m.dose > 0 {
		m.retained = draw[measure.Share](m, "additive_retained_pct")
	} else {
		m.retained = given(m, "additive retained", measure.Share(0), "brief")
	}
	m.fibre = figure.Map3(bk, "fibre in a sheet", "{0} / (1 + {1} × {2})", furnish.FibreInSolids, m.solids, m.doseCol, m.retained)
	m.couched = draw[measure.Solids](m, "solids_couched_pct")
	m.hand = draw[measure.Share](m, "hand_scatter_pct")
	m.carried = figure.Map2(bk, "water a couched sheet carries off", "{0} × (1 / {1} − 1) / 1000", vat.CarriedOff, m.solids, m.couched)
	formed := figure.Map2(bk, "solids on the formed area", "{0} / {1}", formedGrammage, m.solids, m.formedArea)
	m.depthAndConsistency(formed)
	m.set("conditioned_mass_per_sheet_g", m.mass.AsDecision())
	m.set("dry_solids_per_sheet_g", m.solids.Figure())
	m.set("fibre_per_sheet_g", m.fibre.Figure())
	m.set("vat_consistency_g_l", m.consistency.AsDecision())
	if m.forming == "western" || m.forming == "several dips" {
		level := figure.Map2(bk, "stock that keeps the vat level", "{0} / {1}", vat.LevelStock, m.solids, m.carried)
		m.set("level_stock_g_l", level.Figure())
	}
}

// beforeSize is the mass to form: what the finished sheet weighs, less the size
// it will take up dry.
func (m *maker) beforeSize() figure.Col[measure.Mass] {
	if m.surface == nil {
		return m.mass
	}
	bath := figure.Given(m.bk, "strength of the bath", m.bath, "brief", source.Standard)
	m.uptake = draw[sizing.Uptake](m, "size_uptake_g_g")
	m.sizeOn = figure.Map2(m.bk, "size on the dry sheet", "{0} × {1}", sizing.OnFibre, bath, m.uptake)
	m.set("size_on_sheet_pct", m.sizeOn.Figure().Percent())
	before := measure.Mass(float64(m.mass.Centre()) / (1 + float64(m.sizeOn.Centre())))
	return figure.Choose(m.bk, "mass of a sheet before sizing", "{0} / (1 + {1})", nil, before, nil, m.mass, m.sizeOn)
}

// onSheet is what a sheet of draw i weighs with its size over what was
// reckoned.
func (m *maker) onSheet(i int) float64 {
	if m.surface == nil {
		return 1
	}
	return (1 + float64(m.sizeOn.At(i))) / (1 + float64(m.sizeOn.Centre()))
}

func formedGrammage(m measure.Mass, a measure.Area) (measure.GrammageFormed, error) {
	return measure.GrammageFormed(float64(m) / float64(a)), nil
}

// depthAndConsistency: of one dip the depth is known and the consistency
// follows; of several dips and of poured sheets the consistency is chosen and
// what is learned is the weight of a sheet over what was reckoned.
func (m *maker) depthAndConsistency(formed figure.Col[measure.GrammageFormed]) {
	bk := m.bk
	if m.forming == "western" {
		m.depth = draw[measure.Length](m, "effective_depth_mm")
		m.consistency = figure.Map2(bk, "vat consistency", "{0} / {1}", vat.Consistency, formed, m.depth)
		return
	}
	c := measure.Consistency(dipConsistency)
	if m.forming == "poured" {
		c = m.stock
	}
	m.consistency = given(m, "consistency", c, "practice")
	even := figure.Map2(bk, "depth of stock for a sheet", "{0} / {1}", depthOf, formed, m.consistency)
	if pin, ok := m.Known["effective_depth_mm"]; ok {
		m.depth = figure.Leaf(bk, "depth of stock for a sheet", measure.Length(pin.Value), nil, "maker", pin.Grade, "fixed by you")
		m.leaf["effective_depth_mm"] = m.depth
		return
	}
	factor := draw[measure.Number](m, "effective_depth_mm")
	m.depth = figure.Map2(bk, "depth that a sheet really takes", "{0} × {1}", timesLength, even, factor)
}

func depthOf(g measure.GrammageFormed, c measure.Consistency) (measure.Length, error) {
	return measure.Length(float64(g) / float64(c)), nil
}

func timesLength(h measure.Length, f measure.Number) (measure.Length, error) {
	return h * measure.Length(f), nil
}

// balance is the vat at the centre of what is known, pull by pull.
func (m *maker) balance() vat.Balance {
	n := measure.Area(m.atAPull)
	return vat.Balance{Area: n * m.formedArea.Centre(), Depth: m.depth.Centre(), Carried: measure.Volume(n) * m.carried.Centre()}
}

// pullsFor is how many pulls give so many sheets: more than one comes at a pull
// of a divided deckle.
func (m *maker) pullsFor(sheets int) int { return (sheets + m.atAPull - 1) / m.atAPull }

// Errors of the test sheets besides the hand: weighing, and the room's
// moisture in the ironed sheet; 1 % of the mass, from memory.
const testError = 0.01

// One row of the test table is this wide, in the logarithm of the weight, and
// it has so many rows either way.
const (
	testRow  = 0.05
	testRows = 8
)

// lots enters what the fibre brings with it: its moisture, and what the beater
// loses of it. The moisture of a lot that is known goes before what is taken of
// fibre on a shelf.
func (m *maker) lots() {
	m.lot = draw[measure.MoistureWet](m, "moisture_air_dry_pct_wet_basis")
	m.loss = draw[measure.Share](m, "beater_loss_pct")
	if m.by["moisture_air_dry_pct_wet_basis"].Pin != nil {
		return
	}
	// wet over dry, by share: of the parts whose lots say, and of the rest
	said, rest := 0.0, 1.0
	for i := range m.parts {
		p := &m.parts[i]
		if wet, ok := p.wetOverDry(m.roughNeed() * p.share); ok {
			said, rest = said+p.share*wet, rest-p.share
		}
	}
	if said == 0 {
		return
	}
	if rest < 1e-9 {
		delete(m.leaf, "moisture_air_dry_pct_wet_basis") // nothing rests on it
		m.lot = figure.Leaf(m.bk, "moisture of the lots", measure.MoistureWet(1-1/said), nil, "studio", source.Measured, "as the lots on the shelf say")
		return
	}
	working := fmt.Sprintf("1 − 1 / (%.6f + %.6f / (1 − {0}))", said, max(0, rest))
	m.lot = figure.Map1(m.bk, "moisture of the lots", working, func(shelf measure.MoistureWet) (measure.MoistureWet, error) {
		return measure.MoistureWet(1 - 1/(said+max(0, rest)/(1-float64(shelf)))), nil
	}, m.lot).Note("as the lots on the shelf say")
}

// roughNeed is about how much dry fibre the making takes, to see which lots it
// will be drawn from.
func (m *maker) roughNeed() float64 {
	sheets := float64(m.good+m.tests) * 1.15
	return sheets*float64(m.fibre.Centre()) + float64(m.consistency.Centre())*float64(m.least)
}

// wetOverDry is the mass as it lies over its dry mass, of the lots from which
// so much dry fibre is drawn; false where they do not say.
func (p part) wetOverDry(dry float64) (float64, bool) {
	wet, got := 0.0, 0.0
	for _, l := range p.lots {
		if l.MoisturePct == nil || l.WetG <= 0 {
			return 0, false
		}
		take := min(l.WetG*(1-*l.MoisturePct/100), max(dry-got, 0))
		if take == 0 && got > 0 {
			break
		}
		wet, got = wet+take/(1-*l.MoisturePct/100), got+take
	}
	if got == 0 {
		return 0, false
	}
	return wet / got, true
}

// usualRun is the run by which the sheets to a recharge are decided, so that
// how the vat is kept does not hang on how many sheets are asked for.
const usualRun = 60

// vatRun decides how the vat is kept and works out how heavy the sheets come.
func (m *maker) vatRun() {
	if m.bk.Err() != nil {
		return
	}
	if m.forming == "poured" {
		m.pouredRun()
		return
	}
	if err := m.tryVat(); err != nil {
		m.bk.Fail(err)
		return
	}
	off := m.startOff()
	trust := m.trustInTests(off)
	m.bias = m.runBias(off, trust, usualRun+m.tests, 1)
	m.gram(usualRun)
	m.rounds()
	n := int(m.couchedSheets.Centre())
	m.bias = m.runBias(off, trust, m.pullsFor(n), m.round)
	m.gram(n - m.tests)
	m.set("grammage_g_m2", m.grammage.Figure())
	m.shareWithin(m.round)
	m.testTable(trust)
}

// tryVat refuses a vat that cannot give even one sheet.
func (m *maker) tryVat() error {
	_, err := m.balance().Ratio(m.vat)
	return err
}

// startOff is, by draw, the logarithm of the weight of the first sheets over
// the aim, before anything is corrected: depth, strength of the stock and the
// room's moisture together. Nil: certain.
func (m *maker) startOff() []float64 {
	if m.depth.Certain() && m.moisture.Certain() && m.lot.Certain() && m.loss.Certain() && m.retained.Certain() {
		return nil
	}
	off := m.bk.Column()
	h0 := float64(m.depth.Centre())
	for i := range off {
		off[i] = math.Log(float64(m.depth.At(i)) / h0 * m.strength(i) * m.damp(i))
	}
	return off
}

// strength is what the stock of draw i holds over what was reckoned: the lot
// was wetter or drier, more or less was lost, more or less of an additive
// stayed.
func (m *maker) strength(i int) float64 {
	reckoned := (1 - float64(m.lot.Centre())) * (1 - float64(m.loss.Centre())) * (1 + float64(m.dose)*float64(m.retained.Centre()))
	return (1 - float64(m.lot.At(i))) * (1 - float64(m.loss.At(i))) * (1 + float64(m.dose)*float64(m.retained.At(i))) / reckoned
}

// damp is a sheet's mass in the room over what was reckoned for its solids.
func (m *maker) damp(i int) float64 {
	return (1 + float64(m.moisture.At(i))) / (1 + float64(m.moisture.Centre()))
}

// trustInTests is how much of what the test sheets say is acted on: all when
// the vat is a guess, little when it is well known (normal-normal).
func (m *maker) trustInTests(off []float64) float64 {
	if m.tests == 0 || off == nil {
		return 0
	}
	mean, ss := 0.0, 0.0
	for _, x := range off {
		mean += x
	}
	mean /= float64(len(off))
	for _, x := range off {
		ss += (x - mean) * (x - mean)
	}
	v := ss / float64(len(off))
	e := math.Pow(float64(m.hand.Centre()), 2)/float64(m.tests) + testError*testError
	return v / (v + e)
}

// runBias is, by draw, the mean conditioned mass of the run's sheets over the
// aim, after the vat was corrected by the table.
func (m *maker) runBias(off []float64, trust float64, n, k int) []float64 {
	if off == nil {
		return nil
	}
	out, noise, b := m.bk.Column(), m.bk.Stream("weighing of the test sheets"), m.balance()
	h0, wrong := float64(m.depth.Centre()), m.bk.Column()
	for i := range out {
		start := m.strength(i)
		if trust > 0 {
			hand := float64(m.hand.At(i))
			wrong[i] = noise.NormFloat64() * math.Sqrt(hand*hand/float64(m.tests)+testError*testError)
			read := off[i] + wrong[i]
			row := testRow * float64(rowOf(read))
			start *= math.Exp(-trust * row)
			if math.Abs(read-row) <= testRow/2 { // beyond the table's ends its rows are not to blame
				wrong[i] += row - read
			}
		}
		f, err := b.MeanBias(m.vat, measure.Number(start), measure.Number(float64(m.depth.At(i))/h0), measure.Number(m.strength(i)), n, k)
		if err != nil {
			m.bk.Fail(err)
			return nil
		}
		out[i] = float64(f) * m.damp(i)
	}
	m.tested = testing{trust, m.aside("first sheets over the aim", off), m.aside("error of the test sheets", wrong)}
	return out
}

// testing is what the test sheets do, by draw and in logarithms: how much of
// what they say is acted on, how far off the first sheets are, and by how much
// the hand, the scale and the width of the table's rows belie it.
type testing struct {
	trust      float64
	off, wrong figure.Column
}

// aside keeps a column that no figure rests on by name.
func (m *maker) aside(what string, col []float64) figure.Column {
	return figure.Leaf(m.bk, what, measure.Number(0), col, "memory", source.Memory, "")
}

// rowOf is the row of the test table for a logarithm of weight over aim.
func rowOf(x float64) int {
	return int(math.Round(math.Max(-testRows, math.Min(testRows, x/testRow))))
}

// gram is the grammage of a run of so many dry sheets: the mass over the dry
// area.
func (m *maker) gram(sheets int) {
	if m.bk.Err() != nil {
		return
	}
	var col []float64
	if m.bias != nil || m.surface != nil || !m.dryLong.Certain() || !m.dryShort.Certain() {
		col = m.bk.Column()
		aimed := float64(m.mass.Centre()) * 1e6
		// the hand's scatter does not quite even out over the run
		hands, run := m.bk.Stream("mean of the hand over the run"), math.Sqrt(float64(max(1, sheets)))
		for i := range col {
			even := 1 + float64(m.hand.At(i))*hands.NormFloat64()/run
			col[i] = aimed * m.biasAt(i) * m.onSheet(i) * even / (float64(m.dryLong.At(i)) * float64(m.dryShort.At(i)) * m.filled())
		}
	}
	m.grammage = figure.Simulated(m.bk, "grammage of the sheets", "{0} / {1}", nil, measure.GrammageConditioned(float64(m.mass.Centre())/float64(m.aimArea.Centre())), col, m.mass, m.aimArea, m.depth, m.hand, m.dryLong, m.dryShort, m.lot, m.loss).
		Note("after the vat was set right by the test sheets")
}

func (m *maker) biasAt(i int) float64 {
	if m.bias == nil {
		return 1
	}
	return m.bias[i]
}
