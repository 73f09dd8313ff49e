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
	added := figure.Given(bk, "additives and size", measure.Cost(m.addedCost()), "memory", source.Memory)
	materials := figure.Sum(bk, "materials", fibre, added)
	direct := figure.Sum(bk, "work and materials", labour, materials)
	share := given(m, "overhead on it", measure.Share(m.overhead), "studio")
	m.cost = figure.Map2(bk, "cost of the making", "{0} × (1 + {1})", costing.WithOverhead, direct, share)
	over := figure.Map2(bk, "overhead", "{0} − {1}", func(all, direct measure.Cost) (measure.Cost, error) { return all - direct, nil }, m.cost, direct)
	m.set("cost_work", m.inCurrency(labour.Figure()))
	m.set("cost_materials", m.inCurrency(materials.Figure()))
	m.set("cost_overhead", m.inCurrency(over.Figure()))
	good := given(m, "good sheets wanted", measure.Sheets(m.good), "brief")
	each := figure.Map2(bk, "cost of a good sheet", "{0} / {1}", costing.PerGoodSheet, m.cost, good)
	m.set("cost_total", m.inCurrency(m.cost.Figure()))
	m.set("cost_per_good_sheet", m.inCurrency(each.Figure()))
	pays := given(m, "share of the price that a shop pays", measure.Share(costing.ShopPays), "practice")
	shop := figure.Map2(bk, "least price in a shop", "{0} / {1}", costing.RetailFloor, each, pays)
	m.set("price_floor_shop", m.inCurrency(shop.Figure()))
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

// addedCost is what the additives cost, as far as the maker or the handbook has
// a price.
func (m *maker) addedCost() float64 {
	sum := 0.0
	for _, w := range m.plan.Weigh {
		if !w.Additive {
			continue
		}
		for _, a := range m.additives {
			if a.row.Name == w.What {
				sum += w.Grams / 1000 * deref(a.PriceKg, a.row.Price.Mid)
			}
		}
	}
	return sum
}
