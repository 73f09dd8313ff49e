package run

import (
	"math"
	"slices"
)

// Places in the state, each a logarithm but the drift; the masses of the sheets
// follow in the order they were pulled.
const (
	fibre  = iota // g in the vat
	water         // L in the vat
	depth         // mm, effective
	drift         // of the depth's logarithm, a sheet
	stock         // g/L
	offing        // L carried off by a gram of couched solids
	press         // solids of a pressed sheet
	sheets        // the first sheet's mass, g
)

// term is one part of a linear combination of states.
type term struct {
	of  int
	was float64
}

// filter is the state with its covariance. Beside each state stands by how much
// it would differ had a recharge not been poured: one column to a recharge.
type filter struct {
	p       Prior
	at      []float64   // the means
	cov     [][]float64 // symmetric; row i has as many entries as there are states
	missed  [][]float64 // by state, then by recharge
	said    []float64   // by recharge: what the weighings say for its being missed, log of odds
	doses   []dose
	fresh   []float64 // room for a row
	gain    []float64
	weighed int
}

// dose is a recharge that was noted: which event, and before which sheet.
type dose struct {
	event, before int
	stock         float64
}

func newFilter(p Prior) *filter {
	f := &filter{p: p}
	room := sheets + p.Sheets + 8
	f.at, f.cov, f.missed = make([]float64, 0, room), make([][]float64, 0, room), make([][]float64, 0, room)
	start := [sheets]float64{
		fibre: ln(float64(p.FillStock) * float64(p.Stock)), water: ln(float64(p.Vat)), depth: ln(float64(p.Depth)),
		drift: 0, stock: ln(float64(p.Stock)), offing: ln(p.carried()),
	}
	if p.Pressed > 0 {
		start[press] = ln(float64(p.Pressed))
	}
	n := float64(p.Sheets)
	doubt := [sheets]float64{p.Pour, p.LevelDoubts, p.DepthDoubt, p.Drift / n, p.StockDoubt, p.WaterDoubt, p.PressDoubt}
	for i := range sheets {
		f.grow(start[i], nil, doubt[i]*doubt[i])
	}
	f.combine(fibre, 0, term{fibre, 1}, term{stock, 1}) // the fill is of this stock
	return f
}

// grow adds a state: a combination of others and a variance of its own.
func (f *filter) grow(mean float64, of []term, variance float64) {
	n := len(f.at)
	row := make([]float64, n+1, cap(f.at)+1)
	miss := make([]float64, len(f.doses), len(f.doses)+f.p.Sheets)
	for _, t := range of {
		for j := range n {
			row[j] += t.was * f.cov[t.of][j]
		}
		for j := range miss {
			miss[j] += t.was * f.missed[t.of][j]
		}
	}
	for _, t := range of {
		variance += t.was * row[t.of]
	}
	row[n] = variance
	for j := range n {
		f.cov[j] = append(f.cov[j], row[j])
	}
	f.at, f.cov, f.missed = append(f.at, mean), append(f.cov, row), append(f.missed, miss)
}

// combine makes a state a combination of states, itself among them, with some
// variance added. The mean is the caller's.
func (f *filter) combine(i int, variance float64, of ...term) {
	n := len(f.at)
	if cap(f.fresh) < n {
		f.fresh = make([]float64, 2*n)
	}
	row := f.fresh[:n]
	clear(row)
	for _, t := range of {
		for j, v := range f.cov[t.of] {
			row[j] += t.was * v
		}
	}
	for _, t := range of {
		variance += t.was * row[t.of]
	}
	row[i] = variance
	for j := range n {
		f.cov[i][j], f.cov[j][i] = row[j], row[j]
	}
	for j := range f.doses {
		sum := 0.0
		for _, t := range of {
			sum += t.was * f.missed[t.of][j]
		}
		f.missed[i][j] = sum
	}
}

// wander is how far the depth strays from its steady drift over a run, as a
// part of the drift: a drift is not quite steady. Ours.
const wander = 0.3

