package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"vatside/internal/beating"
	"vatside/internal/belief"
	"vatside/internal/drying"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/pressing"
	"vatside/internal/source"
)

// stepRow is one step of the trade: its key and name, the minutes of hands it
// takes, how long it must and may wait, what it occupies besides hands, and by
// when the next must begin. Minutes and waits are common practice or from
// memory.
type stepRow struct {
	key, name   string
	minutes     float64
	least, most float64 // waiting, h
	occupies    []string
	keepBy      float64 // h
	note        string
	cautions    []string
}

// stepFactor is what the studio's own minutes make of a step.
func stepFactor(key string) belief.Belief {
	return prior(StepTimeKey(key), "minutes of "+key+" over the usual", belief.FromBand(belief.Log, 1, 0.62, 1.62, 0.35), "memory",
		shares("timing of other steps", stepByPace))
}

// StepKeys are the steps of a making in order, as they are recorded.
var StepKeys = []string{"weigh", "soak", "cook", "beat", "drain stock", "fill vat", "test sheets", "pull and couch", "press", "part", "pack press", "dry", "size", "re-dry", "cure", "flatten", "sort", "pack", "clean-down"}

// stepBeliefs are the times of the steps with what the studio knows.
func (s *settled) stepBeliefs(known belief.Known) []belief.Belief {
	out := make([]belief.Belief, len(StepKeys))
	for i, k := range StepKeys {
		out[i] = stepFactor(k).With(known)
	}
	return out
}

// deferring is said with every machine.
const deferring = "The maker's instructions and local rules go first; electrical and pressure work is for licensed people."

// atTheBeater are the cautions of the machines that beat, the gravest first.
func (m *maker) atTheBeater() []string {
	list := beating.Cautions()
	if m.blends() {
		list = beating.BlenderCautions()
	}
	var out []string
	for _, c := range list {
		out = append(out, c.Text)
	}
	return append(out, deferring)
}

// atThePress are the cautions of the press, the gravest first, where there is
// one, and of lifting.
func (m *maker) atThePress() []string {
	lift := "A wet post is heavy: lift with a second person, or take it apart."
	if m.force() == 0 {
		return []string{lift}
	}
	list := pressing.CautionsOf(m.presser.Kind)
	out := []string{list[0].Text, lift}
	for _, c := range list[1:] {
		out = append(out, c.Text)
	}
	return append(out, deferring)
}

// stepRows writes the making out. Sheets, posts and loads are the plan's.
func (m *maker) stepRows() []stepRow {
	n, posts, loads := float64(m.couchedSheets.Centre()), float64(m.posts.Centre()), float64(m.loads.Centre())
	pull := m.minutesASheet()
	rows := []stepRow{
		{key: "weigh", name: "Weigh out", minutes: 10, occupies: []string{"scales"}},
		{key: "soak", name: "Soak", minutes: 5, least: 8, most: 72, keepBy: 72, note: "overnight, in clean water"},
		{key: "beat", name: "Beat", minutes: m.beatMinutes(loads), least: m.busy, most: m.busy, occupies: []string{"beater"},
			note: m.beatNote(), cautions: m.atTheBeater()},
		{key: "drain stock", name: "Drain the stock", minutes: 15, least: 0.5, most: 24, keepBy: 120, note: fmt.Sprintf("make it up to %s g/L; wet stock keeps about five days cool", three(m.stock))},
	}
	if m.cooks() {
		rows = slices.Insert(rows, 2, m.cookRow())
	}
	if m.forming != "poured" {
		rows = append(rows, stepRow{key: "fill vat", name: "Fill the vat", minutes: 20, occupies: []string{"vat"}})
	}
	if m.tests > 0 {
		rows = append(rows, stepRow{key: "test sheets", name: "Test sheets", minutes: 10 + 3*float64(m.tests), occupies: []string{"vat"}, note: "pull, press lightly, iron dry and weigh together"})
	}
	rows = append(rows,
		stepRow{key: "pull and couch", name: "Pull and couch", minutes: 10 + n*pull, occupies: []string{"vat"}, keepBy: 24, note: fmt.Sprintf("about %.2g minutes a sheet", pull)},
		stepRow{key: "press", name: "Press", minutes: posts * 8, least: posts * 0.3, most: posts * 12, occupies: []string{"press"}, keepBy: 24, cautions: m.atThePress()},
		stepRow{key: "part", name: "Part", minutes: 5 + n*0.3, note: "weigh ten together here"})
	if m.packed() {
		rows = append(rows, stepRow{key: "pack press", name: "Press in a pack", minutes: 8, least: 1, most: 12, occupies: []string{"press"}})
	}
	rows = append(rows, m.dryRow(n))
	if m.Paper.SurfaceSize != "" {
		rows = append(rows,
			stepRow{key: "size", name: "Size", minutes: 15 + n*1.5, note: m.sizeNote(), cautions: m.sizeCautions()},
			stepRow{key: "re-dry", name: "Dry again", minutes: 5 + n*0.5, least: 12, most: 72, occupies: []string{"dryer"}, note: "never on glass"},
			stepRow{key: "cure", name: "Let the size harden", minutes: 2, least: 72, most: 336})
	}
	return append(rows,
		stepRow{key: "flatten", name: "Flatten", minutes: 12, least: 12, most: 72, occupies: []string{"press"}, note: "in a stack under weight"},
		stepRow{key: "sort", name: "Sort", minutes: 5 + n*0.6, note: "against the light: good, retree, broken"},
		stepRow{key: "pack", name: "Pack", minutes: 8 + n*0.1},
		stepRow{key: "clean-down", name: "Clean down", minutes: 35, note: "felts rinsed, vat emptied through a strainer, no fibre down the drain", cautions: []string{"Wet floors are slippery: mop before you carry."}})
}

