package plan

import (
	"fmt"
	"math"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/num"
	"vatside/internal/sheet"
	"vatside/internal/vat"
)

// mostPulls bounds the search for enough sheets.
const mostPulls = 200000

// riskShare is how the risk that a promise is not kept is shared out: a third
// each to too few good sheets, too little fibre, and size and weight.
const riskShare = 3

// chance returns the chance that of n couched sheets enough come good.
func (m *maker) chance() func(n int) float64 {
	lost := m.by["lost_later_pct"]
	if lost.Pin != nil {
		return func(n int) float64 { return num.AtLeast(m.good, n, 1-lost.Pin.Value) }
	}
	a, b := lost.NextBeta() // of losses
	return func(n int) float64 { return num.AtLeastUncertain(m.good, n, b, a) }
}

// middle enters the centre of the belief of a known key, where chance knows its
// spread.
func middle[T measure.Quantity](m *maker, key string) figure.Col[T] {
	c := belief.Middle[T](m.bk, m.by[key])
	m.leaf[key] = c
	return c
}

// count decides how many sheets to couch and to pull.
func (m *maker) count() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	lost := middle[measure.Share](m, "lost_later_pct")
	conf := m.countConfidence()
	chance := m.chance()
	n, ok := num.Fewest(m.good, mostPulls, conf, chance)
	if !ok {
		m.say("losses", "So many sheets are lost later that no number of pulls gives %d good ones with the confidence asked.", m.good)
	}
	wanted := given(m, "good sheets wanted", measure.Sheets(m.good), "brief")
	note := fmt.Sprintf("fewest sheets of which at least %d come good with a chance of %.1f %% or more: %d give %.1f %%, %d give %.1f %%",
		m.good, conf*100, n, chance(n)*100, n-1, chance(n-1)*100)
	run := figure.Choose(bk, "sheets for the run", "{0} + {a}", []float64{float64(n - m.good)}, measure.Sheets(n), nil, wanted, lost).Note(note)
	tests := given(m, "test sheets before it", measure.Sheets(m.tests), "brief")
	m.couchedSheets = figure.Choose(bk, "sheets to couch", "{0} + {1}", nil, measure.Sheets(n+m.tests), nil, run, tests)
	kissed := middle[measure.Share](m, "kissed_off_pct")
	extra := math.Ceil(float64(n+m.tests)*(1/(1-float64(kissed.Centre()))-1) - 1e-9)
	pulls := figure.Choose(bk, "sheets to pull", "{0} + {a}", []float64{extra}, measure.Sheets(n+m.tests)+measure.Sheets(extra), nil, m.couchedSheets, kissed).
		Note("kissed-off sheets go back into the vat and are pulled again")
	m.set("sheets_couched", m.couchedSheets.Figure())
	m.set("sheets_to_pull", pulls.Figure())
}

// countConfidence is the confidence the count alone must keep: the brief's
// where nothing else is uncertain, else the brief's with only its share of the
// risk, because size, weight and fibre take theirs. It hangs neither on how
// many sheets are asked for nor on how risky the rest is: what cannot be kept
// by pulling more is not pulled for.
func (m *maker) countConfidence() float64 {
	if m.shrinkLong.Certain() && m.shrinkShort.Certain() && m.moisture.Certain() && m.retained.Certain() &&
		m.depth.Certain() && m.lot.Certain() && m.loss.Certain() {
		return m.conf
	}
	return 1 - (1-m.conf)/riskShare
}

