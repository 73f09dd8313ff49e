package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"vatside/internal/drying"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/figure"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/pressing"
	"vatside/internal/sheet"
)

// warn says what equipment, safety or arithmetic has against the plan.
func (m *maker) warn() {
	m.warnVat()
	if m.Have == nil {
		m.warnBeater()
		m.warnPress()
		m.warnDrying()
		m.warnStore()
	}
	m.warnLong()
	m.warnAdditives()
	if len(m.priorOnly()) > 0 {
		m.say("handbook only", "Nothing measured yet of %s: the bands are wide, and one making narrows them.", strings.Join(m.priorOnly(), ", "))
	}
	if len(m.assumed) > 0 {
		m.say("assumed", "Not said, so taken as usual: %s.", strings.Join(m.assumed, "; "))
	}
}

// warnAdditives says which additives do not go together.
func (m *maker) warnAdditives() {
	list := make([]furnish.Added, 0, len(m.additives)+1)
	for _, a := range m.additives {
		dose := measure.Dose(a.DosePct / 100)
		if a.DoseMLL > 0 { // by the litre of vat: a clash asks only whether there is any
			dose = measure.Dose(math.SmallestNonzeroFloat64)
		}
		list = append(list, furnish.Added{Kind: a.row.Name, Dose: dose})
	}
	for _, c := range furnish.Clashes(list) {
		m.say("clash", "%s with %s: %s", capital(c.One), c.Other, c.Text)
	}
}

// sentence is a fault's text as one sentence.
func sentence(err error) string {
	text := fault.All(err)[0].Text
	return capital(strings.TrimSuffix(text, ".")) + "."
}

// warnLong says what to do about fibres that hang together in the vat: by the
// crowding number where it is known, else by what is known of the fibre.
func (m *maker) warnLong() {
	if n, ok := m.out["crowding"]; ok {
		crowd, err := sheet.CrowdOf(measure.Number(n.Value))
		if err == nil && (crowd == sheet.Flocs || crowd == sheet.NeedsAid) && !m.aided() {
			m.say("long fibre", "As long as they come to the beater, the fibres crowd in the vat: crowding number %s, and from 60 on they hang together in flocs. Beating shortens them; stir well and pull without waiting, thin the vat and dip deeper, or use formation aid.", three(n.Value))
		}
		return
	}
	for _, p := range m.parts {
		if p.LongFibre && m.forming == "western" && !m.aided() {
			m.say("long fibre", "%s is long and knots at usual consistency: dilute further, or use formation aid.", capital(p.Name))
		}
	}
}

// aided reports whether a formation aid goes into the vat.
func (m *maker) aided() bool {
	return slices.ContainsFunc(m.Paper.Additives, func(a Additive) bool { return a.DoseMLL > 0 })
}

// sheetShare is the greatest part of the vat's fibre one sheet should take.
const sheetShare = 0.05

func (m *maker) warnVat() {
	if m.forming == "poured" || m.bk.Err() != nil {
		return
	}
	b := m.balance()
	share := float64(b.Area) * float64(b.Depth) / float64(m.vat)
	if share > sheetShare {
		least, err := b.LeastVolume(sheetShare)
		if err == nil {
			m.say("vat too small", "Each sheet takes %.0f %% of the fibre in a vat of %s L; for 5 %% or less it wants %s L. Recharge before every sheet.", share*100, three(m.vat), three(least))
		}
	}
	if float64(b.Carried) >= float64(b.Area)*float64(b.Depth) {
		m.say("vat thickens", "Each sheet carries off more water than the stock it takes, so the vat grows thicker: add water, not stock.")
	}
	if f, ok := m.out["level_rise_l"]; ok && f.Value > 1 {
		m.say("level rises", "With stock of %s g/L the vat would rise %s L over the run: take water off through a strainer with each recharge as the table says, or drain the stock to %s g/L.",
			three(m.stock), three(f.Value), three(m.out["level_stock_g_l"].Value))
	}
	if m.fill > 0 && m.fill/float64(m.stock) > float64(m.vat) {
		m.say("stock too thin", "The first fill needs %s L of stock, more than the vat holds: drain the stock further.", three(m.fill/float64(m.stock)))
	}
}

// softPress is the pressure below which sheets come out markedly wetter.
const softPress = 100 // kPa

func (m *maker) warnPress() {
	_, most := m.bk.Band(m.post)
	if c, ok := pressing.LiftCaution(measure.Kilograms(most)); ok {
		m.say("heavy post", "The fullest post may weigh %s kg. %s", three(most), c.Text)
	}
	p, ok := m.out["press_pressure_kpa"]
	switch {
	case !ok:
		m.say("no press", "Without a press sheets come much wetter, bulkier and weaker: allow several times the drying, and weigh a board on them overnight.")
	case !m.pressFits:
		m.say("platen small", "The sheet is larger than the platen: its edges would not be pressed. Lay a stiff board over the whole sheet, or form it smaller.")
	case p.Value < softPress:
		m.say("soft press", "This press gives only %.0f kPa on sheets of this size; they come wetter and dry longer.", p.Value)
	}
}

