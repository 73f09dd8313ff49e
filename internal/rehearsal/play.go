package rehearsal

import (
	"math"
	"math/rand/v2"

	"vatside/internal/measure"
	"vatside/internal/run"
	"vatside/internal/vat"
)

// tub is the vat as it really is.
type tub struct{ litres, solids float64 }

// truth is one vat's hidden numbers.
type truth struct {
	depth, drift, strength, offing float64 // drift of the whole run, in logarithms
	forgets                        int     // the sheet from which on a recharge is forgotten once; 0: none
}

// game is one run being played.
type game struct {
	r      Request
	t      truth
	chance *rand.Rand
	vat    tub
	masses []float64
	run    *run.Run // what the maker knows; nil if nobody reckons
	late   []weighing
	result *result
	acts   []vat.Act // of a plan
	forgot int       // masses pulled when it was forgotten, −1 not yet
	since  int       // weighings since
}

// weighing is one that was made and is not known yet.
type weighing struct {
	due int
	run.Weighed
}

// result is what came out of one run.
type result struct {
	within           [3]int // of 5, 8 and 10 %
	sheets           int
	mean, square, ss float64 // of weight over target
	covered, bands   int
	past, pasts      int
	forgot, noticed  bool
	falsely          bool
}

// noticedFrom is the chance from which the maker is told that a recharge seems to be
// missing.
const noticedFrom = 0.5

// lump is how many sheets a maker who goes by feel pulls between two recharges,
// and how far off a lump is.
const (
	lump    = 8
	lumpOff = 0.30
)

func (r Request) draw(chance *rand.Rand) truth {
	h := r.Hidden
	t := truth{
		depth:    *r.EffectiveDepth * math.Exp(*h.DepthPct/100*chance.NormFloat64()),
		strength: *r.StockGL * math.Exp(*h.StockPct/100*chance.NormFloat64()),
		offing:   (100 / *r.SolidsCouchedPct - 1) / 1000 * math.Exp(*h.CarriedPct/100*chance.NormFloat64()),
		drift:    math.Log1p(*h.DriftPct / 100),
	}
	if chance.IntN(2) == 0 {
		t.drift = -t.drift
	}
	if forgets, at := chance.Float64() < *h.ForgottenPct/100, 1+chance.IntN(r.Sheets); forgets {
		t.forgets = at
	}
	return t
}

// play plays one run. Errors: those of the reckoning, where what is hidden lies
// too far from what is believed.
func (r Request) play(i int) (result, error) {
	chance := rand.New(rand.NewPCG(uint64(*r.Seed), uint64(i)))
	g := &game{r: r, t: r.draw(chance), chance: chance, result: &result{}, forgot: -1}
	every, tests := r.every(), 0
	if r.Policy == "advised" {
		tests = *r.FirstWeighed
	}
	fill, err := r.fill()
	if err == nil {
		err = g.prepare(fill, every, tests)
	}
	if err != nil {
		return result{}, err
	}
	g.vat = tub{r.VatL, fill * g.t.strength * g.poured()}
	for n := range tests + r.Sheets {
		if err := g.hear(n); err != nil {
			return result{}, err
		}
		if due := n - tests; n > 0 && due >= 0 && due%every == 0 {
			if err := g.recharge(n, every); err != nil {
				return result{}, err
			}
		}
		if err := g.pull(n, tests); err != nil {
			return result{}, err
		}
		if err := g.weigh(n+1, tests); err != nil {
			return result{}, err
		}
	}
	return g.end(tests)
}

// prepare is what a way of recharging has before the first sheet: a plan's table,
// or a reckoning of the run.
func (g *game) prepare(fill float64, every, tests int) (err error) {
	r, h := g.r, g.r.Hidden
	switch r.Policy {
	case "plan":
		var t vat.Table
		full := measure.Volume(r.VatL)
		t, err = r.balance().Keep(measure.Consistency(r.TargetFormed / *r.EffectiveDepth), full, full, measure.Consistency(*r.StockGL), r.Sheets, every)
		g.acts = t.Acts
	case "advised":
		g.run, err = run.Start(run.Prior{
			Area: measure.Area(r.FormedAreaM2), Target: measure.GrammageFormed(r.TargetFormed), Sheets: r.Sheets + tests, Vat: measure.Volume(r.VatL), FillStock: measure.Volume(fill), Jug: 1, Every: every,
			Depth: measure.Length(*r.EffectiveDepth), DepthDoubt: *h.DepthPct / 100, Drift: *h.DriftPct / 100, Stock: measure.Consistency(*r.StockGL), StockDoubt: *h.StockPct / 100,
			Couched: measure.Solids(*r.SolidsCouchedPct / 100), WaterDoubt: *h.CarriedPct / 100, Hand: *h.HandPct / 100, Pour: *h.PourPct / 100, Scale: measure.Mass(*h.ScaleG),
			Forgetting: *h.ForgottenPct / 100, LitreDoubt: run.UsualLitreDoubt, LevelDoubts: 0,
		})
	}
	return err
}

// poured is the factor on one pouring.
func (g *game) poured() float64 { return math.Exp(*g.r.Hidden.PourPct / 100 * g.chance.NormFloat64()) }