// promise says how often the plan keeps what the brief asks: enough good
// sheets, of the size, their mean weight within the tolerance.
func (m *maker) promise() {
	if m.bk.Err() != nil {
		return
	}
	chance, want := m.chance(), int(m.couchedSheets.Centre())
	cache := map[int]float64{}
	sum, size, weight, fibre := 0.0, 0, 0, 0
	for i := range m.bk.Draws() {
		okSize := m.fits(float64(m.dryLong.At(i)), float64(m.dryShort.At(i)))
		okWeight := math.Abs(float64(m.grammage.At(i))/m.Paper.GrammageConditioned-1) <= m.tolerance
		n := want
		if m.need.At(i) > m.weigh.Centre()+1e-9 {
			n = m.sheetsFrom(i)
			fibre++
		}
		if !okSize {
			size++
		}
		if !okWeight {
			weight++
		}
		if okSize && okWeight {
			c, ok := cache[n]
			if !ok {
				c = chance(max(0, n-m.tests))
				cache[n] = c
			}
			sum += c
		}
	}
	draws := float64(m.bk.Draws())
	kept := sum / draws
	note := fmt.Sprintf("enough good sheets %.1f %%; size %.1f %%; weight %.1f %%; fibre enough %.1f %%",
		chance(want-m.tests)*100, 100-100*float64(size)/draws, 100-100*float64(weight)/draws, 100-100*float64(fibre)/draws)
	p := figure.Choose(m.bk, "how often the promise is kept", "{a}", []float64{kept}, measure.Share(kept), nil,
		m.couchedSheets, m.grammage, m.dryLong, m.dryShort, m.need).Note(note)
	f := p.Figure().Percent()
	f.Kind = figure.Outcome
	m.set("promise_pct", f)
	if kept < m.conf-0.01 {
		m.say("promise", "This plan keeps the promise in about %.0f of 100 makings; %s were asked. What costs most: %s.", kept*100, short(m.conf*100), m.weakest(size, weight, fibre))
	}
}

func (m *maker) weakest(size, weight, fibre int) string {
	switch {
	case size >= weight && size >= fibre && m.noMould:
		return "the dry size, which no mould gives"
	case size >= weight && size >= fibre:
		return "the dry size, which rests on " + told(m.by["shrink_long_pct"])
	case weight >= fibre:
		return "the weight of the sheets, which rests on " + told(m.by["effective_depth_mm"])
	default:
		return "the fibre that may be needed"
	}
}

func told(b belief.Belief) string {
	if b.Pin != nil {
		return "what you have fixed"
	}
	if b.Count() == 0 {
		return "the handbook only: try one sheet first"
	}
	return "what you have measured"
}

// rounds decides how many sheets to pull between two recharges: the most that
// still keeps the wanted share within the tolerance, the hand's scatter and
// what the test sheets leave uncertain included.
func (m *maker) rounds() {
	if m.bk.Err() != nil {
		return
	}
	b := m.balance()
	rest := m.bk.Spread(m.grammage) / m.Paper.GrammageConditioned
	scatter := measure.Share(math.Min(0.5, math.Hypot(float64(m.hand.Centre()), rest)))
	k, kept, err := b.SheetsPerRecharge(m.vat, measure.Share(m.tolerance), scatter, measure.Share(m.within))
	if err != nil {
		m.bk.Fail(err)
		return
	}
	k = min(k, measure.Sheets(m.pullsFor(m.good+m.tests))) // a run shorter than a round is a round
	m.round = int(k)
	share, _ := b.ShareWithin(m.vat, int(k), 1, measure.Share(m.tolerance), scatter)
	if !kept {
		m.say("tolerance tight", "Even with a recharge before every sheet about %.0f of 100 sheets will be within %.3g %%; %s were asked. Weigh test sheets, use a larger vat, or allow more.",
			float64(share)*100, m.tolerance*100, short(m.within*100))
	}
	note := fmt.Sprintf("the most sheets between recharges with %s of 100 within %.3g %%: it gives %.1f", short(m.within*100), m.tolerance*100, float64(share)*100)
	k *= measure.Sheets(m.atAPull)
	m.perRecharge = figure.Choose(m.bk, "sheets to a recharge", "{a}", []float64{float64(k)}, k, nil, m.hand, m.grammage, m.depth, m.carried).Note(note)
	m.set("sheets_per_recharge", m.perRecharge.Figure())
	m.fills(b)
}

