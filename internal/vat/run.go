package vat

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Act is one recharge before a sheet: solids in stock poured in, and water
// taken off through a strainer.
type Act struct {
	Before   int            // sheet number, from 1
	Solids   measure.Mass   // brought in, g
	Stock    measure.Volume // volume brought in, L
	WaterOff measure.Volume // taken off, L
	WaterIn  measure.Volume // water added, L: where the stock is thicker than keeps the level
	Level    measure.Volume // vat volume after the act, L
	RunDown  bool           // no stock left: water off instead
}

// Pulled is one sheet of a run: its weight on formed area and the vat it came
// from.
type Pulled struct {
	N        int
	Grammage measure.GrammageFormed
	Level    measure.Volume // before it was pulled, L
}

// Run returns the sheets that come out of a vat, sheet by sheet, with the
// given recharges and a hand without scatter, and the solids left at the end.
//
//	g_n = F/V · h;  F′ = F − g_n·A;  V′ = V − u
//
// Contract:
//
//   - Quantity: bone-dry solids per formed area of each sheet, g/m², and what is left, g
//   - Inputs: V vat volume, L; F solids in it, g; n sheets; acts in order of their sheet
//   - Valid: as Ratio at every sheet; 0 ≤ F ≤ 1 t; 1 ≤ n ≤ 100,000; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: well stirred; water off carries no fibre
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: sheets 4, 10, 20, 30 of docs/models/vat.md; property: solids in = sheets + left, to 1e-9
func (b Balance) Run(v measure.Volume, solids measure.Mass, n int, acts []Act) ([]Pulled, measure.Mass, error) {
	if !measure.Within(solids, 0, 1e6) {
		return nil, 0, fault.OutOfRange("", "The solids in a vat must be between 0 and 1 t; this says %.4g g.", float64(solids))
	}
	if n < 1 || n > 100000 {
		return nil, 0, fault.OutOfRange("sheets", "The sheets must be from 1 to 100,000; this says %d.", n)
	}
	out := make([]Pulled, 0, n)
	level, left, next := v, float64(solids), 0
	for i := 1; i <= n; i++ {
		for next < len(acts) && acts[next].Before <= i {
			left += float64(acts[next].Solids)
			level += acts[next].Stock + acts[next].WaterIn - acts[next].WaterOff
			next++
		}
		if err := b.check(level); err != nil {
			if level < v {
				return nil, 0, fault.Infeasible("vat_l", "The vat runs dry: before sheet %d it holds %.3g L, and a sheet takes the fibre of %.3g L. Recharge it, start with more, or pull fewer sheets.", i, float64(level), b.taken())
			}
			return nil, 0, err
		}
		g := left / float64(level) * float64(b.Depth)
		out = append(out, Pulled{N: i, Grammage: measure.GrammageFormed(g), Level: level})
		left -= g * float64(b.Area)
		level -= b.Carried
	}
	return out, measure.Mass(left), nil
}

// Table is how to keep a run even: how full to start, and what to do before
// which sheet.
type Table struct {
	FirstFill measure.Mass // solids at the start, g
	Acts      []Act
	Left      measure.Mass // solids left at the end: the heel
	LastLevel measure.Volume
}

// Keep returns the recharge table of a run: each round starts high so that its
// mean is the target; recharges bring just what the round takes, and water
// taken off through a strainer, or added where the stock is thick, holds the
// level; once the stock for the run is
// in, water is taken off instead, down to the least workable level.
//
//	round of k from volume V starts at F = c·V·StartHigh(V, k); run-down: V′ with c·V′·StartHigh(V′, k) = F
//
// Contract:
//
//   - Quantity: solids, stock and water of each recharge
//   - Inputs: c target consistency, g/L; V vat, L; V_least, L; stock consistency, g/L; n sheets, k to a round
//   - Valid: as StartHigh; 0 ≤ V_least ≤ V; stock thicker than the vat; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: as Run
//   - Error: a round's mean within 1 % of target while it takes less than half of the least vat; jugs are poured to about 2 %
//   - Source: derived, docs/models/vat.md
//   - Checked: worked making of docs/models/vat.md; property: run through Run every round's mean is within 1 % of target, and first fill + recharges = sheets + heel
func (b Balance) Keep(c measure.Consistency, v, least measure.Volume, stock measure.Consistency, n, k int) (Table, error) {
	s, err := b.StartHigh(v, k)
	if err != nil {
		return Table{}, err
	}
	switch {
	case n < 1 || n > 100000:
		return Table{}, fault.OutOfRange("good_sheets", "The sheets must be from 1 to 100,000; this says %d.", n)
	case !measure.Within(c, 1e-6, 500):
		return Table{}, fault.OutOfRange("", "A vat consistency must be above 0 and at most 500 g/L; this says %.4g g/L.", float64(c))
	case !measure.Within(least, 0, v):
		return Table{}, fault.OutOfRange("vat_least_l", "The least workable level must be between 0 L and the vat's %.4g L; this says %.4g L.", float64(v), float64(least))
	case !measure.Finite(stock) || float64(stock) <= float64(c)*float64(s):
		return Table{}, fault.Infeasible("stock_g_l", "The stock (%.3g g/L) must be thicker than the vat (%.3g g/L): drain it, or make it up with less water.", float64(stock), float64(c)*float64(s))
	}
	sheet := float64(c) * b.taken() // solids of one sheet
	heel := float64(c) * float64(least)
	t := Table{FirstFill: measure.Mass(float64(c) * float64(v) * float64(s))}
	budget := max(0, float64(n)*sheet+heel-float64(t.FirstFill)) // what the recharges may bring in all
	level, fibre := float64(v), float64(t.FirstFill)
	for done := 0; done < n; {
		round := min(k, n-done)
		if done > 0 {
			act := b.act(float64(c), float64(v), level, fibre, budget, float64(least), float64(stock), round)
			act.Before = done + 1
			t.Acts = append(t.Acts, act)
			budget -= float64(act.Solids)
			fibre += float64(act.Solids)
			level = float64(act.Level)
		}
		for range round {
			fibre -= fibre / level * b.taken()
			level -= float64(b.Carried)
		}
		done += round
	}
	t.Left, t.LastLevel = measure.Mass(fibre), measure.Volume(level)
	return t, nil
}

