package plan

import (
	"math"
	"strings"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/vat"
)

// amounts works out the fibre to weigh, the loads, and the recharge table.
func (m *maker) amounts() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	inSheets := figure.Map2(bk, "fibre in the sheets", "{0} × {1}", timesMass, m.couchedSheets, m.fibre)
	inSheets = m.byBias("fibre in the sheets as they come", inSheets)
	m.set("fibre_in_sheets_g", inSheets.Figure())
	heel := m.heel()
	made := figure.Sum(bk, "beaten fibre", inSheets, heel)
	dry := figure.Map2(bk, "fibre needed, bone-dry", "{0} / (1 − {1})", furnish.BeforeLoss, made, m.loss)
	m.need = figure.Map2(bk, "fibre needed, as it lies", "{0} / (1 − {1})", furnish.ToWeigh, dry, m.lot)
	enough := 1 - (1-m.conf)/riskShare
	m.boneDry = figure.Enough(bk, "fibre to weigh, bone-dry", enough, 0, dry)
	m.weigh = figure.Enough(bk, "fibre to weigh out", enough, 0, m.need)
	m.set("fibre_bone_dry_g", m.boneDry.Figure())
	m.set("fibre_air_dry_g", m.weigh.Figure())
	m.weighOut(made)
	m.loadUp()
	m.recharges()
}

// byBias turns the fibre aimed at into the fibre that the sheets take as they
// come, draw by draw.
func (m *maker) byBias(what string, aimed figure.Col[measure.Mass]) figure.Col[measure.Mass] {
	if m.bk.Err() != nil || m.bias == nil {
		return aimed
	}
	col := m.bk.Column()
	for i := range col {
		col[i] = float64(aimed.At(i)) * m.bias[i]
	}
	return figure.Simulated(m.bk, what, "{0}", nil, aimed.Centre(), col, aimed, m.grammage)
}

// heel is the fibre left standing in the vat at its least workable level.
func (m *maker) heel() figure.Col[measure.Mass] {
	if m.forming == "poured" {
		return given(m, "fibre left standing", measure.Mass(0), "derived")
	}
	least := given(m, "least workable level", m.least, "studio")
	run := m.consistency
	if m.bias != nil {
		col := m.bk.Column()
		for i := range col {
			col[i] = float64(m.consistency.At(i)) * m.bias[i]
			if m.forming != "western" { // the consistency was a choice: what is learned moves it
				col[i] *= float64(m.depth.Centre()) / float64(m.depth.At(i))
			}
		}
		run = figure.Simulated(m.bk, "consistency at the end of the run", "{0}", nil, m.consistency.Centre(), col, m.consistency, m.grammage)
	}
	solids := figure.Map2(m.bk, "solids left standing in the vat", "{0} × {1}", vat.Heel, run, least)
	fibre := figure.Map3(m.bk, "fibre left standing in the vat", "{0} / (1 + {1} × {2})", furnish.FibreInSolids, solids, m.doseCol, m.retained)
	m.set("heel_fibre_g", fibre.Figure())
	return fibre
}

// sheetsFrom is how many sheets the fibre weighed out gives in draw i.
func (m *maker) sheetsFrom(i int) int {
	beaten := float64(m.weigh.Centre()) * (1 - float64(m.lot.At(i))) * (1 - float64(m.loss.At(i)))
	short := float64(m.need.At(i))*(1-float64(m.lot.At(i)))*(1-float64(m.loss.At(i))) - beaten
	each := float64(m.fibre.At(i)) * m.biasAt(i)
	return max(0, int(m.couchedSheets.Centre())-int(math.Ceil(short/each)))
}