// shouldItLabour says what to do when a machine labours under rag; "" of other
// fibre, and of blenders.
func (m *maker) shouldItLabour() string {
	for _, p := range m.parts {
		if p.Kind != "rag" || m.blends() {
			continue
		}
		r, err := beating.WhenItLabours(p.Fibre, measure.Mass(m.out["beater_load_g"].Value), m.machines()[0].Rated)
		if err != nil {
			continue
		}
		return fmt.Sprintf("Should the machine labour or heat, stop it and let it cool; cut and cook the %s, and make %.0f loads of %s g of this one, the roll lower.", p.Name, float64(r.Loads), three(r.Each))
	}
	return ""
}

// cookRow is the cook of the fibres that come raw: the longest sets the hours.
func (m *maker) cookRow() stepRow {
	r := stepRow{key: "cook", name: "Cook and rinse", minutes: 60, keepBy: 120, occupies: []string{"pot"}}
	lye := false
	for _, p := range m.parts {
		if !p.raw {
			continue
		}
		r.least, r.most = max(r.least, p.Cook.Hours.Mid), max(r.most, p.Cook.Hours.High)
		lye = lye || p.Cook.With != "soda ash"
		dry := float64(m.boneDry.Centre()) * m.ofWeighed(p)
		r.note += fmt.Sprintf("%s with %.3g %% %s on dry fibre, %s g for %s g, about %s; ", p.Name, p.Cook.Alkali.Mid*100, p.Cook.With, three(dry*p.Cook.Alkali.Mid), three(dry), hoursWord(p.Cook.Hours.Mid))
	}
	r.note = strings.TrimSpace(r.note) + " rinse until the water runs clear and is neutral"
	r.cautions = atTheCook(lye)
	return r
}

// atTheCook are the usual cautions of cooking with alkali, the gravest first:
// what soda ash wants, and what anything stronger wants besides.
func atTheCook(lye bool) []string {
	out := []string{
		"Alkali injures eyes: goggles for weighing, pouring and ladling, gloves for liquor. In the eye: rinse at once with the lids held open, 15 minutes for soda ash, and see a doctor; never neutralise on the body.",
		"Stainless steel, sound enamel or glass; never aluminium, zinc, tin or brass, which it dissolves with gas that burns. Soda ash is dissolved in warm water and added in portions: into near-boiling water it spits.",
	}
	if lye {
		out = append([]string{"Lye burns to blindness. Sealed goggles and face shield, long gloves, apron over boots, a second adult, water running. Beads slowly into the full cool pot while stirring; never water on to lye, never hot water. In the eye or on the skin: rinse for 60 minutes and call for help."}, out...)
	}
	return append(out, "The maker's data sheet, local rules and licensed practice go first; liquor does not go down a drain before you have asked.")
}

// sizeNote says how the bath is made up, as far as the handbook knows the size.
func (m *maker) sizeNote() string {
	if m.surface == nil {
		return m.Paper.SurfaceSize
	}
	return fmt.Sprintf("%s, %.3g %% bath, %s. %s The bath keeps %s. Cure %.3g to %.3g days.", m.surface.Name, float64(m.bath)*100, m.way, m.surface.MakeUp, keepWord(m.surface.Keeps), m.surface.Cure.Low, m.surface.Cure.High)
}

// keepWord says how long a thing that is made up keeps, given in hours.
func keepWord(hours source.Value) string {
	low, high, unit := hours.Low, hours.High, "hours"
	if low >= 48 {
		low, high, unit = math.Floor(low/24), math.Floor(high/24), "days"
	}
	if low < 1 {
		return fmt.Sprintf("%.3g %s at most", high, unit)
	}
	return fmt.Sprintf("%.3g to %.3g %s", low, high, unit)
}

func (m *maker) sizeCautions() []string {
	if m.surface == nil {
		return []string{"Hot size scalds: carry it covered, gloves on."}
	}
	return m.surface.Cautions
}

