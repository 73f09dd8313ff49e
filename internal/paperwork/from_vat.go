package paperwork

import (
	"fmt"
	"math"
	"strings"

	"vatside/internal/measure"
	"vatside/internal/plan"
)

// vatside fills the rule, its notes and the recharge table.
func (f filler) vatside(c *Card) {
	c.Recharges = f.recharges()
	if ml, ok := f.value("pour_ml_per_sheet"); ok {
		c.Rule = append([]RulePart{{Word: "pour"}}, f.measured(ml)...)
		c.Rule = append(c.Rule, RulePart{Word: "a sheet"})
		c.RuleNote = []string{f.stockNote("exactly " + f.millilitres(ml))}
		return
	}
	k := f.whole("sheets_per_recharge")
	ml, ok := f.value("recharge_stock_ml")
	if !ok || k == 0 || !f.anyRecharge() {
		return
	}
	c.Rule = append([]RulePart{{Number: true, Whole: k}, {Word: plural(k, "sheet") + ", then"}}, f.amount(ml)...)
	c.RuleNote = []string{f.stockNote("exactly "+f.millilitres(ml)) + f.inJugs(ml)}
	switch first := f.usualRecharge(); {
	case f.roundOff(first.WaterOffL) != "":
		c.RuleNote = append(c.RuleNote, "each time "+f.roundOff(first.WaterOffL)+" of water off through the strainer, so that the level holds")
	case f.roundOff(first.WaterInL) != "":
		c.RuleNote = append(c.RuleNote, "each time "+f.roundOff(first.WaterInL)+" of water in as well, so that the level holds")
	}
}

// stockNote says at what strength the stock is.
func (f filler) stockNote(amount string) string {
	if g := f.stockGL(); g > 0 {
		return amount + " of stock at " + f.show(g, "g/L")
	}
	return amount + " of stock"
}

// nearQuarter is how far, as a part of the amount, a dose may be from the
// quarters of the jug and still be poured by them: a hand pours to about 2 %,
// and a recharge that is always too large makes the whole run heavier.
const nearQuarter = 0.02

// byJug splits a dose into what the jug measures: quarters where they serve,
// else full jugs and the millilitres on top.
func (f filler) byJug(ml float64) (whole, quarter int, rest float64) {
	jug := f.jugML()
	if jug <= 0 {
		return 0, 0, ml
	}
	whole, quarter = quarters(ml / jug)
	if math.Abs((float64(whole)+float64(quarter)/4)*jug-ml) <= nearQuarter*ml {
		return whole, quarter, 0
	}
	full := math.Floor(ml / jug)
	return int(full), 0, ml - full*jug
}

// inJugs says where to mark the jug.
func (f filler) inJugs(ml float64) string {
	if _, _, rest := f.byJug(ml); rest == 0 {
		return ""
	}
	return ": mark it on the jug"
}

// amount returns the pieces of the rule for stock.
func (f filler) amount(ml float64) []RulePart {
	whole, quarter, rest := f.byJug(ml)
	switch {
	case rest == 0:
		return []RulePart{{Number: true, Whole: whole, Quarters: quarter}, {Word: jugWord(whole, quarter)}}
	case whole == 0:
		return f.measured(rest)
	}
	return append([]RulePart{{Number: true, Whole: whole}, {Word: jugWord(whole, 0) + " +"}}, f.measured(rest)...)
}

// dose says the same in a line.
func (f filler) dose(ml float64) string {
	whole, quarter, rest := f.byJug(ml)
	switch {
	case rest == 0:
		return jugs(float64(whole) + float64(quarter)/4)
	case whole == 0:
		return f.millilitres(rest)
	}
	return jugs(float64(whole)) + " + " + f.millilitres(rest)
}

// measured returns the pieces of the rule for an amount that no jug measures.
func (f filler) measured(ml float64) []RulePart {
	if f.System == measure.US {
		whole, quarter := quarters(ml / mlPerFluidOunce)
		return []RulePart{{Number: true, Whole: whole, Quarters: quarter}, {Word: "fl oz"}}
	}
	return []RulePart{{Number: true, Whole: int(math.Round(ml))}, {Word: "mL"}}
}

func (f filler) anyRecharge() bool {
	for _, r := range f.plan.Vat.Recharges {
		if !r.RunDown {
			return true
		}
	}
	return false
}

// usualRecharge is the first recharge of the run.
func (f filler) usualRecharge() plan.Recharge {
	for _, r := range f.plan.Vat.Recharges {
		if !r.RunDown {
			return r
		}
	}
	return plan.Recharge{}
}

