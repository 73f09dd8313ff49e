package run

import (
	"fmt"
	"math"

	"vatside/internal/measure"
	"vatside/internal/vat"
)

// Act is what to do before the next sheet.
type Act struct {
	Stock    measure.Volume // poured in
	Scoop    measure.Volume // taken off first with its fibre, where the vat is too strong
	WaterIn  measure.Volume
	WaterOff measure.Volume // through a strainer
	Words    string
}

// Events are the act as it is noted once done.
func (a Act) Events() []Event {
	var out []Event
	if a.Scoop > 0 {
		out = append(out, Scooped{a.Scoop})
	}
	if a.Stock > 0 {
		out = append(out, Recharged{a.Stock})
	}
	if w := a.WaterIn - a.WaterOff; w != 0 {
		out = append(out, Watered{w})
	}
	return out
}

// leastScoop is the excess of fibre from which it is worth taking stock off
// instead of waiting for the sheets to thin the vat. Ours: half a hand.
const leastScoop = 0.02

// Recharge is what to do now so that the next round averages the target, by
// all that is known, at the level the run was begun at. Errors: Infeasible when
// a sheet takes more than the vat holds.
//
//	F* = g/h·V·StartHigh(V, k);  stock = (F* − F)/s
func (r *Run) Recharge() (Act, error) {
	p, f := r.p, r.f
	// the depth at the middle of the round, as far as a balance goes
	h := math.Exp(f.at[depth] + f.at[drift]*float64(p.Every-1)/2)
	h = min(max(h, float64(vat.LeastDepth)), float64(vat.MostDepth))
	mass := float64(p.Target) * float64(p.Area)
	b := vat.Balance{Area: p.Area, Depth: measure.Length(h), Carried: measure.Volume(mass * math.Exp(f.at[offing]))}
	high, err := b.StartHigh(p.Vat, p.Every)
	if err != nil {
		return Act{}, err
	}
	want := float64(p.Target) / h * float64(p.Vat) * float64(high)
	has, level, strong := math.Exp(f.at[fibre]), math.Exp(f.at[water]), math.Exp(f.at[stock])
	var a Act
	if has > want*(1+leastScoop) {
		a.Scoop = measure.Volume(level * min(1-want/has, mostTaken))
		level -= float64(a.Scoop)
	} else if want > has {
		a.Stock = measure.Volume((want - has) / strong)
		level += float64(a.Stock)
	}
	if rise := level - float64(p.Vat); rise > 0 {
		a.WaterOff = measure.Volume(rise)
	} else {
		a.WaterIn = measure.Volume(-rise)
	}
	usual := has + p.dose()*strong
	a.Words = r.words(a, usual/want-1)
	return a, nil
}

// RunDown is what to take off now, where no stock is poured any more, so that
// the next sheet weighs the target: the level falls with the fibre.
//
//	V* = F·h/g;  water off = V − V*
func (r *Run) RunDown() Act {
	level := math.Exp(r.f.at[water])
	want := math.Exp(r.f.at[fibre]+r.f.at[depth]) / float64(r.p.Target)
	a := Act{WaterOff: measure.Volume(max(0, level-want))}
	a.Words = "No stock any more: take water off and the sheets stay as they are."
	if a.WaterOff == 0 {
		a.Words = "No stock any more, and no water to take off."
	}
	return a
}

// Where words begin: a weight this near the target is on it, and a next sheet
// known no better than this is said to be unknown.
const (
	onTarget  = 0.02
	unknownBy = 0.10
)

// words say how the run stands and what to do otherwise than usual; off is what
// the next round would be over the target after the usual dose.
func (r *Run) words(a Act, off float64) string {
	state := "On target"
	switch {
	case math.Sqrt(r.f.variance(nextOf[:])) > unknownBy:
		state = "Not known yet: weigh three sheets together"
	case off < -onTarget:
		state = fmt.Sprintf("Running %.0f %% light", -100*off)
	case off > onTarget:
		state = fmt.Sprintf("Running %.0f %% heavy", 100*off)
	}
	usual, jug := r.p.dose(), float64(r.p.Jug)
	more := math.Round((float64(a.Stock)-usual)/jug*4) / 4
	switch {
	case a.Scoop > 0:
		return fmt.Sprintf("%s: no stock; take %.2g L off with its fibre and fill up with water.", state, float64(a.Scoop))
	case a.Stock == 0:
		return state + ": no stock before this sheet."
	case more == 0:
		return state + ": the usual dose."
	case more > 0:
		return fmt.Sprintf("%s: %s more.", state, jugs(more))
	default:
		return fmt.Sprintf("%s: %s less.", state, jugs(-more))
	}
}

// jugs are quarters of jugs in words.
func jugs(n float64) string {
	whole, part := math.Modf(n)
	quarter := [...]string{"", "a quarter of a jug", "half a jug", "three quarters of a jug"}[int(part*4)]
	switch {
	case whole == 0:
		return quarter
	case part == 0 && whole == 1:
		return "one jug"
	default:
		return fmt.Sprintf("%g jugs", n)
	}
}
