package paperwork

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// Making says whose making a card is for.
type Making struct {
	Tag   string
	Link  string // content of the QR code; empty: the tag alone
	Paper string // empty: the name in the request
	By    string
	For   string
	Date  time.Time // the day it is planned for; zero leaves the day off
}

// FromPlan returns the card of a plan, in the user's system of units. It
// formats what the plan decided; the only arithmetic is sharing the fibre out
// by the furnish, counting sheets into posts, and rounding jugs to quarters.
func FromPlan(m Making, r plan.Request, pl plan.Plan, in measure.System) Card {
	f := filler{Request: r, plan: pl, system: system{in}, figures: pl.Figures}
	c := Card{
		Tag: m.Tag, Link: m.Link, Paper: m.Paper, By: m.By, For: m.For, Date: m.Date,
		Use: r.Paper.Use, Units: f.name(), LengthUnit: f.lengthUnit(), MassUnit: f.massUnit(),
		Furnish: f.furnish(), Promise: f.promise(), Sizes: f.sizes(), Outcomes: f.outcomes(),
		Decisions: f.decisions(), Tests: f.tests(), Steps: f.steps(), RestsOn: f.restsOn(),
	}
	if c.Paper == "" {
		c.Paper = r.Paper.Name
	}
	if c.Paper == "" {
		c.Paper = "paper without a name"
	}
	if !m.Date.IsZero() {
		c.When = m.Date.Format("Monday 2 January 2006")
	}
	c.StockUnit, c.TempUnit = f.bare("L", "US gal"), f.bare("°C", "°F")
	c.Weigh, c.Readings, c.Sized = f.weighed(), f.readings(), r.Paper.SurfaceSize != ""
	f.vatside(&c)
	c.Posts = f.posts()
	for _, w := range f.weighings() {
		if w.Additive && w.step == "" {
			c.Notes = append(c.Notes, f.stray(w))
		}
	}
	for _, w := range pl.Warnings {
		switch text := measure.Retell(w.Text, in); {
		case w.Code == "clash" && f.atStep(w):
		case slices.Contains(settled, w.Code):
			c.Grounds = append(c.Grounds, text)
		default:
			c.Notes = append(c.Notes, text)
		}
	}
	return c
}

// settled are the warnings, by code, that were for whoever planned it: at the
// bench the table, the loads and the promise on the card already say it.
var settled = []string{"assumed", "handbook only", "promise", "level rises", "many loads", "tolerance tight", "vat too small", "mould close", "mould larger", "mould too small"}

// filler formats one plan.
type filler struct {
	plan.Request
	system
	plan    plan.Plan
	figures map[string]figure.Figure
}

// value returns a figure's value and whether the plan has it.
func (f filler) value(key string) (float64, bool) {
	fig, ok := f.figures[key]
	return fig.Value, ok
}

// whole returns a figure as a count, 0 when the plan lacks it.
func (f filler) whole(key string) int {
	v, _ := f.value(key)
	return int(math.Round(v))
}

func (f filler) furnish() string {
	var fibres, added []string
	for _, p := range f.Paper.Furnish {
		fibres = append(fibres, fmt.Sprintf("%s %s %%", p.Fibre, number(p.SharePct, 1)))
	}
	for _, a := range f.Paper.Additives {
		if a.DoseMLL > 0 {
			added = append(added, a.Kind+" "+f.toALitre(a.DoseMLL)+" of vat")
			continue
		}
		added = append(added, fmt.Sprintf("%s %s %% on fibre", a.Kind, number(a.DosePct, 2)))
	}
	size := "waterleaf"
	if f.Paper.SurfaceSize != "" {
		size = "sized with " + f.Paper.SurfaceSize
	}
	return join("; ", strings.Join(fibres, ", "), strings.Join(added, ", "), size, f.Paper.Finish)
}

func (f filler) promise() string {
	if f.GoodSheets == nil {
		return ""
	}
	s := fmt.Sprintf("%d good sheets", *f.GoodSheets)
	if pct, ok := f.value("promise_pct"); ok {
		return fmt.Sprintf("%s, %s times in 100", s, number(pct, 0))
	}
	if f.ConfidencePct != nil {
		return fmt.Sprintf("%s, %s times in 100", s, number(*f.ConfidencePct, 0))
	}
	return s
}

func (f filler) sizes() []Entry {
	list := []Entry{{Label: "size wanted", Value: f.sides(f.Sheet.LongMM, f.Sheet.ShortMM), Band: join(", ", f.shape(), f.Sheet.Edges)}}
	if f.Sheet.Edges == "trimmed" && f.Sheet.TrimMM != nil {
		list[0].Band = join(", ", f.shape(), fmt.Sprintf("trimmed, %s an edge", f.show(*f.Sheet.TrimMM, "mm")))
	}
	long, ok := f.value("formed_long_mm")
	short, ok2 := f.value("formed_short_mm")
	if ok && ok2 {
		list = append(list, Entry{Label: "formed size", Value: f.sides(long, short), Band: "inside the deckle"})
	}
	if f.plan.Mould != "" {
		mould := Entry{Label: "mould", Value: measure.Retell(f.plan.Mould, f.System)}
		if n := f.atAPull(); n > 1 {
			mould.Band = fmt.Sprintf("divided: %s sheets at a pull", words(n))
		}
		list = append(list, mould)
	}
	gram := Entry{Label: "grammage", Value: number(f.Paper.GrammageConditioned, 1) + " g/m²", Band: "conditioned"}
	if f.Paper.TolerancePct != nil {
		gram.Value += " ± " + number(*f.Paper.TolerancePct, 1) + " %"
	}
	list = append(list, gram)
	if g, ok := f.value("conditioned_mass_per_sheet_g"); ok {
		list = append(list, Entry{Label: "one sheet weighs", Value: f.mass(g), Band: "conditioned"})
	}
	if kpa, ok := f.value("press_pressure_kpa"); ok {
		list = append(list, Entry{Label: "press", Value: f.show(kpa, "kPa"), Band: "on the sheets"})
	}
	return list
}

