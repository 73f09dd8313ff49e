package plan

import (
	"fmt"

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
	Table    *part.Table // read at the act
	Folded   *part.Table // opened when it is needed
	Cautions []part.Caution
	Warnings []string
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
	"fill vat":       {[]string{"vat_first_fill_l"}, []string{"vat_first_fill_g", "vat_consistency_g_l", "crowding"}},
	"test sheets":    {[]string{"test_weight_g"}, nil},
	"pull and couch": {[]string{"sheets_to_pull", "sheets_per_recharge", "recharge_stock_ml"}, []string{"formed_long_mm", "formed_short_mm", "recharge_jugs"}},
	"press":          {[]string{"posts", "post_sheets"}, []string{"press_pressure_kpa", "water_after_press_kg"}},
	"dry":            {[]string{"dryer_loads", "drying_hours"}, nil},
	"size":           {[]string{"size_bath_l", "size_g"}, []string{"size_on_sheet_pct"}},
}

// outcomes are what will come, in the order of the card.
var outcomes = []string{
	"conditioned_mass_per_sheet_g", "grammage_g_m2", "share_within_pct", "dry_long_mm", "dry_short_mm", "caliper_mm", "density_g_cm3", "bulk_cm3_g",
	"hands_on_hours", "elapsed_days", "heel_fibre_g", "cost_work", "cost_materials", "cost_overhead", "cost_total", "cost_per_good_sheet", "price_floor_shop",
}

// fill sets the plan's answer.
func fill(d *Data, b studio.Brief, p plan.Plan) {
	d.Promise = promise(b, p)
	atStep := warnings(d, p)
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
		step := newStep(i+1, s, d.Speech)
		step.Warnings = atStep[s.Key]
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
		case s.Key == "weigh" && len(p.Weigh) > 1:
			t := weighed(d.Speech, p.Weigh)
			step.Table = &t
		case s.Key == "beat" && len(p.Loads) > 1:
			t := loads(d.Speech, p.Loads)
			step.Table = &t
		case s.Key == "test sheets" && len(p.Vat.Tests) > 0:
			t := tests(d.Speech, p.Vat.Tests)
			step.Folded = &t
		case s.Key == "pull and couch" && len(p.Vat.Recharges) > 0:
			t := recharges(d.Speech, p.Vat.Recharges)
			step.Table = &t
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
			What: fmt.Sprintf("%s: now ±%.2g %%, then ±%.2g %%", part.FigureName(h.Narrows, h.Narrows), h.BandNow, h.BandNew),
		})
	}
	d.Rests = rests(d.Speech, p.RestsOn)
}