// fills works out the first fill and one recharge.
func (m *maker) fills(b vat.Balance) {
	bk := m.bk
	high, err := b.StartHigh(m.vat, m.round)
	if err != nil {
		bk.Fail(err)
		return
	}
	start := figure.Choose(bk, "a round starts above target by", "{a}", []float64{float64(high)}, high, nil, m.perRecharge, m.depth, m.carried).
		Note("so that the mean of the round is the target")
	level := given(m, "vat", m.vat, "studio")
	solids := figure.Map3(bk, "solids for the first fill", "{0} × {1} × {2}", firstFill, m.consistency, level, start)
	m.fill = float64(solids.Centre())
	m.set("vat_first_fill_g", solids.AsDecision())
	stock := given(m, "stock", m.stock, "studio")
	litres := figure.Map2(bk, "stock for the first fill", "{0} / {1}", litresOf, solids, stock)
	m.set("vat_first_fill_l", litres.AsDecision())
	dose := figure.Map2(bk, "solids of a recharge", "{0} × {1}", timesMass, m.perRecharge, m.solids)
	m.set("recharge_solids_g", dose.AsDecision())
	poured := figure.Map2(bk, "stock of a recharge", "{0} / {1} × 1000", millilitresOf, dose, stock)
	m.set("recharge_stock_ml", poured.AsDecision())
	jug := given(m, "jug", measure.Milliliters(m.jug), "studio")
	jugs := figure.Map2(bk, "jugs to a recharge", "{0} / {1}", jugsOf, poured, jug)
	f := jugs.AsDecision()
	f.Unit = "jugs"
	m.set("recharge_jugs", f)
}

func firstFill(c measure.Consistency, v measure.Volume, f measure.Number) (measure.Mass, error) {
	return measure.Mass(float64(c) * float64(v) * float64(f)), nil
}

func litresOf(m measure.Mass, c measure.Consistency) (measure.Volume, error) {
	return measure.Volume(float64(m) / float64(c)), nil
}

func millilitresOf(m measure.Mass, c measure.Consistency) (measure.Milliliters, error) {
	return measure.Milliliters(float64(m) / float64(c) * 1000), nil
}

func timesMass(n measure.Sheets, m measure.Mass) (measure.Mass, error) {
	return measure.Mass(float64(n) * float64(m)), nil
}

func jugsOf(v, jug measure.Milliliters) (measure.Number, error) {
	return measure.Number(v / jug), nil
}

// shareWithin is the share of sheets that will weigh within the tolerance.
func (m *maker) shareWithin(k int) {
	if m.bk.Err() != nil {
		return
	}
	b := m.balance()
	at := func(bias float64, hand measure.Share) float64 {
		s, err := b.ShareWithin(m.vat, k, measure.Number(bias), measure.Share(m.tolerance), hand)
		if err != nil {
			m.bk.Fail(err)
		}
		return float64(s)
	}
	centre := at(1, m.hand.Centre())
	var col []float64
	if !m.grammage.Certain() || !m.hand.Certain() {
		col = m.bk.Column()
		sum := 0.0
		for i := range col {
			col[i] = at(float64(m.grammage.At(i))/m.Paper.GrammageConditioned, m.hand.At(i))
			sum += col[i]
		}
		centre = sum / float64(len(col)) // what to expect, not what a vat spot on would give
	}
	share := figure.Simulated(m.bk, "share of sheets within tolerance", "{a}", []float64{centre}, measure.Share(centre), col, m.grammage, m.hand, m.perRecharge).
		Note(fmt.Sprintf("of rounds of %d pulls, within %.3g %% of the grammage wanted", k, m.tolerance*100))
	m.set("share_within_pct", share.Figure().Percent())
}

