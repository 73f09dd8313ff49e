package paperwork

import (
	"fmt"
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

// weigh lists what the plan weighs out, each with a box to tick.
func (f filler) weigh() (Decision, bool) {
	fig, ok := f.figures["fibre_air_dry_g"]
	if !ok {
		return Decision{}, false
	}
	shown, unit := split(f.mass(fig.Value))
	d := Decision{Label: "fibre to weigh out, air-dry", Figure: shown, Unit: unit}
	for _, w := range f.plan.Weigh {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.mass(w.Grams), What: w.What, Tick: true})
	}
	if fig.ExpectedLow != nil && fig.ExpectedHigh != nil {
		likely := span(f.mass(*fig.ExpectedLow), f.mass(*fig.ExpectedHigh))
		d.Lines = append(d.Lines, DecisionLine{What: "probably " + likely + " used"})
	}
	return d, true
}

func (f filler) beat() (Decision, bool) {
	loads := f.whole("beater_loads")
	if loads == 0 {
		return Decision{}, false
	}
	d := Decision{Label: "beater", Figure: fmt.Sprint(loads), Unit: plural(loads, "load")}
	if g, ok := f.value("beater_load_g"); ok {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.mass(g), What: "of fibre a load"})
	}
	if f.Studio.Beater != nil {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.litres(f.Studio.Beater.WaterL), What: "of water a load"})
	}
	if h, ok := f.value("beater_hours"); ok { // of all loads together
		for n := range min(loads, 4) {
			d.Lines = append(d.Lines, DecisionLine{Amount: duration(h / float64(loads)), What: fmt.Sprintf("load %d", n+1), Tick: true})
		}
		if loads > 4 {
			d.Lines = append(d.Lines, DecisionLine{What: "and so on"})
		}
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
		d.Lines = append(d.Lines, DecisionLine{Amount: f.litres(l), What: what, Tick: true})
		if jug := f.jugML(); jug > 0 {
			d.Lines = append(d.Lines, DecisionLine{What: "about " + jugs(l*1000/jug)})
		}
	}
	if v := f.vatL(); v > 0 {
		d.Lines = append(d.Lines, DecisionLine{Amount: f.litres(v), What: "make up with water to this level", Tick: true})
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