// pull takes a sheet out of the vat.
func (g *game) pull(n, tests int) error {
	all := tests + g.r.Sheets
	h := g.t.depth * math.Exp(g.t.drift*float64(n)/float64(all))
	m := g.vat.solids / g.vat.litres * h * g.r.FormedAreaM2 * math.Max(0.2, 1+*g.r.Hidden.HandPct/100*g.chance.NormFloat64())
	m = math.Min(m, 0.9*g.vat.solids)
	if g.run != nil {
		if n >= tests {
			g.result.bands++
			if inside(g.run.Next(), m/g.r.FormedAreaM2) {
				g.result.covered++
			}
		}
		if err := g.run.Happen(run.Pulled{}); err != nil {
			return err
		}
	}
	g.vat.solids -= m
	g.vat.litres = math.Max(g.vat.litres-m*g.t.offing, g.r.VatL/10)
	g.masses = append(g.masses, m)
	return nil
}

func inside(b run.Band, v float64) bool { return v >= float64(b.Low) && v <= float64(b.High) }

// recharge does what the way of recharging has before sheet n+1, and notes it;
// a forgotten one is only noted.
func (g *game) recharge(n, every int) error {
	round := float64(every) * g.r.TargetFormed * g.r.FormedAreaM2
	var a run.Act
	switch g.r.Policy {
	case "none":
		return nil
	case "by feel":
		a.Stock = measure.Volume(math.Max(0, round / *g.r.StockGL * (1+lumpOff*g.chance.NormFloat64())))
		a.WaterOff, a.WaterIn = g.keepLevel(float64(a.Stock))
	case "fixed dose":
		a.Stock = measure.Volume(round / *g.r.StockGL)
		off := float64(a.Stock) - round*(100 / *g.r.SolidsCouchedPct - 1)/1000
		a.WaterOff, a.WaterIn = measure.Volume(math.Max(0, off)), measure.Volume(math.Max(0, -off))
	case "plan":
		for _, p := range g.acts {
			if p.Before == n+1 {
				a = run.Act{Stock: p.Stock, WaterOff: p.WaterOff, WaterIn: p.WaterIn}
			}
		}
	case "advised":
		var err error
		if a, err = g.run.Recharge(); err != nil {
			return err
		}
		for _, e := range a.Events() {
			if err := g.run.Happen(e); err != nil {
				return err
			}
		}
	}
	if g.t.forgets > 0 && g.forgot < 0 && n >= g.t.forgets && a.Stock > 0 {
		g.forgot, g.result.forgot = n, true
		return nil
	}
	g.pour(a)
	return nil
}

// keepLevel is the water that brings the vat back to its mark.
func (g *game) keepLevel(stock float64) (off, in measure.Volume) {
	rise := g.vat.litres + stock - g.r.VatL
	return measure.Volume(math.Max(0, rise)), measure.Volume(math.Max(0, -rise))
}

func (g *game) pour(a run.Act) {
	g.vat.solids *= 1 - float64(a.Scoop)/g.vat.litres
	stock := float64(a.Stock) * g.poured()
	g.vat.solids += stock * g.t.strength
	g.vat.litres += stock + float64(a.WaterIn) - float64(a.WaterOff) - float64(a.Scoop)
}

// weigh weighs what is due after n sheets; the result may come later.
func (g *game) weigh(n, tests int) error {
	if g.run == nil {
		return nil
	}
	count, delay := 0, *g.r.ResultDelay
	switch every := *g.r.WeighEvery; {
	case tests > 0 && n == tests:
		count, delay = tests, 0 // the run waits for its test sheets
	case n > tests && every > 0 && (n-tests)%every == 0:
		count = min(*g.r.WeighedTogether, n-tests)
	}
	if count == 0 {
		return nil
	}
	w, sum := weighing{due: n + delay}, *g.r.Hidden.ScaleG*g.chance.NormFloat64()
	for i := n - count; i < n; i++ {
		w.Sheets = append(w.Sheets, i+1)
		sum += g.masses[i]
	}
	w.Mass, w.Sure = measure.Mass(math.Max(sum, 0.01)), true
	g.late = append(g.late, w)
	return g.hear(n)
}

// hear tells the maker's reckoning the weighings that are known after n sheets.
func (g *game) hear(n int) error {
	for len(g.late) > 0 && g.late[0].due <= n {
		w := g.late[0]
		g.late = g.late[1:]
		if err := g.run.Happen(w.Weighed); err != nil {
			return err
		}
		told := g.run.Forgotten().Chance > noticedFrom
		last := w.Sheets[len(w.Sheets)-1]
		if g.forgot >= 0 && last > g.forgot { // it could show in this one
			if g.since++; g.since <= 2 && told {
				g.result.noticed = true
			}
		} else if told {
			g.result.falsely = true
		}
	}
	return nil
}

// end counts the run.
func (g *game) end(tests int) (result, error) {
	out, aim := g.result, g.r.TargetFormed*g.r.FormedAreaM2
	for _, m := range g.masses[tests:] {
		x := m / aim
		for i, tolerance := range [...]float64{0.05, 0.08, 0.10} {
			if math.Abs(x-1) <= tolerance {
				out.within[i]++
			}
		}
		out.sheets++
		out.mean += x
		out.square += (x - 1) * (x - 1)
	}
	out.mean /= float64(out.sheets)
	for _, m := range g.masses[tests:] {
		d := m/aim/out.mean - 1
		out.ss += d * d
	}
	if g.run == nil {
		return *out, nil
	}
	for i := tests; i < len(g.masses); i++ {
		b, err := g.run.Sheet(i + 1)
		if err != nil {
			return *out, err
		}
		out.pasts++
		if inside(b, g.masses[i]/g.r.FormedAreaM2) {
			out.past++
		}
	}
	return *out, nil
}