// mostListed is how many sheets of one act are listed with a box each; beyond
// it the act is said as a rule and ticked on the tally.
const mostListed = 24

// recharges gathers the plan's acts by what is done, in the order in which
// they first come.
func (f filler) recharges() []RechargeGroup {
	var groups []RechargeGroup
	var low, high []float64
	at := map[string]int{}
	for _, r := range f.plan.Vat.Recharges {
		g := f.group(r)
		key := fmt.Sprint(g.Act, "|", g.WaterOff, "|", g.RunDown)
		i, seen := at[key]
		if !seen {
			i = len(groups)
			at[key] = i
			groups, low, high = append(groups, g), append(low, r.StockML), append(high, r.StockML)
		}
		groups[i].Before = append(groups[i].Before, r.BeforeSheet)
		low[i], high[i] = math.Min(low[i], r.StockML), math.Max(high[i], r.StockML)
	}
	for i := range groups {
		g := &groups[i]
		if high[i] > 0 {
			g.Exact = f.millilitres(high[i])
			if from := f.millilitres(low[i]); from != g.Exact {
				g.Exact = span(from, g.Exact)
			}
			if g.Act == g.Exact+" in" { // said already
				g.Exact = ""
			}
		}
		if len(g.Before) > mostListed || len(g.Before) > usualTests && !g.RunDown && f.whole("sheets_per_recharge") == 1 {
			g.Every, g.Before = sayRule(g.Before), nil
		}
	}
	return groups
}

// group says one act, rounded as it is done: stock by the jug, water to the
// half litre above two, to the tenth below.
func (f filler) group(r plan.Recharge) RechargeGroup {
	g := RechargeGroup{RunDown: r.RunDown, Act: "no stock"}
	if r.StockML > 0 {
		g.Act = f.dose(r.StockML) + " in"
	}
	if off := f.roundOff(r.WaterOffL); off != "" {
		g.WaterOff = off + " off through the strainer"
		if r.StockML <= 0 {
			g.Act, g.WaterOff = "water off: "+off, "through the strainer, no stock"
		}
	}
	if in := f.roundOff(r.WaterInL); in != "" {
		g.WaterOff = in + " of water in as well"
	}
	return g
}

func (f filler) roundOff(litres float64) string {
	if litres >= 2 {
		litres = math.Round(litres*2) / 2
	} else {
		litres = math.Round(litres*10) / 10
	}
	if litres <= 0 {
		return ""
	}
	return f.litres(litres)
}

// sayRule says a long list of sheets as a rule: from, by how many, to, and
// what breaks it.
func sayRule(before []int) string {
	step := map[int]int{}
	for i := 1; i < len(before); i++ {
		step[before[i]-before[i-1]]++
	}
	by, most := 0, 0
	for d, n := range step {
		if n > most || n == most && d < by {
			by, most = d, n
		}
	}
	first, last := before[0], before[len(before)-1]
	if by == 1 && last-first == len(before)-1 {
		return fmt.Sprintf("before every sheet from %d to %d", first, last)
	}
	text := fmt.Sprintf("every %d sheets: before sheet %d, %d, %d … to %d", by, first, first+by, first+2*by, last)
	on := map[int]bool{}
	for _, n := range before {
		on[n] = true
	}
	var not, also []string
	for n := first; n <= last; n += by {
		if !on[n] {
			not = append(not, fmt.Sprint(n))
		}
	}
	for _, n := range before {
		if (n-first)%by != 0 {
			also = append(also, fmt.Sprint(n))
		}
	}
	return join("; ", text, prefix("not before ", strings.Join(not, ", ")), prefix("also before ", strings.Join(also, ", ")))
}

// posts counts the sheets into posts and marks those an act comes before.
// Where every sheet is recharged for, the rule says it and no mark is needed.
func (f filler) posts() []Post {
	total := f.whole("sheets_couched")
	if total == 0 {
		total = f.whole("sheets_to_pull")
	}
	each := f.whole("post_sheets")
	if each <= 0 {
		each = total
	}
	tests, always := f.testSheets(), f.whole("sheets_per_recharge") == 1
	var list []Post
	for first := 1; first <= total; first += each {
		q := Post{First: first, Last: min(total, first+each-1)}
		q.Test = max(0, min(tests, q.Last)-first+1)
		for _, r := range f.plan.Vat.Recharges {
			switch {
			case r.BeforeSheet < q.First || r.BeforeSheet > q.Last:
			case r.RunDown:
				q.RunDown = append(q.RunDown, r.BeforeSheet)
			case !always:
				q.Recharge = append(q.Recharge, r.BeforeSheet)
			}
		}
		list = append(list, q)
	}
	return list
}