// leastDose is the part of a full recharge below which the rest of the stock is
// not worth pouring: it stays in the pail. Ours.
const leastDose = 0.05

// act is one recharge: enough solids for the round at the full level while the
// budget lasts; what the budget cannot bring is made up by lowering the level.
func (b Balance) act(c, full, level, fibre, budget, least, stock float64, round int) Act {
	want := c * full * startHigh(b.ratio(full), round)
	bring := min(max(want-fibre, 0), budget)
	if bring < leastDose*(want-fibre) {
		bring = 0
	}
	poured := bring / stock
	target := full
	if bring < want-fibre-1e-9 {
		target = b.levelFor(c, fibre+bring, full, max(least, b.taken()*1.01), round)
	}
	off := max(0, level+poured-target)
	in := max(0, target-level-poured)
	return Act{
		Solids: measure.Mass(bring), Stock: measure.Volume(poured), WaterOff: measure.Volume(off), WaterIn: measure.Volume(in),
		Level: measure.Volume(level + poured - off + in), RunDown: bring == 0,
	}
}

// levelFor returns the volume at which the fibre makes a round whose mean is
// the target, between least and full, by bisection.
func (b Balance) levelFor(c, fibre, full, least float64, round int) float64 {
	lo, hi := math.Min(least, full), full
	for range 50 {
		mid := (lo + hi) / 2
		if c*mid*startHigh(b.ratio(mid), round) > fibre {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// MeanBias returns the mean weight of a run over its target, when the vat
// starts off target and recharges are fixed doses: with a fixed dose the weight
// settles on dose over area, whatever the depth.
//
//	x_{r+1} = x_r·q^k + d·(1 − p^k);  mean of a round x_r·(h/h0)·Σ_{i<k} q^i / Σ_{i<k} p^i
//	p = 1 − A·h0/V,  q = 1 − A·h/V
//
// Contract:
//
//   - Quantity: factor on the target weight
//   - Inputs: V vat volume, L; start vat consistency over the planned one; depth over the planned one; dose over the planned one; n sheets, k to a round
//   - Valid: as Ratio; all three factors above 0 and at most 20; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: the level is held; one depth through the run
//   - Error: against Run exact for rounds of one sheet; for rounds of up to four below 0.5 % while a sheet takes less than a tenth of the vat
//   - Source: derived, docs/models/vat.md
//   - Checked: property: 1 when all are 1; agrees with Run; long runs settle on the dose
func (b Balance) MeanBias(v measure.Volume, start, depth, dose measure.Number, n, k int) (measure.Number, error) {
	if err := b.check(v); err != nil {
		return 0, err
	}
	for _, f := range [3]measure.Number{start, depth, dose} {
		if !measure.Finite(f) || f <= 0 || f > 20 {
			return 0, fault.OutOfRange("", "A factor must be above 0 and at most 20; this says %.4g.", float64(f))
		}
	}
	if n < 1 || k < 1 {
		return 0, fault.OutOfRange("", "Sheets and round must be 1 or more; they are %d and %d.", n, k)
	}
	plan := b.taken() / float64(v)
	really := min(1, plan*float64(depth))
	kept, planned := math.Pow(1-really, float64(k)), math.Pow(1-plan, float64(k))
	brought := float64(dose) * (1 - planned)
	round := (1 - kept) / really * plan / (1 - planned) // a deeper dip thins its round more than was planned for
	settled := brought / (1 - kept)
	left := math.Pow(kept, float64(n/k)) // of the start's distance from it, after all whole rounds
	sum := settled*float64(n) + (float64(start)-settled)*(float64(k)*(1-left)/(1-kept)+left*float64(n%k))
	return measure.Number(sum / float64(n) * float64(depth) * round), nil
}
