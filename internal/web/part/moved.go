package part

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// Move is one thing a plan says, in one plan and in another, with the change in
// plain words.
type Move struct {
	Key  string
	Name string
	Was  string // "–" where that plan does not say it
	Now  string
	Said string  // "" where both read alike
	Much float64 // how large the change is, of the smaller of the two
}

// facets are the figures two plans are compared by, in the order of the work, and
// what more of each is called, and less.
var facets = []struct{ key, more, less string }{
	{"promise_pct", "more", "less"},
	{"sheets_to_pull", "more", "fewer"},
	{"fibre_air_dry_g", "more", "less"},
	{"formed_long_mm", "longer", "shorter"},
	{"formed_short_mm", "longer", "shorter"},
	{"dry_long_mm", "longer", "shorter"},
	{"dry_short_mm", "longer", "shorter"},
	{shrinks, "more", "less"},
	{"conditioned_mass_per_sheet_g", "heavier", "lighter"},
	{"caliper_mm", "thicker", "thinner"},
	{"density_g_cm3", "denser", "looser"},
	{"share_within_pct", "more", "fewer"},
	{"vat_consistency_g_l", "thicker", "thinner"},
	{"beater_loads", "more", "fewer"},
	{"beater_hours", "longer", "shorter"},
	{"posts", "more", "fewer"},
	{"press_pressure_kpa", "more", "less"},
	{"dryer_loads", "more", "fewer"},
	{"drying_hours", "longer", "shorter"},
	{"hands_on_hours", "longer", "shorter"},
	{"elapsed_days", "longer", "shorter"},
	{"cost_total", "dearer", "cheaper"},
	{"cost_per_good_sheet", "dearer", "cheaper"},
}

// shrinks is the key of the shrinkage among what a plan rests on.
const shrinks = "shrink_long_pct"

// Moves sets two plans side by side.
func Moves(was, now plan.Plan, s Speech) []Move {
	var list []Move
	for _, f := range facets {
		a, had := facet(was, f.key)
		b, has := facet(now, f.key)
		if !had && !has {
			continue
		}
		m := Move{Key: f.key, Name: names[f.key], Was: "–", Now: "–"}
		if had {
			m.Was = s.One(a.Value, a.Unit)
		}
		if has {
			m.Now = s.One(b.Value, b.Unit)
		}
		if had && has && m.Was != m.Now {
			m.Said, m.Much = said(a.Value, b.Value, b.Unit, f.more, f.less, s)
		}
		list = append(list, m)
	}
	return list
}

// facet is a figure of a plan, or the shrinkage it rests on.
func facet(p plan.Plan, key string) (figure.Figure, bool) {
	if key == shrinks {
		i := slices.IndexFunc(p.RestsOn, func(r plan.Prior) bool { return r.Key == key })
		if i < 0 {
			return figure.Figure{}, false
		}
		return figure.Figure{Value: p.RestsOn[i].Value, Unit: "%"}, true
	}
	f, ok := p.Figures[key]
	return f, ok
}

// smallChange is the least share of a figure that is said in per cent too.
const smallChange = 0.01

// said is a change in plain words: by how much, and in parts of what it was.
func said(was, now float64, unit, more, less string, s Speech) (text string, much float64) {
	by, word := now-was, more
	if by < 0 {
		by, word = -by, less
	}
	if least := min(math.Abs(was), math.Abs(now)); least > 0 {
		much = by / least
	}
	if unit == "%" { // in points, as fine as it is read
		points := strconv.FormatFloat(by, 'f', 1, 64)
		if points == "0.0" {
			return "hardly " + word, much
		}
		return points + " points " + word, much
	}
	text = s.One(by, unit) + " " + word
	switch {
	case was > 0 && now >= 2*was:
		text += fmt.Sprintf(", %s times as much", plain(now/was))
	case was > 0 && by/was >= smallChange:
		text += fmt.Sprintf(", by %.0f\u202f%%", 100*by/was)
	}
	return text, much
}

// Moved sets what two plans say in a table; the columns name the two.
func Moved(moves []Move, caption, was, now string) Table {
	t := Table{Caption: caption, Columns: []Column{{Label: "What"}, {Label: was, Number: true}, {Label: now, Number: true}}}
	for _, m := range moves {
		cells := []string{m.Name, m.Was, m.Now}
		if m.Was == m.Now {
			cells[2] = "the same"
		}
		t.Rows = append(t.Rows, Row{Cells: cells, Note: m.Said})
	}
	return t
}

// mostTold is how many changes are read at a glance.
const mostTold = 3

// Told says the greatest changes in a few words, in the order of the work.
func Told(moves []Move) []string {
	far := slices.DeleteFunc(slices.Clone(moves), func(m Move) bool { return m.Said == "" })
	slices.SortStableFunc(far, func(a, b Move) int {
		switch {
		case a.Much > b.Much:
			return -1
		case a.Much < b.Much:
			return 1
		}
		return 0
	})
	far = far[:min(mostTold, len(far))]
	var list []string
	for _, m := range moves {
		if slices.ContainsFunc(far, func(f Move) bool { return f.Key == m.Key }) {
			list = append(list, m.Name+": "+m.Said)
		}
	}
	return list
}

// Minded compares what two plans warn of: what is new, and what is gone.
func Minded(was, now plan.Plan, s Speech) (fresh, gone []string) {
	for _, w := range now.Warnings {
		if !slices.Contains(was.Warnings, w) {
			fresh = append(fresh, Upper(measure.Retell(w.Text, s.System)))
		}
	}
	for _, w := range was.Warnings {
		if !slices.ContainsFunc(now.Warnings, func(n plan.Warning) bool { return n.Code == w.Code }) {
			gone = append(gone, Upper(measure.Retell(w.Text, s.System)))
		}
	}
	return fresh, gone
}
