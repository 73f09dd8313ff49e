package plan

import (
	"cmp"
	"math"
	"slices"

	"vatside/internal/figure"
)

// test is one cheap thing to do before a making that tells one coefficient:
// its words, the minutes it takes, and its own error on the belief's scale.
type test struct {
	known, words string
	minutes      float64
	sd           float64
}

// tests are common practice; their errors are judged from the scale and the
// ruler they use (from memory).
var tests = []test{
	{"moisture_air_dry_pct_wet_basis", "Weigh a handful of the fibre, iron or oven it dry, weigh again", 15, 0.06},
	{"effective_depth_mm", "Pull three sheets from a vat of known strength, iron them dry and weigh them", 30, 0.03},
	{"shrink_long_pct", "Form one sheet of this stock, dry it as planned and measure it both ways", 25, 0.008},
	{"solids_pressed_pct", "Weigh three sheets straight from the press, and again dry", 15, 0.05},
	{"solids_couched_pct", "Weigh one couched sheet wet, and again dry", 10, 0.08},
	{"beater_loss_pct", "Strain a litre of beaten stock, dry and weigh it, and measure the whole volume", 20, 0.3},
	{"additive_retained_pct", "Burn a weighed sheet to ash in a kiln, or have it done", 60, 0.15},
	{"moisture_conditioned_pct_dry_basis", "Weigh ten sheets in the room, iron them dry and weigh again", 15, 0.08},
	{"dryer_efficiency_pct", "Weigh one load into the dryer and after six hours", 15, 0.1},
	{"hand_scatter_pct", "Weigh ten sheets of the last making one by one", 10, 0.23},
}

// helped are the figures a test may narrow, with the column behind each.
func (m *maker) helped() map[string]figure.Column {
	return map[string]figure.Column{
		"fibre_air_dry_g": m.need,
		"dry_long_mm":     m.dryLong,
		"grammage_g_m2":   m.grammage,
		"drying_hours":    m.dryHours,
	}
}

// help says which one cheap test would narrow the plan most: each figure is
// regressed on each coefficient over the draws, and what the test would leave
// of that coefficient's spread is what it leaves of its part of the band.
func (m *maker) help() {
	if m.bk.Err() != nil {
		return
	}
	figures := m.helped()
	for _, t := range tests {
		leaf, b := m.leaf[t.known], m.by[t.known]
		if leaf == nil || b.Pin != nil {
			continue
		}
		_, sd := b.Next()
		left := t.sd * t.sd / (sd*sd + t.sd*t.sd) // of the variance, after the test
		best := Help{}
		for key, col := range figures {
			lo, hi := m.bk.Quantile(col, 0.05), m.bk.Quantile(col, 0.95)
			f := m.out[key]
			now := (hi - lo) / 2 / f.Value * 100
			if f.Kind == figure.Decision {
				now = (hi - lo) / (hi + lo) * 100
			}
			r := m.bk.Correlation(leaf, col)
			then := now * math.Sqrt(1-r*r*(1-left))
			if h := (Help{Measure: t.words, Belief: t.known, Minutes: t.minutes, Narrows: key, BandNow: now, BandNew: then}); better(h, best) {
				best = h
			}
		}
		if best.BandNow-best.BandNew > 0.05*best.BandNow {
			m.plan.HelpMost = append(m.plan.HelpMost, best)
		}
	}
	slices.SortStableFunc(m.plan.HelpMost, func(a, b Help) int { return cmp.Compare(b.gain(), a.gain()) })
}

// gain is how many points of band a test takes off.
func (h Help) gain() float64 { return h.BandNow - h.BandNew }

func better(a, b Help) bool {
	if a.gain() != b.gain() {
		return a.gain() > b.gain()
	}
	return a.Narrows < b.Narrows
}
