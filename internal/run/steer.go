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

// RunDown is what to do now in the run-down, where the level falls with the
// fibre instead of being held: the last stock, if any, is poured in and water
// taken off so that the next k sheets average the target.
// Errors: Infeasible when a sheet takes more than the vat holds.
//
//	V* = F·h/(g·StartHigh(V*, k));  water off = V − V*
func (r *Run) RunDown(last measure.Volume, k int) (Act, error) {
	p, f := r.p, r.f
	k = min(max(k, 1), vat.MostInRound)
	h := math.Exp(f.at[depth] + f.at[drift]*float64(k-1)/2)
	mass := float64(p.Target) * float64(p.Area)
	b := vat.Balance{Area: p.Area, Depth: measure.Length(h), Carried: measure.Volume(mass * math.Exp(f.at[offing]))}
	has := math.Exp(f.at[fibre]) + float64(last)*math.Exp(f.at[stock])
	level := math.Exp(f.at[water]) + float64(last)
	want := has * h / float64(p.Target)
	for range 3 { // how high a round starts hardly moves with the level
		high, err := b.StartHigh(measure.Volume(want), k)
		if err != nil {
			return Act{}, err
		}
		want = has * h / (float64(p.Target) * float64(high))
	}
	a := Act{Stock: last, WaterOff: measure.Volume(max(0, level-want)), Words: "The last sheets: no water to take off."}
	if a.WaterOff > 0 {
		a.Words = "The last sheets: water off, and they stay as they are."
	}
	return a, nil
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
	if math.Sqrt(r.f.variance(nextOf[:])) > unknownBy {
		return "Not known yet: weigh three sheets together."
	}
	state := "On target"
	switch {
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
