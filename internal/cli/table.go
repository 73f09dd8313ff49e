package cli

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode"
	"unicode/utf8"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/recharge"
	"vatside/internal/source"
)

// table lines up cells set apart by tabs.
func table(w io.Writer, rows func(add func(cells ...string))) {
	t := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	rows(func(cells ...string) { fmt.Fprintln(t, strings.TrimRight(strings.Join(cells, "\t"), "\t")) })
	t.Flush() //nolint:errcheck // into memory
}

// planTable is a plan for people.
func planTable(r plan.Request, p plan.Plan, sys measure.System) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, heading(r, sys))
	if p.Mould != "" {
		fmt.Fprintf(&b, "Mould: %s\n", p.Mould)
	}
	section(&b, "Figures")
	figures(&b, p.Figures, plan.FigureOrder, sys)
	if len(p.Weigh) > 0 {
		section(&b, "Weigh out")
		table(&b, func(add func(...string)) {
			for _, w := range p.Weigh {
				add("  "+w.What, show(w.Grams, "g", sys))
			}
		})
	}
	if len(p.Vat.Tests) > 0 {
		section(&b, "When the test sheets weigh, together")
		testTable(&b, p.Vat.Tests, sys)
	}
	if len(p.Vat.Recharges) > 0 {
		section(&b, "At the vat")
		recharges(&b, p.Vat.Recharges, sys)
	}
	if len(p.Steps) > 0 {
		section(&b, "Steps")
		steps(&b, p.Steps)
	}
	if len(p.Warnings) > 0 {
		section(&b, "Warnings")
		for _, w := range p.Warnings {
			fmt.Fprintf(&b, "  %s\n", w.Text)
		}
	}
	if len(p.HelpMost) > 0 {
		section(&b, "What would narrow it most")
		for _, h := range p.HelpMost {
			fmt.Fprintf(&b, "  %s (%.0f min): %s ±%.0f %% → ±%.0f %%\n", h.Measure, h.Minutes, nameOf(h.Narrows, p.Figures[h.Narrows]), h.BandNow, h.BandNew)
		}
	}
	section(&b, "Rests on")
	restsOn(&b, p.RestsOn)
	return b.Bytes()
}

func heading(r plan.Request, sys measure.System) string {
	name := cmp.Or(strings.TrimSpace(oneLine(r.Paper.Name)), strings.TrimSpace(oneLine(r.Paper.Use)), "Paper")
	size := show(r.Sheet.LongMM, "mm", sys) + " × " + show(r.Sheet.ShortMM, "mm", sys)
	if r.GoodSheets != nil {
		return fmt.Sprintf("%s: %d good sheets, %s, %s", name, *r.GoodSheets, size, show(r.Paper.GrammageConditioned, "g/m²", sys))
	}
	return fmt.Sprintf("%s: what the pulp in hand makes, %s, %s", name, size, show(r.Paper.GrammageConditioned, "g/m²", sys))
}

func section(w io.Writer, title string) { fmt.Fprintf(w, "\n%s\n", title) }

