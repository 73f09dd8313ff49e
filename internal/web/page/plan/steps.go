package plan

import (
	"fmt"
	"strconv"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Step is one step of the making with the decisions that are used in it.
type Step struct {
	Number   int
	Name     string
	Time     string
	Wait     string
	KeepBy   string
	Note     string
	Large    []part.Figure
	Small    []part.Figure
	Tables   []part.Table
	Cautions []part.Caution
}

// Help is what one cheap test would do to the plan.
type Help struct {
	Measure, Minutes, What string
}

// used says which figures belong to a step: those read across the room, and
// those read when asked for.
var used = map[string]struct{ large, small []string }{
	"weigh":          {[]string{"fibre_air_dry_g"}, []string{"fibre_bone_dry_g"}},
	"beat":           {[]string{"beater_loads", "beater_hours"}, []string{"beater_load_g"}},
	"drain stock":    {nil, []string{"level_stock_g_l", "level_rise_l"}},
	"fill vat":       {[]string{"vat_first_fill_l"}, []string{"vat_first_fill_g", "vat_consistency_g_l"}},
	"test sheets":    {[]string{"test_weight_g"}, nil},
	"pull and couch": {[]string{"sheets_to_pull", "sheets_per_recharge", "recharge_jugs"}, []string{"formed_long_mm", "formed_short_mm", "recharge_stock_ml"}},
	"press":          {[]string{"posts", "post_sheets"}, []string{"press_pressure_kpa", "water_after_press_kg"}},
	"dry":            {[]string{"dryer_loads", "drying_hours"}, nil},
}

// outcomes are what will come, in the order of the card.
var outcomes = []string{
	"conditioned_mass_per_sheet_g", "grammage_g_m2", "share_within_pct", "dry_long_mm", "dry_short_mm",
	"hands_on_hours", "elapsed_days", "heel_fibre_g", "cost_total", "cost_per_good_sheet",
}

// fill sets the plan's answer.
func fill(d *Data, b studio.Brief, p plan.Plan) {
	d.Promise = promise(b, p)
	d.Warnings = p.Warnings
	shown := func(key string, large bool) (part.Figure, bool) {
		f, ok := p.Figures[key]
		if !ok {
			return part.Figure{}, false
		}
		v := part.NewFigure(key, f, d.Speech, "/briefs/"+d.ID+"/sums/"+key)
		v.Large = large
		return v, true
	}
	for i, s := range p.Steps {
		step := newStep(i+1, s)
		for _, key := range used[s.Key].large {
			if f, ok := shown(key, true); ok {
				step.Large = append(step.Large, f)
			}
		}
		for _, key := range used[s.Key].small {
			if f, ok := shown(key, false); ok {
				step.Small = append(step.Small, f)
			}
		}
		switch {
		case s.Key == "test sheets" && len(p.Vat.Tests) > 0:
			step.Tables = append(step.Tables, tests(d.Speech, p.Vat.Tests))
		case s.Key == "pull and couch" && len(p.Vat.Recharges) > 0:
			step.Tables = append(step.Tables, recharges(d.Speech, p.Vat.Recharges))
		}
		d.Steps = append(d.Steps, step)
	}
	for _, key := range outcomes {
		if f, ok := shown(key, false); ok {
			d.Outcomes = append(d.Outcomes, f)
		}
	}
	for _, h := range p.HelpMost {
		d.Help = append(d.Help, Help{
			Measure: part.Upper(h.Measure), Minutes: part.Minutes(h.Minutes),
			What: fmt.Sprintf("%s: now ±%.0f %%, then ±%.0f %%", part.FigureName(h.Narrows, h.Narrows), h.BandNow, h.BandNew),
		})
	}
	d.Rests = rests(d.Speech, p.RestsOn)
}

func newStep(n int, s plan.Step) Step {
	step := Step{Number: n, Name: s.Name, Note: part.Upper(s.Note), Time: part.Minutes(s.HandsOn.Value) + " by hand"}
	switch {
	case s.WaitLeast > 0 && s.WaitMost > s.WaitLeast:
		step.Wait = "then wait " + part.Hours(s.WaitLeast) + " to " + part.Hours(s.WaitMost)
	case s.WaitLeast > 0:
		step.Wait = "then wait " + part.Hours(s.WaitLeast)
	}
	if s.KeepByH > 0 {
		step.KeepBy = "go on within " + part.Hours(s.KeepByH)
	}
	for _, c := range s.Cautions {
		step.Cautions = append(step.Cautions, part.Caution{Text: c})
	}
	return step
}

// recharges sets the table at the vat, in the studio's own jug; the run-down
// stands apart.
func recharges(s part.Speech, list []plan.Recharge) part.Table {
	t := part.Table{Caption: "Recharges", Columns: []part.Column{
		{Label: "Before sheet", Number: true}, {Label: "Jugs", Number: true}, {Label: "Stock", Number: true},
		{Label: "Water off", Number: true}, {Label: "Vat then", Number: true},
	}}
	down := false
	for _, r := range list {
		row := part.Row{Cells: []string{strconv.Itoa(r.BeforeSheet), part.Jugs(r.Jugs), "–", "–", s.One(r.VatL, "L")}}
		if r.StockML > 0 {
			row.Cells[2] = s.One(r.StockML, "mL")
		}
		if r.WaterOffL >= 0.05 {
			row.Cells[3] = s.One(r.WaterOffL, "L")
		}
		if r.RunDown && !down {
			down, row.Apart = true, true
			row.Note = "From here the vat is run down: no more stock, water off through a strainer."
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// tests sets what to do after the test sheets, by their weight.
func tests(s part.Speech, list []plan.TestRow) part.Table {
	t := part.Table{Caption: "After the test sheets, ironed and weighed together", Columns: []part.Column{
		{Label: "They weigh", Number: true}, {Label: "Stock in, jugs", Number: true}, {Label: "Stock in", Number: true}, {Label: "Water in", Number: true},
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
			row.Cells[1], row.Cells[2] = part.Jugs(r.Jugs), s.One(r.StockML, "mL")
		}
		if r.WaterInL > 0 {
			row.Cells[3] = s.One(r.WaterInL, "L")
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// rests lists what the plan rests on.
func rests(s part.Speech, list []plan.Prior) part.Table {
	t := part.Table{Caption: "What this plan rests on", Columns: []part.Column{{Label: "What"}, {Label: "Nine times in ten", Number: true}, {Label: "From"}}}
	for _, p := range list {
		from := p.State
		switch {
		case p.State == "measured" || p.Seen > 0:
			from = fmt.Sprintf("you measured ×%d", p.Seen)
		case p.State == "fixed":
			from = "fixed by you"
		default:
			from = part.RestsOn(p.Grade)
		}
		t.Rows = append(t.Rows, part.Row{Cells: []string{part.Upper(p.Name), s.Span(p.Low, p.High, p.Unit), from}})
	}
	return t
}
