package plan

import (
	"fmt"
	"strconv"

	"vatside/internal/plan"
	"vatside/internal/web/part"
)

// weighed lists what goes on the scales: each fibre as it lies on the shelf,
// then what is added to the stock.
func weighed(s part.Speech, list []plan.Weigh) part.Table {
	t := part.Table{Caption: "On the scales", Columns: []part.Column{{Label: "What"}, {Label: "Weigh", Number: true}}}
	for _, w := range list {
		what := part.Upper(w.What)
		if w.Lot != "" {
			what += ", from " + w.Lot
		}
		switch {
		case w.Additive && w.Solution > 0:
			what += ", as bought; made up to " + s.One(w.Solution, "mL")
		case w.Additive:
			what += ", as bought, into the stock"
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{what, s.One(w.Grams, "g")}})
	}
	return t
}

// loads sets which machine beats what.
func loads(s part.Speech, list []plan.Load) part.Table {
	t := part.Table{Caption: "At the beaters", Columns: []part.Column{{Label: "What"}, {Label: "Where"}, {Label: "Loads", Number: true}, {Label: "Each", Number: true}, {Label: "Water", Number: true}, {Label: "Hours", Number: true}}}
	for _, l := range list {
		where := l.Machine
		if where == "" {
			where = "the beater"
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(l.Batch), part.Upper(where), strconv.Itoa(l.Loads), s.One(l.EachG, "g"), s.One(l.WaterL, "L"), s.One(l.Hours, "h")}})
	}
	return t
}

// act is one line at the vat as it is read: sheets before which the same is
// done are one line.
type act struct {
	sheets     []int
	stock, off string
	jugs       string
	runDown    bool
}

// recharges sets the table at the vat. What is poured is said by volume and by
// the studio's jug; the run-down stands apart.
func recharges(s part.Speech, list []plan.Recharge) part.Table {
	t := part.Table{Caption: "Recharges", Columns: []part.Column{
		{Label: "Before sheet"}, {Label: "Stock in", Number: true}, {Label: "Jugs", Number: true},
		{Label: "Water off", Number: true},
	}}
	down := false
	for _, a := range acts(s, list) {
		row := part.Row{Cells: []string{sheets(a.sheets), a.stock, a.jugs, a.off}}
		if a.runDown && !down {
			down, row.Apart = true, true
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func acts(s part.Speech, list []plan.Recharge) []act {
	var out []act
	for _, r := range list {
		a := act{sheets: []int{r.BeforeSheet}, stock: "–", off: "–", jugs: "–", runDown: r.RunDown}
		if r.StockML > 0 {
			a.stock, a.jugs = s.One(r.StockML, "mL"), part.Jugs(r.Jugs)
		}
		switch {
		case r.WaterOffL >= leastWater:
			a.off = s.One(r.WaterOffL, "L")
		case r.WaterInL >= leastWater:
			a.off = s.One(r.WaterInL, "L") + " in"
		}
		if n := len(out) - 1; n >= 0 && out[n].stock == a.stock && out[n].off == a.off && out[n].runDown == a.runDown {
			out[n].sheets = append(out[n].sheets, r.BeforeSheet)
			continue
		}
		out = append(out, a)
	}
	return out
}

// leastWater is the least water worth taking off, L; ours: half a teacup.
const leastWater = 0.05

// sheets names the sheets before which something is done: all of them where
// they are few, else how they go on.
func sheets(list []int) string {
	if len(list) == 1 {
		return strconv.Itoa(list[0])
	}
	step := list[1] - list[0]
	for i := 1; i < len(list); i++ {
		if list[i]-list[i-1] != step {
			step = 0
		}
	}
	first, last := list[0], list[len(list)-1]
	switch {
	case step == 1:
		return fmt.Sprintf("%d to %d, each", first, last)
	case step > 1 && len(list) > 3:
		return fmt.Sprintf("%d, %d, every %d to %d", first, list[1], step, last)
	}
	text := strconv.Itoa(first)
	for _, n := range list[1:] {
		text += ", " + strconv.Itoa(n)
	}
	return text
}

// tests sets what to do after the test sheets, by their weight.
func tests(s part.Speech, list []plan.TestRow) part.Table {
	t := part.Table{Caption: "Ironed dry and weighed together", Columns: []part.Column{
		{Label: "They weigh"}, {Label: "Stock in", Number: true}, {Label: "Jugs", Number: true}, {Label: "Water in", Number: true},
	}}
	for _, r := range list {
		row := part.Row{Cells: []string{"", "–", "–", "–"}}
		switch {
		case r.ToG == 0:
			row.Cells[0] = s.One(r.FromG, "g") + " or more"
		case r.FromG == 0:
			row.Cells[0] = "less than " + s.One(r.ToG, "g")
		default:
			row.Cells[0] = s.Range(r.FromG, r.ToG, "g")
		}
		if r.StockML > 0 {
			row.Cells[1], row.Cells[2] = s.One(r.StockML, "mL"), part.Jugs(r.Jugs)
		}
		if r.WaterInL > 0 {
			row.Cells[3] = s.One(r.WaterInL, "L")
		}
		if r.StockML == 0 && r.WaterInL == 0 {
			row.Cells[1] = "as it is"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
