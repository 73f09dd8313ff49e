package plan

import (
	"vatside/internal/costing"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// money is what this making costs: hands, fibre, and what a good sheet must
// carry of both.
func (m *maker) money() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	rate := given(m, "an hour of work", measure.Cost(m.rate), "studio")
	labour := figure.Map2(bk, "work", "{0} × {1}", costing.Labour, m.handsOn, rate)
	price := m.mix(func(p part) float64 { return p.price })
	from, grade := "memory", source.Memory
	if m.priced() {
		from, grade = "maker", source.Practice
	}
	kilo := figure.Given(bk, "a kilogram of this furnish", measure.Cost(price), from, grade)
	fibre := figure.Map2(bk, "fibre", "{0} / 1000 × {1}", costing.Material, m.weigh, kilo)
	m.cost = figure.Sum(bk, "cost of the making", labour, fibre)
	good := given(m, "good sheets wanted", measure.Sheets(m.good), "brief")
	each := figure.Map2(bk, "cost of a good sheet", "{0} / {1}", costing.PerGoodSheet, m.cost, good)
	m.set("cost_total", m.inCurrency(m.cost.Figure()))
	m.set("cost_per_good_sheet", m.inCurrency(each.Figure()))
}

func (m *maker) priced() bool {
	for _, p := range m.parts {
		if !p.given {
			return false
		}
	}
	return true
}

// inCurrency names the studio's currency as the unit.
func (m *maker) inCurrency(f figure.Figure) figure.Figure {
	f.Unit = m.currency
	return f
}