// weighOut lists each fibre as it lies, lot by lot, and each additive as it is
// bought or made up, in the order in which they go in.
func (m *maker) weighOut(made figure.Col[measure.Mass]) {
	if m.bk.Err() != nil {
		return
	}
	for _, p := range m.parts {
		m.plan.Weigh = append(m.plan.Weigh, m.fromLots(p)...)
	}
	m.beaten = float64(made.Centre()) * float64(m.weigh.Centre()) / float64(m.need.Centre())
	for _, a := range m.additives {
		w := Weigh{What: a.row.Name, Additive: true, Note: madeUp(a.row)}
		if a.DoseMLL > 0 {
			w.Solution = a.DoseMLL * float64(m.vat)
			w.Grams = w.Solution / 1000 * a.row.Concentration.Mid
		} else {
			active, err := furnish.ActiveMass(measure.Mass(m.beaten), measure.Dose(a.DosePct/100))
			m.bk.Fail(err)
			product, err := furnish.ProductMass(active, furnish.Strength(a.strength))
			m.bk.Fail(err)
			w.ActiveG, w.Grams = float64(active), float64(product)
			if c := a.row.Concentration; c.Known() {
				made, err := furnish.SolutionVolume(product, furnish.Concentration(c.Mid))
				m.bk.Fail(err)
				w.Solution = float64(made)
			}
		}
		m.plan.Weigh = append(m.plan.Weigh, w)
	}
}

// madeUp says how an additive is made up, and how long it then keeps.
func madeUp(a furnish.Additive) string {
	if !a.Keeps.Known() || strings.Contains(a.MakeUp, "within") || strings.Contains(a.MakeUp, "keeps") {
		return a.MakeUp // says it already, or nobody knows
	}
	return strings.TrimSpace(a.MakeUp + " It keeps " + keepWord(a.Keeps) + ".")
}

// ofWeighed is a part's share of what is weighed: of raw fibre it takes more for
// the same share of the stock.
func (m *maker) ofWeighed(p part) float64 {
	sum := 0.0
	for _, q := range m.parts {
		sum += q.share / q.left()
	}
	return p.share / p.left() / sum
}

// left is how much of the fibre on the shelf comes to the vat.
func (p part) left() float64 {
	if p.raw && p.Yield.Known() {
		return p.Yield.Mid
	}
	return 1 - usualLoss
}

// fromLots is what to weigh of one fibre, lot by lot in the order of the shelf:
// so much dry fibre, each lot at its own moisture.
func (m *maker) fromLots(p part) []Weigh {
	usual := 1 - float64(m.lot.Centre())
	left := float64(m.weigh.Centre()) * usual * m.ofWeighed(p) // dry
	var out []Weigh
	for _, l := range p.lots {
		solids := usual
		if l.MoisturePct != nil {
			solids = 1 - *l.MoisturePct/100
		}
		if p.raw && l.Cooked { // of cooked fibre less is weighed than of raw
			solids *= (1 - usualLoss) / p.left()
		}
		take := min(left, l.WetG*solids)
		if take <= 0 {
			continue
		}
		out = append(out, Weigh{What: p.Name, Lot: l.Name, Grams: take / solids})
		left -= take
		if l.Beaten {
			m.ready[p.Name] += take
		}
	}
	if left < 0.5 && len(out) > 0 {
		return out
	}
	if len(p.lots) > 0 {
		m.say("store short", "The shelf holds %s g of %s less than this making wants: get some, or change the furnish.", three(left/usual), p.Name)
	}
	return append(out, Weigh{What: p.Name, Grams: left / usual})
}

// recharges writes the table for the vat.
func (m *maker) recharges() {
	if m.bk.Err() != nil || m.forming == "poured" {
		return
	}
	b, n := m.balance(), m.pullsFor(int(m.couchedSheets.Centre()))
	t, err := b.Keep(m.consistency.Centre(), m.vat, m.least, m.stock, n, m.round)
	if err != nil {
		m.bk.Fail(err)
		return
	}
	run, _, err := b.Run(m.vat, t.FirstFill, n, t.Acts)
	if err != nil {
		m.bk.Fail(err)
		return
	}
	// from bone-dry solids on formed area to the grammage of the dry sheet
	toDry := m.Paper.GrammageConditioned / (float64(m.solids.Centre()) / float64(m.formedArea.Centre()))
	for _, a := range t.Acts {
		m.plan.Vat.Recharges = append(m.plan.Vat.Recharges, Recharge{
			BeforeSheet: (a.Before-1)*m.atAPull + 1, SolidsG: float64(a.Solids), StockML: float64(a.Stock) * 1000, Jugs: float64(a.Stock) * 1000 / m.jug,
			WaterOffL: float64(a.WaterOff), WaterInL: float64(a.WaterIn), VatL: float64(a.Level), RunDown: a.RunDown,
			GrammageBefore: float64(run[a.Before-2].Grammage) * toDry, GrammageAfter: float64(run[a.Before-1].Grammage) * toDry,
		})
	}
	each := figure.Map3(m.bk, "a sheet raises the level by", "{0} / {1} − {2}", riseOfSheet, m.solids, given(m, "stock", m.stock, "studio"), m.carried)
	rise := figure.Map2(m.bk, "rise of the level over the run", "{0} × {1}", timesVolume, m.couchedSheets, each)
	m.set("level_rise_l", rise.Figure())
}