func (m *maker) warnDrying() {
	held := m.drying == "stack" || m.drying == "board"
	for _, p := range m.parts {
		if !held && m.use != "sculpture" && fibre.Cockles(p.Fibre, p.hours) {
			m.say("hold flat", "%s beaten so long cockles unless it is held while drying: use the stack or a board for flat sheets.", capital(p.Name))
		}
	}
	if err := drying.CheckStack(m.pressed.Centre()); err != nil && m.drying == drying.Stack {
		m.say("too wet for a stack", "%s", sentence(err))
	}
	if m.drying == "board" && m.sized() {
		m.say("size on glass", "Internally sized sheets stick to glass and are spoiled: dry them in the stack.")
	}
	if b := m.by["shrink_long_pct"]; b.Count() == 0 && b.Pin == nil && !held {
		if _, fixed := m.Known["shrink_long_pct"]; !fixed {
			m.say("shrinkage unknown", "The shrinkage of this stock dried so rests on the handbook only, give or take two fifths: dry one sheet before the run.")
		}
	}
}

func (m *maker) sized() bool {
	return slices.ContainsFunc(m.additives, func(a additive) bool { return a.row.Group == furnish.InternalSize })
}

func (m *maker) warnStore() {
	store, need := m.Studio.FibreStock, m.out["fibre_air_dry_g"].Value
	if store == nil || need <= *store {
		return
	}
	m.say("store short", "The store holds %.0f g of fibre and this making wants %.0f g: %.0f g are short.", *store, need, need-*store)
}

// priorOnly names the coefficients that matter most and rest on the handbook.
func (m *maker) priorOnly() []string {
	var out []string
	for _, k := range []string{"effective_depth_mm", "shrink_long_pct"} {
		b := m.by[k]
		if _, fixed := m.Known[k]; b.Count() == 0 && b.Pin == nil && !fixed {
			out = append(out, b.Name)
		}
	}
	return out
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

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

// narrowed is a figure that a test may narrow: its column, its half band in
// per cent, and the share of its variance that the test sheets' errors make.
type narrowed struct {
	key        string
	col        figure.Column
	now, wrong float64
}

func (m *maker) helped() []narrowed {
	list := []narrowed{{key: "fibre_air_dry_g", col: m.need}, {key: "dry_long_mm", col: m.dryLong}, {key: "grammage_g_m2", col: m.grammage}, {key: "drying_hours", col: m.dryHours}}
	var errs figure.Scores
	if m.tested.trust > 0 {
		errs = m.bk.Scores(m.tested.wrong, func(v float64) float64 { return v })
	}
	for i := range list {
		w := &list[i]
		lo, hi := m.bk.Band(w.col)
		w.now = (hi - lo) / 2 / m.out[w.key].Value * 100
		if m.out[w.key].Kind == figure.Decision {
			w.now = (hi - lo) / (hi + lo) * 100
		}
		w.wrong, _ = m.bk.Share(errs, w.col)
	}
	return list
}

// help says which one cheap test would narrow the plan most: each figure is
// regressed on each coefficient over the draws, along a line and its bend, on
// the coefficient's own scale. Of what goes along the line the test leaves what
// it leaves of the coefficient's variance, of the bend that squared. What is
// known beforehand is not asked of the test sheets either, so their error
// counts for less.
func (m *maker) help() {
	if m.bk.Err() != nil {
		return
	}
	bands := m.helped()
	for _, t := range tests {
		leaf, b := m.leaf[t.known], m.by[t.known]
		if leaf == nil || b.Pin != nil {
			continue
		}
		_, sd := b.Next()
		left := t.sd * t.sd / (sd*sd + t.sd*t.sd) // of the variance, after the test
		scores := m.bk.Scores(leaf, b.Link.To)
		less := m.trustedLess(scores, left)
		best := Help{}
		for _, w := range bands {
			line, bend := m.bk.Share(scores, w.col)
			gone := line*(1-left) + bend*(1-left*left) + w.wrong*less
			then := w.now * math.Sqrt(max(0, 1-gone))
			if h := (Help{Measure: t.words, Belief: t.known, Minutes: t.minutes, Narrows: w.key, BandNow: w.now, BandNew: then}); better(h, best) {
				best = h
			}
		}
		if best.BandNow-best.BandNew > 0.05*best.BandNow {
			m.plan.HelpMost = append(m.plan.HelpMost, best)
		}
	}
	slices.SortStableFunc(m.plan.HelpMost, func(a, b Help) int { return cmp.Compare(b.gain(), a.gain()) })
}

// trustedLess is the share by which the variance that the test sheets bring in
// falls, because, with less left to tell, they are trusted with less.
func (m *maker) trustedLess(s figure.Scores, left float64) float64 {
	t := m.tested.trust
	if t == 0 {
		return 0
	}
	line, bend := m.bk.Share(s, m.tested.off)
	known := min(1, line*(1-left)+bend*(1-left*left))
	then := (1 - known) / (1 - t*known) // of the trust v/(v + e), with v·(1 − known)
	return 1 - then*then
}

// gain is how many points of band a test takes off.
func (h Help) gain() float64 { return h.BandNow - h.BandNew }

func better(a, b Help) bool {
	if a.gain() != b.gain() {
		return a.gain() > b.gain()
	}
	return a.Narrows < b.Narrows
}