// shape says a sheet that is no rectangle.
func (f filler) shape() string {
	switch shape := f.Sheet.Shape; shape {
	case "", "rectangle":
		return ""
	case "odd":
		if f.Sheet.FillsPct != nil {
			return fmt.Sprintf("odd shape in a box of this size, which it fills to %s %%", number(*f.Sheet.FillsPct, 0))
		}
		return "odd shape in a box of this size"
	default:
		return shape
	}
}

func (f filler) outcomes() []Entry {
	var list []Entry
	if long, ok := f.figures["dry_long_mm"]; ok {
		short := f.figures["dry_short_mm"]
		band := join(" × ", f.band(long.Low, long.High, "mm"), f.band(short.Low, short.High, "mm"))
		list = append(list, Entry{"dry size", f.sides(long.Value, short.Value), band})
	}
	add := func(key, label, unit string) {
		if fig, ok := f.figures[key]; ok {
			list = append(list, Entry{label, f.show(fig.Value, unit), f.band(fig.Low, fig.High, unit)})
		}
	}
	add("grammage_g_m2", "grammage", "g/m²")
	add("drying_hours", "drying", "h")
	add("hands_on_hours", "hands on", "h")
	add("elapsed_days", "first to last", "days")
	add("cost_per_good_sheet", "per good sheet", "money")
	for i := range list {
		if value, ok := strings.CutSuffix(list[i].Value, " money"); ok {
			list[i].Value = join(" ", value, f.Studio.Currency)
		}
	}
	return list
}

func (f filler) tests() TestTable {
	n := f.testSheets()
	aim, ok := f.value("test_weight_g")
	if n == 0 {
		return TestTable{}
	}
	t := TestTable{Sheets: words(n), Unit: f.massUnit()}
	t.Heading = fmt.Sprintf("%s test sheets, ironed, weighed together", words(n))
	if n == 1 {
		t.Heading = "one test sheet, ironed, weighed"
	}
	if !ok { // each sheet has its own measure: no vat to set right
		t.Rows = []TestRow{{Range: "5 % light", Do: "pour 5 % more"}, {Range: "5 % heavy", Do: "pour 5 % less"}}
		return t
	}
	for _, row := range f.plan.Vat.Tests {
		t.Rows = append(t.Rows, f.testRow(row, aim))
	}
	if len(t.Rows) == 0 {
		t.Rows = []TestRow{{Range: f.mass(aim), Do: "is what they should weigh"}}
		return t
	}
	t.Note = "Stock in: as much water off through the strainer. Water in: as much of the vat out first, and kept."
	return t
}

func (f filler) testRow(row plan.TestRow, aim float64) TestRow {
	out := TestRow{Do: "go on", Exact: "aim: " + f.mass(aim)}
	from, to := f.mass(row.FromG), f.mass(row.ToG)
	switch {
	case row.FromG <= 0:
		out.Range = "under " + to
	case row.ToG <= 0:
		out.Range = from + " or more"
	default:
		out.Range = span(from, to)
	}
	switch {
	case row.StockML > 0:
		out.Do, out.Exact = jugs(row.Jugs)+" in", f.millilitres(row.StockML)
	case row.WaterInL > 0:
		out.Do, out.Exact = f.litres(row.WaterInL)+" of water in", ""
	}
	return out
}

// usualTests is what a plan takes where the request does not say.
const usualTests = 3

// testSheets returns how many test sheets the plan has.
func (f filler) testSheets() int {
	if f.TestSheets != nil {
		return *f.TestSheets
	}
	return usualTests
}

func words(n int) string {
	names := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(names) {
		return names[n]
	}
	return fmt.Sprint(n)
}

// restsOn says in one line what the plan rests on: what was measured and how
// often, what the maker fixed, and the rest by the handbook.
func (f filler) restsOn() string {
	// minutes of steps are fifteen lines that move nothing at the vat
	rests := slices.DeleteFunc(slices.Clone(f.plan.RestsOn), func(p plan.Prior) bool { return strings.HasPrefix(p.Key, plan.StepTimeKey("")) })
	measured := slices.DeleteFunc(slices.Clone(rests), func(p plan.Prior) bool { return p.State != "measured" })
	slices.SortStableFunc(measured, func(a, b plan.Prior) int { return b.Seen - a.Seen })
	var parts, fixed []string
	book := 0
	for _, p := range measured {
		parts = append(parts, fmt.Sprintf("%s measured %s", p.Name, times(p.Seen)))
	}
	for _, p := range rests {
		switch p.State {
		case "fixed":
			fixed = append(fixed, p.Name)
		case "handbook":
			book++
		}
	}
	const named = 3 // more than that is a list nobody reads at the bench
	if len(fixed) > named {
		parts = append(parts, fmt.Sprintf("%d numbers fixed by the maker", len(fixed)))
	} else if len(fixed) > 0 {
		parts = append(parts, "fixed by the maker: "+strings.Join(fixed, ", "))
	}
	switch {
	case book > 0 && len(parts) == 0:
		parts = []string{"handbook alone; nothing measured in this studio yet"}
	case book == 1:
		parts = append(parts, "handbook for one other")
	case book > 1:
		parts = append(parts, fmt.Sprintf("handbook for %d others", book))
	}
	return strings.Join(parts, "; ")
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}