// figures prints figures in a stated order, those it does not name last.
func figures(w io.Writer, all map[string]figure.Figure, order []string, sys measure.System) {
	keys := slices.Clone(order)
	for _, k := range slices.Sorted(maps.Keys(all)) {
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	table(w, func(add func(...string)) {
		for _, k := range keys {
			if f, ok := all[k]; ok {
				add("  "+nameOf(k, f), show(f.Value, f.Unit, sys), band(f, sys), f.Basis.String())
			}
		}
	})
}

func nameOf(key string, f figure.Figure) string {
	name := []rune(cmp.Or(f.Name, strings.ReplaceAll(key, "_", " ")))
	name[0] = unicode.ToUpper(name[0])
	return string(name)
}

// band says in words how sure a figure is.
func band(f figure.Figure, sys measure.System) string {
	switch {
	case f.ExpectedLow != nil && f.ExpectedHigh != nil:
		return "probably used " + span(*f.ExpectedLow, *f.ExpectedHigh, f.Unit, sys)
	case f.Low != f.High:
		return "nine times in ten " + span(f.Low, f.High, f.Unit, sys)
	default:
		return ""
	}
}

func show(v float64, unit string, sys measure.System) string {
	n, u := measure.Show(v, unit, sys)
	return strings.TrimSpace(n + " " + u)
}

func span(low, high float64, unit string, sys measure.System) string {
	n, u := measure.ShowBand(low, high, unit, sys)
	return strings.TrimSpace(n + " " + u)
}

func testTable(w io.Writer, rows []plan.TestRow, sys measure.System) {
	table(w, func(add func(...string)) {
		for _, t := range rows {
			weight := span(t.FromG, t.ToG, "g", sys)
			switch {
			case t.ToG == 0:
				weight = "over " + show(t.FromG, "g", sys)
			case t.FromG == 0:
				weight = "under " + show(t.ToG, "g", sys)
			}
			do := "go on"
			switch {
			case t.StockML > 0:
				do = "stock in: " + show(t.StockML, "mL", sys) + ", " + jugs(t.Jugs)
			case t.WaterInL > 0:
				do = "water in: " + show(t.WaterInL, "L", sys)
			}
			add("  "+weight, do)
		}
	})
}

func jugs(n float64) string {
	if s := fmt.Sprintf("%.2g", n); s != "1" {
		return s + " jugs"
	}
	return "1 jug"
}

func recharges(w io.Writer, list []plan.Recharge, sys measure.System) {
	table(w, func(add func(...string)) {
		add("  before sheet", "stock in", "", "solids", "water off", "vat then", "grammage before", "after")
		for _, r := range list {
			stock, many := "–", "–"
			if r.StockML > 0 {
				stock, many = show(r.StockML, "mL", sys), jugs(r.Jugs)
			}
			note := ""
			if r.RunDown {
				note = "run down"
			}
			add(fmt.Sprintf("  %d", r.BeforeSheet), stock, many, show(r.SolidsG, "g", sys), waterOff(r, sys), show(r.VatL, "L", sys),
				show(r.GrammageBefore, "g/m²", sys), show(r.GrammageAfter, "g/m²", sys), note)
		}
	})
}

// steps prints one line to a step, and under it what to heed. The lines of a
// note stand between the columns, so the widths are worked out first.
func steps(w io.Writer, list []plan.Step) {
	rows := make([][3]string, len(list))
	var wide [2]int
	for i, s := range list {
		rows[i] = [3]string{s.Name, measure.ShowDuration(measure.Minutes(s.HandsOn.Value)) + " hands on", waiting(s)}
		for c := range wide {
			wide[c] = max(wide[c], utf8.RuneCountInString(rows[i][c]))
		}
	}
	for i, s := range list {
		line := fmt.Sprintf("  %2d  %-*s   %-*s   %s", i+1, wide[0], rows[i][0], wide[1], rows[i][1], rows[i][2])
		fmt.Fprintln(w, strings.TrimRight(line, " "))
		for _, text := range append(nonEmpty(s.Note), s.Cautions...) {
			fmt.Fprintf(w, "        %s\n", text)
		}
	}
}

// waiting says how long a step waits, and by when the next must start.
func waiting(s plan.Step) string {
	var out []string
	switch {
	case s.WaitMost > s.WaitLeast:
		out = append(out, "then wait "+hours(s.WaitLeast)+" to "+hours(s.WaitMost))
	case s.WaitMost > 0:
		out = append(out, "then wait "+hours(s.WaitMost))
	}
	if s.KeepByH > 0 {
		out = append(out, "go on within "+hours(s.KeepByH))
	}
	return strings.Join(out, ", ")
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

func hours(h float64) string { return measure.ShowDuration(measure.Minutes(h * 60)) }

func restsOn(w io.Writer, list []plan.Prior) {
	table(w, func(add func(...string)) {
		for _, r := range list {
			unit := strings.TrimSpace(strings.TrimPrefix(r.Unit, " "))
			value := strings.TrimSpace(fmt.Sprintf("%.3g %s", r.Value, unit))
			within := ""
			if r.Low != r.High {
				within = fmt.Sprintf("nine times in ten %.3g–%.3g", r.Low, r.High)
			}
			from := r.State
			if r.Seen > 0 {
				from = fmt.Sprintf("%s, %d seen", from, r.Seen)
			}
			title := r.Source
			if s, ok := source.Get(r.Source); ok {
				title = s.Title
			}
			add("  "+nameOf(r.Key, figure.Figure{Name: r.Name}), value, within, from, title+" ("+r.Grade.String()+")")
		}
	})
}

// vatTable is a run of the vat for people.
func vatTable(r recharge.Request, a recharge.Answer, sys measure.System) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%d sheets from a vat of %s, aimed at %s bone-dry on formed area\n", r.Sheets, show(r.VatL, "L", sys), show(r.GrammageFormed, "g/m²", sys))
	section(&b, "Figures")
	all := maps.Clone(a.Figures)
	all["sheets_in_tolerance"] = a.SheetsInTolerance
	figures(&b, all, []string{"sheets_in_tolerance"}, sys)
	if len(a.Recharges) > 0 {
		section(&b, "Recharges")
		recharges(&b, a.Recharges, sys)
	}
	section(&b, "Sheets")
	table(&b, func(add func(...string)) {
		for _, s := range a.Sheets {
			add(fmt.Sprintf("  %d", s.N), show(s.Grammage, "g/m²", sys), fmt.Sprintf("%.1f %%", 100*s.Grammage/r.GrammageFormed), show(s.VatL, "L", sys))
		}
	})
	return b.Bytes()
}

// waterOff says what is taken off the vat, or put in where the stock is thick.
func waterOff(r plan.Recharge, sys measure.System) string {
	if r.WaterInL > 0 {
		return show(r.WaterInL, "L", sys) + " in"
	}
	return show(r.WaterOffL, "L", sys)
}