// testTable says what to do after the test sheets, by what they weigh
// together in this room.
func (m *maker) testTable(trust float64) {
	if m.bk.Err() != nil || m.tests == 0 {
		return
	}
	room, err := sheet.MoistureAt(m.rh)
	if err != nil {
		m.bk.Fail(err)
		return
	}
	at50, _ := sheet.MoistureAt(0.5)
	rise := figure.Choose(m.bk, "moisture here over moisture at 50 % RH", "(1 + {a}) / (1 + {b})", []float64{float64(room), float64(at50)},
		measure.Number((1+float64(room))/(1+float64(at50))), nil, m.one).Note("from the sorption curve, for the room's humidity")
	tests := given(m, "test sheets", measure.Sheets(m.tests), "brief")
	weight := figure.Map3(m.bk, "test sheets together, ironed, in this room", "{0} × {1} × {2}", testMass, tests, m.waterleaf, rise)
	m.testWeight = float64(weight.Centre())
	m.set("test_weight_g", weight.AsDecision())
	if trust == 0 {
		return
	}
	for row := -testRows; row <= testRows; row++ {
		m.plan.Vat.Tests = append(m.plan.Vat.Tests, m.testAct(row, trust))
	}
}

func testMass(n measure.Sheets, m measure.Mass, f measure.Number) (measure.Mass, error) {
	return measure.Mass(float64(n) * float64(m) * float64(f)), nil
}

// testAct is one row: light sheets want stock in (and as much water off through
// the strainer), heavy ones some of the vat set aside and water in its place.
func (m *maker) testAct(row int, trust float64) TestRow {
	edge := func(at float64) float64 { return m.testWeight * math.Exp(testRow*at) }
	t := TestRow{FromG: edge(float64(row) - 0.5), ToG: edge(float64(row) + 0.5)}
	if row == -testRows {
		t.FromG = 0
	}
	if row == testRows {
		t.ToG = 0
	}
	b := m.balance()
	pulled := (m.pullsFor(m.tests)-1)%m.round + 1 // since the vat was last full
	left := m.fill * math.Pow(1-float64(b.Area)*float64(b.Depth)/float64(m.vat), float64(pulled))
	switch f := math.Exp(-trust * testRow * float64(row)); {
	case f > 1:
		t.StockML = left * (f - 1) / float64(m.stock) * 1000
		t.Jugs = t.StockML / m.jug
	case f < 1:
		t.WaterInL = float64(m.vat) * (1 - f)
	}
	return t
}

// pouredRun is the deckle box: each sheet has its own measured pour, so the
// vat does not thin and no recharge is due; the test sheets set the pour right.
func (m *maker) pouredRun() {
	off := m.bk.Column()
	noise, h0 := m.bk.Stream("weighing of the test sheets"), float64(m.depth.Centre())
	for i := range off {
		off[i] = math.Log(float64(m.depth.At(i)) / h0 * m.strength(i) * m.damp(i))
	}
	trust := m.trustInTests(off)
	certain := m.depth.Certain() && m.moisture.Certain() && m.lot.Certain() && m.loss.Certain() && m.retained.Certain()
	if !certain {
		for i, x := range off {
			hand := float64(m.hand.At(i))
			e := 0.0
			if m.tests > 0 {
				e = noise.NormFloat64() * math.Sqrt(hand*hand/float64(m.tests)+testError*testError)
			}
			off[i] = math.Exp(x - trust*(x+e))
		}
		m.bias = off
	}
	m.gram(int(m.couchedSheets.Centre()) - m.tests)
	m.set("grammage_g_m2", m.grammage.Figure())
	stock := given(m, "stock poured", m.stock, "studio")
	pour := figure.Map2(m.bk, "stock poured for a sheet", "{0} / {1} × 1000", millilitresOf, m.solids, stock)
	m.set("pour_ml_per_sheet", pour.AsDecision())
	m.perRecharge = given(m, "sheets to a recharge", measure.Sheets(1), "brief")
}
