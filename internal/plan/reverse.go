package plan

import (
	"math"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/source"
)

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
	free := figure.Map2(bk, "fibre for sheets", "{0} − {1}", func(a, b measure.Mass) (measure.Mass, error) { return max(0, a-b), nil }, in, heel)
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