func (m *maker) dryRow(n float64) stepRow {
	loads := float64(m.dryerLoads.Centre())
	hours := float64(m.dryHours.Centre())
	r := stepRow{key: "dry", name: "Dry", minutes: 5*loads + n*1.25, least: hours, most: hours * 2, occupies: []string{"dryer"}}
	switch m.drying {
	case drying.Stack:
		r.note = "stack of blotters and boards, tightened again after about five hours; never load dripping sheets"
	case drying.Exchange:
		changes := math.Ceil(hours / loads / float64(drying.ChangeEvery))
		r.minutes += changes * loads * 10
		r.note = fmt.Sprintf("change the blotters about every 8 hours: %.0f times a load", changes)
	case drying.Board:
		r.note = "brushed on boards or glass; internally sized sheets never on glass"
	case drying.Loft:
		r.note, r.minutes = "hung", 5*loads+n*0.7
	default:
		r.note, r.minutes = "laid loose", 5*loads+n*0.5
	}
	r.note = fmt.Sprintf("%d places; %s", m.places, r.note)
	return r
}

// minutesASheet is how long one sheet takes to pull and couch alone: 1.25 min
// for 279 × 432 mm, longer for larger ones and for slow stock (from memory).
func (m *maker) minutesASheet() float64 {
	pulled := float64(m.formedArea.Centre()) * float64(m.atAPull)
	t := math.Max(0.5, 1.25*math.Pow(pulled/0.1206, 0.9)) / float64(m.atAPull)
	slow := m.mix(func(p part) float64 {
		switch p.Drainage {
		case "slow":
			return 1.5
		case "very slow":
			return 2.5
		default:
			return 1
		}
	})
	if m.forming == "several dips" {
		slow *= 2
	}
	if m.forming == "poured" {
		slow *= 3
	}
	return t * slow
}

func (m *maker) packed() bool {
	return slices.Contains([]string{"book text", "calligraphy", "print"}, m.use)
}

// hoursWord says a time of beating or cooking; one of minutes in minutes.
func hoursWord(h float64) string {
	if h < 0.5 {
		return fmt.Sprintf("%.2g min", h*60)
	}
	return fmt.Sprintf("%.3g h", h)
}

// steps lists the steps with their times and sums them.
func (m *maker) steps() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	var hands []figure.Col[measure.Minutes]
	wait := 0.0
	for _, r := range m.stepRows() {
		times := stepFactor(r.key).With(m.known)
		usual := figure.Given(bk, "usual minutes of "+r.key, measure.Minutes(r.minutes), "memory", times.Grade)
		factor := drawBelief[measure.Number](m, times)
		took := figure.Map2(bk, "hands-on minutes of "+r.key, "{0} × {1}", func(t measure.Minutes, f measure.Number) (measure.Minutes, error) {
			return t * measure.Minutes(f), nil
		}, usual, factor)
		hands = append(hands, took)
		if r.key != "dry" {
			wait += r.least
		}
		low, high := times.Band()
		m.plan.Steps = append(m.plan.Steps, Step{Key: r.key, Name: r.name, Note: r.note,
			HandsOn:   Span{Value: float64(took.Centre()), Low: r.minutes * low, High: r.minutes * high},
			WaitLeast: r.least, WaitMost: r.most, Occupies: append([]string{"hands"}, r.occupies...), KeepByH: r.keepBy, Cautions: r.cautions, UsualMin: r.minutes})
	}
	all := figure.Sum(bk, "hands-on minutes", hands...)
	m.handsOn = figure.Map1(bk, "hands-on hours", "{0} / 60", func(t measure.Minutes) (measure.Hours, error) { return measure.Hours(t / 60), nil }, all)
	m.set("hands_on_hours", m.handsOn.Figure())
	waits := given(m, "hours waited besides drying", measure.Hours(wait), "practice")
	day := given(m, "hands-on hours a day", measure.Hours(m.day), "studio")
	days := figure.Map4(bk, "days from weighing to packed", "({0} + {1}) / 24 + {2} / {3}", elapsed, waits, m.dryHours, m.handsOn, day).
		Note("waits run day and night, hands only in the hours of a day; closed days come on top")
	m.set("elapsed_days", days.Figure())
}

func elapsed(wait, dry, hands, day measure.Hours) (measure.Days, error) {
	return measure.Days(float64(wait+dry)/24 + float64(hands/day)), nil
}

// StepTimeKey is the key of the belief about a step's minutes over the usual.
func StepTimeKey(step string) string { return "step time/" + step }

// bandBelief is a positive number known by its band.
func bandBelief(low, mid, high float64) belief.Belief {
	return belief.FromBand(belief.Log, mid, low, high, 0.3)
}

// drawBelief enters a belief that is not among the known coefficients.
func drawBelief[T measure.Quantity](m *maker, b belief.Belief) figure.Col[T] {
	m.others = append(m.others, b)
	return belief.Draw[T](m.bk, b)
}