// pull takes a couched sheet out of the vat.
//
//	m = F/V · h · A;  F′ = F − m;  V′ = V − u·m;  ln h′ = ln h + r
func (f *filter) pull() {
	m := f.next()
	f.grow(m, nextOf[:], f.p.Hand*f.p.Hand)
	k := len(f.at) - 1
	a := math.Exp(m - f.at[fibre])
	left := a / (1 - a)
	f.combine(fibre, 0, term{fibre, 1 + left}, term{k, -left})
	f.at[fibre] += math.Log1p(-a)
	b := math.Exp(m + f.at[offing] - f.at[water])
	lost := b / (1 - b)
	f.combine(water, 0, term{water, 1 + lost}, term{k, -lost}, term{offing, -lost})
	f.at[water] += math.Log1p(-b)
	stray := wander * f.p.Drift
	f.combine(depth, stray*stray/float64(f.p.Sheets), term{depth, 1}, term{drift, 1})
	f.at[depth] += f.at[drift]
}

// nextOf is what the next sheet's mass is made of.
var nextOf = [...]term{{fibre, 1}, {water, -1}, {depth, 1}}

// next is the logarithm of the mass that the next sheet is expected to have.
func (f *filter) next() float64 {
	return f.at[fibre] - f.at[water] + f.at[depth] + ln(float64(f.p.Area))
}

// nextVariance is that of the next sheet, the hand included.
func (f *filter) nextVariance() float64 { return f.variance(nextOf[:]) + f.p.Hand*f.p.Hand }

func (f *filter) variance(of []term) float64 {
	v := 0.0
	for _, a := range of {
		for _, b := range of {
			v += a.was * b.was * f.cov[a.of][b.of]
		}
	}
	return v
}

// recharge pours stock in.
func (f *filter) recharge(litres float64, event int) {
	d := dose{event: event, before: f.pulled() + 1, stock: litres}
	brought := litres * math.Exp(f.at[stock]-f.at[fibre])
	w := brought / (1 + brought)
	poured := w * f.p.Pour
	f.combine(fibre, poured*poured, term{fibre, 1 - w}, term{stock, w})
	f.at[fibre] += math.Log1p(brought)
	f.level(litres)
	f.doses, f.said = append(f.doses, d), append(f.said, 0)
	for i := range f.missed {
		f.missed[i] = append(f.missed[i], 0)
	}
	f.missed[fibre][len(f.doses)-1] = math.Log1p(-w)
}

// level puts water in, or takes it off through a strainer.
func (f *filter) level(litres float64) {
	v := math.Exp(f.at[water])
	poured := f.p.Pour * litres / (v + litres)
	f.combine(water, poured*poured, term{water, v / (v + litres)})
	f.at[water] = ln(v + litres)
}

// scoop takes stock off the vat as it is.
func (f *filter) scoop(litres float64) {
	a := litres * math.Exp(-f.at[water])
	f.combine(fibre, 0, term{fibre, 1}, term{water, a / (1 - a)})
	f.at[fibre] += math.Log1p(-a)
	f.level(-litres)
}

// observe lets the state follow a reading that lies so far off what was expected,
// in logarithms, and notes what the reading says of each recharge.
func (f *filter) observe(off float64, of []term, noise float64) {
	n := len(f.at)
	if cap(f.gain) < n {
		f.gain = make([]float64, 2*n)
	}
	k := f.gain[:n]
	clear(k)
	spread := noise
	for _, t := range of {
		for j, v := range f.cov[t.of] {
			k[j] += t.was * v
		}
	}
	for _, t := range of {
		spread += t.was * k[t.of]
	}
	for j := range f.doses { // what it says of each recharge
		moved := 0.0
		for _, t := range of {
			moved += t.was * f.missed[t.of][j]
		}
		f.said[j] += (off*off - (off-moved)*(off-moved)) / (2 * spread)
		for i := range f.missed {
			f.missed[i][j] -= k[i] / spread * moved
		}
	}
	for i := range n {
		g := k[i] / spread
		f.at[i] += g * off
		row := f.cov[i]
		for j := range row {
			row[j] -= g * k[j]
		}
	}
}

func (f *filter) pulled() int { return len(f.at) - sheets }

// clone is a filter of its own that stands where this one does.
func (f *filter) clone() *filter {
	c := *f
	c.at, c.said, c.doses, c.fresh, c.gain = slices.Clone(f.at), slices.Clone(f.said), slices.Clone(f.doses), nil, nil
	c.cov, c.missed = make([][]float64, len(f.cov)), make([][]float64, len(f.missed))
	for i := range f.cov {
		c.cov[i], c.missed[i] = slices.Clone(f.cov[i]), slices.Clone(f.missed[i])
	}
	return &c
}