func riseOfSheet(m measure.Mass, c measure.Consistency, u measure.Volume) (measure.Volume, error) {
	return measure.Volume(float64(m)/float64(c)) - u, nil
}

func timesVolume(n measure.Sheets, v measure.Volume) (measure.Volume, error) {
	return measure.Volume(float64(n) * float64(v)), nil
}

// reverse answers what the pulp in hand can make: good sheets, with the heel
// left in the vat and the losses after couching taken off.
func (m *maker) reverse() {
	if m.bk.Err() != nil {
		return
	}
	bk, h := m.bk, m.Have
	wet := given(m, "wet pulp in hand", measure.Mass(h.WetG), "brief")
	in := figure.Map2(bk, "bone-dry fibre in it", "{0} × {1}", func(w measure.Mass, s measure.Solids) (measure.Mass, error) {
		return w * measure.Mass(s), nil
	}, wet, m.wetSolids())
	if h.DryG != nil {
		m.lot = draw[measure.MoistureWet](m, "moisture_air_dry_pct_wet_basis")
		m.loss = draw[measure.Share](m, "beater_loss_pct")
		dry := given(m, "dry fibre in hand", measure.Mass(*h.DryG), "brief")
		bone := figure.Map2(bk, "bone-dry fibre in that", "{0} × (1 − {1})", furnish.DryOfLot, dry, m.lot)
		beaten := figure.Map2(bk, "of it after beating", "{0} × (1 − {1})", func(f measure.Mass, l measure.Share) (measure.Mass, error) {
			return f * measure.Mass(1-l), nil
		}, bone, m.loss)
		in = figure.Sum(bk, "bone-dry fibre in all", in, beaten)
	}
	heel := m.heel()
	working := "{0} − {1}"
	if in.Centre() < heel.Centre() {
		working = "0 × ({0} − {1})" // the vat alone would hold it all
	}
	free := figure.Map2(bk, "fibre for sheets", working, func(a, b measure.Mass) (measure.Mass, error) { return max(0, a-b), nil }, in, heel)
	couched := figure.Map2(bk, "sheets it gives", "{0} / {1}", func(f, each measure.Mass) (measure.Sheets, error) {
		return measure.Sheets(f / each), nil
	}, free, m.fibre)
	lost := draw[measure.Share](m, "lost_later_pct")
	good := figure.Map2(bk, "good sheets it gives", "{0} × (1 − {1})", func(n measure.Sheets, l measure.Share) (measure.Sheets, error) {
		return n * measure.Sheets(1-l), nil
	}, couched, lost)
	if bk.Err() != nil {
		return
	}
	m.set("fibre_in_hand_g", in.Figure())
	m.set("sheets_possible", good.Figure())
	if float64(good.Centre()) < 1 {
		m.say("too little pulp", "What is in hand hardly fills the vat: pour sheets singly, or use a smaller vat.")
	}
	if lo, hi := h.SolidsPct[0], h.SolidsPct[1]; hi > lo*1.2 {
		m.say("weigh a handful", "The solids are known only as %.3g to %.3g %%: weigh a handful wet, dry it, weigh it again, and the band shrinks to a few per cent.", lo, hi)
	}
}

// wetSolids is the solids of the pulp in hand, log-normal over the range the
// maker gives, taken as nine times in ten.
func (m *maker) wetSolids() figure.Col[measure.Solids] {
	lo, hi := m.Have.SolidsPct[0]/100, m.Have.SolidsPct[1]/100
	if lo == hi {
		return figure.Leaf(m.bk, "solids of the wet pulp", measure.Solids(lo), nil, "maker", source.Practice, "as you say")
	}
	b := prior("solids in hand", "solids of the wet pulp", belief.FromBand(belief.Log, math.Sqrt(lo*hi), lo, hi, 0.5), "maker")
	b.Grade = source.Practice
	return drawBelief[measure.Solids](m, b)
}
