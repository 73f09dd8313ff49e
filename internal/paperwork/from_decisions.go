package paperwork

import (
	"fmt"
	"slices"

	"vatside/internal/plan"
)

// decisions formats the big numbers of the card.
func (f filler) decisions() []Decision {
	var list []Decision
	for _, make := range []func() (Decision, bool){f.pull, f.weigh, f.beat, f.fill} {
		if d, ok := make(); ok {
			list = append(list, d)
		}
	}
	return list
}

func (f filler) pull() (Decision, bool) {
	n := f.whole("sheets_to_pull")
	if n == 0 {
		return Decision{}, false
	}
	d := Decision{Label: "sheets to pull", Figure: fmt.Sprint(n), Unit: plural(n, "sheet")}
	if tests := f.testSheets(); tests > 0 {
		d.Lines = append(d.Lines, DecisionLine{Amount: fmt.Sprint(tests), What: "of them for the test"})
	}
	if posts, each := f.whole("posts"), f.whole("post_sheets"); posts > 0 && each > 0 {
		d.Lines = append(d.Lines, DecisionLine{Amount: fmt.Sprint(posts), What: fmt.Sprintf("%s of up to %d", plural(posts, "post"), each)})
	}
	if loads := f.whole("dryer_loads"); loads > 0 {
		d.Lines = append(d.Lines, DecisionLine{Amount: fmt.Sprint(loads), What: "dryer " + plural(loads, "load")})
	}
	return d, true
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// weigh says how much fibre, with what is weighed out line by line.
func (f filler) weigh() (Decision, bool) {
	fig, ok := f.figures["fibre_air_dry_g"]
	if !ok {
		return Decision{}, false
	}
	shown, unit := split(f.mass(fig.Value))
	d := Decision{Label: "to weigh out, as it lies", Figure: shown, Unit: unit, Apart: len(f.weighed()) > 0, Blank: "fibre weighed out", BlankUnit: f.massUnit()}
	for _, w := range f.weighings() {
		amount, what := f.weighedOut(w)
		d.Lines = append(d.Lines, DecisionLine{Amount: amount, What: join(", ", what, prefix("out of ", w.Lot)), Tick: true, Later: w.step != ""})
	}
	if fig.ExpectedLow != nil && fig.ExpectedHigh != nil {
		likely := span(f.mass(*fig.ExpectedLow), f.mass(*fig.ExpectedHigh))
		d.Lines = append(d.Lines, DecisionLine{What: "probably " + likely + " used"})
	}
	return d, true
}

// weighedOut says how much of what; an additive without a step as at a step.
func (f filler) weighedOut(w weighing) (amount, what string) {
	if w.Additive && w.step == "" {
		l := f.added(w)
		return l.Amount, l.What
	}
	return f.mass(w.Grams), w.What
}

// weighed lists what stands at no step: the fibres, each with the lot it comes
// out of and how that lies, and additives for which the plan has no step.
func (f filler) weighed() []WeighLine {
	var list []WeighLine
	for _, w := range f.weighings() {
		if w.step != "" {
			continue
		}
		amount, what := f.weighedOut(w)
		l := WeighLine{Amount: amount, What: what}
		if w.Lot != "" {
			l.Of, l.Blank = join(", ", "out of "+w.Lot, f.lies(w.Lot)), true
		}
		list = append(list, l)
	}
	if !slices.ContainsFunc(list, func(l WeighLine) bool { return l.Blank }) && len(list) <= inColumn {
		return nil
	}
	return list
}

// inColumn is how many fibres stand under the large number, where no lot is
// named.
const inColumn = 4

// wetFrom is the moisture from which on a lot is called wet.
const wetFrom = 40 // %

// lies says how a lot lies on the shelf.
func (f filler) lies(name string) string {
	i := slices.IndexFunc(f.Studio.Lots, func(l plan.Lot) bool { return l.Name == name })
	if i < 0 {
		return ""
	}
	l := f.Studio.Lots[i]
	state, beaten := "", ""
	if l.MoisturePct != nil {
		state = fmt.Sprintf("dry, %s %% water", number(*l.MoisturePct, 1))
		if *l.MoisturePct >= wetFrom {
			state = fmt.Sprintf("wet, %s %% water", number(*l.MoisturePct, 1))
		}
	}
	if l.Beaten {
		beaten = "beaten already"
	}
	return join(", ", state, beaten)
}

// beat says how many loads in all, by machine, and when all is beaten.
func (f filler) beat() (Decision, bool) {
	loads := f.whole("beater_loads")
	if loads == 0 {
		return Decision{}, false
	}
	d := Decision{Label: "to beat", Figure: fmt.Sprint(loads), Unit: plural(loads, "load")}
	var machines []string
	by := map[string]int{}
	for _, l := range f.plan.Loads {
		if by[l.Machine] == 0 && l.Machine != "" {
			machines = append(machines, l.Machine)
		}
		by[l.Machine] += l.Loads
	}
	for _, name := range machines {
		d.Lines = append(d.Lines, DecisionLine{Amount: fmt.Sprint(by[name]), What: "in " + name})
	}
	if g, ok := f.value("beater_load_g"); ok && len(f.plan.Loads) <= 1 {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.mass(g), What: "of fibre a load"})
	}
	if h, ok := f.value("beater_hours"); ok { // of all loads together
		d.Lines = append(d.Lines, DecisionLine{Amount: duration(h), What: "until all is beaten"})
	}
	return d, true
}

func (f filler) fill() (Decision, bool) {
	g, ok := f.value("vat_first_fill_g")
	if !ok {
		return Decision{}, false
	}
	shown, unit := split(f.mass(g))
	d := Decision{Label: "first fill of the vat", Figure: shown, Unit: unit + " of solids"}
	if l, ok := f.value("vat_first_fill_l"); ok {
		what := "of stock"
		if c := f.stockGL(); c > 0 {
			what += " at " + f.show(c, "g/L")
		}
		if jug := f.jugML(); jug > 0 {
			what += ", about " + jugs(l*1000/jug)
		}
		d.Lines = append(d.Lines, DecisionLine{Amount: f.litres(l), What: what, Tick: true})
	}
	if v := f.vatL(); v > 0 {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.litres(v), What: "in all, made up with water", Tick: true})
	}
	if c, ok := f.value("vat_consistency_g_l"); ok {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.show(c, "g/L"), What: "the vat's aim"})
	}
	return d, true
}

// The jug, the stock and the vat as the studio gave them, else as the plan's
// own recharges show them.
func (f filler) jugML() float64 {
	if f.Studio.JugML != nil {
		return *f.Studio.JugML
	}
	for _, r := range f.plan.Vat.Recharges {
		if r.Jugs > 0 && r.StockML > 0 {
			return r.StockML / r.Jugs
		}
	}
	return 0
}

func (f filler) stockGL() float64 {
	if f.Studio.StockGL != nil {
		return *f.Studio.StockGL
	}
	for _, r := range f.plan.Vat.Recharges {
		if r.SolidsG > 0 && r.StockML > 0 {
			return r.SolidsG / r.StockML * 1000
		}
	}
	return 0
}

func (f filler) vatL() float64 {
	if f.Studio.VatL != nil {
		return *f.Studio.VatL
	}
	for _, r := range f.plan.Vat.Recharges {
		if !r.RunDown {
			return r.VatL
		}
	}
	return 0
}
