// Package plan turns a brief and what the studio knows into a plan: a pure
// function over some thousands of seeded draws. Decisions are made once from
// all draws, outcomes are then drawn given the decisions.
//
// Standing assumptions: the vat is well stirred, drained water returns to it,
// kissed-off sheets go back into the vat and cost no fibre, unretained
// additive is not in the sheet-forming solids. Sources: docs/models/plan.md.
// Missing: several studios at once, calendars, half-made lots.
package plan

import (
	"hash/fnv"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/sizing"
)

// Draws is how many draws a plan is made from unless Options say otherwise.
const Draws = 2000

// Options are for tests and benchmarks; the zero value is what users get.
type Options struct {
	Draws int                            // 0: Draws
	Amend func(map[string]belief.Belief) // changes what is known, by known key, before drawing
}

// Make returns the plan for a request, given what the studio knows. It is a
// pure function: the same request and the same knowledge give the same plan.
//
// Errors: a fault.List of Invalid and OutOfRange faults, each with the path of
// its key, when the request is wrong; Infeasible when it cannot be done at
// all, such as a sheet that takes more than the vat holds.
func Make(r Request, known belief.Known) (Plan, error) { return MakeWith(r, known, Options{}) }

// MakeWith is Make with options.
func MakeWith(r Request, known belief.Known, o Options) (Plan, error) {
	if err := Check(r); err != nil {
		return Plan{}, err
	}
	s, err := settle(r)
	if err != nil {
		return Plan{}, err
	}
	known = known.Joined()
	by := s.beliefs(known)
	if o.Amend != nil {
		o.Amend(by)
	}
	seed := s.seed()
	draws := o.Draws
	if draws == 0 {
		draws = Draws
	}
	m := &maker{settled: s, known: known, bk: figure.NewBook(draws, seed), by: by, atAPull: 1, ready: map[string]float64{}, leaf: map[string]figure.Column{}, out: map[string]figure.Figure{}}
	defer m.bk.Release()
	m.plan.Seed = seed
	m.size()
	m.onMould(o.Amend)
	m.weight()
	if s.Have != nil {
		m.reverse()
	} else {
		m.lots()
		m.count()
		m.vatRun()
		m.amounts()
		m.press()
		m.dry()
		m.bathe()
		m.qualities()
		m.crowd()
		m.steps()
		m.money()
		m.promise()
		m.help()
	}
	if err := m.bk.Err(); err != nil {
		return Plan{}, placed(err)
	}
	m.finish()
	return m.plan, nil
}

// maker is one plan in the making: the book and the columns that later parts
// build on.
type maker struct {
	settled
	bk     *figure.Book
	by     map[string]belief.Belief
	known  belief.Known
	leaf   map[string]figure.Column // the drawn coefficients, by known key
	others []belief.Belief          // drawn besides them: times of steps and of drying
	out    map[string]figure.Figure
	plan   Plan

	one                     figure.Col[measure.Number]
	shrinkLong, shrinkShort figure.Col[measure.Shrinkage]
	formedLong, formedShort figure.Col[measure.Length]
	dryLong, dryShort       figure.Col[measure.Length]
	formedArea, aimArea     figure.Col[measure.Area]
	mass                    figure.Col[measure.Mass] // conditioned, aimed at
	waterleaf               figure.Col[measure.Mass] // the same before it is sized
	uptake                  figure.Col[sizing.Uptake]
	sizeOn                  figure.Col[measure.Dose] // size on the dry sheet
	solids, fibre           figure.Col[measure.Mass] // of a sheet, bone-dry
	moisture                figure.Col[measure.MoistureDry]
	retained                figure.Col[measure.Share]
	doseCol                 figure.Col[measure.Dose]
	depth                   figure.Col[measure.Length]
	hand                    figure.Col[measure.Share]
	couched, pressed        figure.Col[measure.Solids]
	lot                     figure.Col[measure.MoistureWet]
	loss                    figure.Col[measure.Share]
	carried                 figure.Col[measure.Volume]
	consistency             figure.Col[measure.Consistency]
	perRecharge             figure.Col[measure.Sheets]
	grammage                figure.Col[measure.GrammageConditioned]
	tested                  testing
	noMould                 bool      // none gives the size in any draw
	atAPull                 int       // sheets that come at one pull
	round                   int       // pulls between two recharges
	bias                    []float64 // conditioned weight of a sheet over the aim, by draw; nil: 1
	couchedSheets           figure.Col[measure.Sheets]
	need                    figure.Col[measure.Mass] // air-dry fibre needed, by draw
	weigh, boneDry          figure.Col[measure.Mass] // decided
	loads                   figure.Col[measure.Loads]
	beaten, busy            float64            // g of beaten fibre; h until all is beaten
	ready                   map[string]float64 // dry g of each fibre that the shelf holds beaten
	posts                   figure.Col[measure.Posts]
	post, water             figure.Col[measure.Kilograms]
	dryerLoads              figure.Col[measure.Loads]
	dryHours                figure.Col[measure.Hours]
	handsOn                 figure.Col[measure.Hours]
	cost                    figure.Col[measure.Cost]
	fill                    float64 // solids of the first fill
	testWeight              float64
}

// draw enters the belief of a known key.
func draw[T measure.Quantity](m *maker, key string) figure.Col[T] {
	c := belief.Draw[T](m.bk, m.by[key])
	m.leaf[key] = c
	return c
}

// given enters a number of the brief or of the studio's equipment.
func given[T measure.Quantity](m *maker, what string, v T, from string) figure.Col[T] {
	return figure.Given(m.bk, what, v, from, 0)
}

// set keeps a figure under its key.
func (m *maker) set(key string, f figure.Figure) { m.out[key] = f }

// seed follows from the stock and how it is formed and dried, not from how many
// sheets are asked for nor from what is known: asking for more, or knowing
// more, never reshuffles the draws, so plans can be compared.
func (s *settled) seed() uint64 {
	h := fnv.New64a()
	h.Write([]byte(s.signature + "|" + s.forming + "|" + s.drying))
	return h.Sum64() >> 11 // whole in a JSON number
}

// finish hands the figures over, with what they rest on and what is wrong.
func (m *maker) finish() {
	m.plan.Figures = m.out
	m.plan.RestsOn = m.restsOn()
	m.warn()
	if m.plan.Warnings == nil {
		m.plan.Warnings = []Warning{}
	}
	if m.plan.Steps == nil {
		m.plan.Steps = []Step{}
	}
	if m.plan.HelpMost == nil {
		m.plan.HelpMost = []Help{}
	}
	if m.plan.Weigh == nil {
		m.plan.Weigh = []Weigh{}
	}
	if m.plan.Loads == nil {
		m.plan.Loads = []Load{}
	}
	m.plan.Uses = m.usedNames()
	if m.plan.Vat.Tests == nil {
		m.plan.Vat.Tests = []TestRow{}
	}
	if m.plan.Vat.Recharges == nil {
		m.plan.Vat.Recharges = []Recharge{}
	}
}

// restsOn names every coefficient with its value, band, source and grade.
func (m *maker) restsOn() []Prior {
	out := m.fixedShrinkages()
	for _, c := range coefficients {
		b, used := m.by[c.known], m.leaf[c.known]
		if used == nil {
			continue
		}
		key, grade := b.Grounds()
		lo, hi := b.Band()
		unit := c.within.unit
		p := Prior{Key: c.known, Name: b.Name, Value: b.Centre() / c.scale, Low: lo / c.scale, High: hi / c.scale, Unit: unit, Source: key, Grade: grade, Seen: b.Count(), State: "handbook", Belief: b.Key}
		if c.known == "shrink_short_pct" { // drawn as a ratio
			p.Key, p.Value, p.Low, p.High, p.Unit = "shrink_ratio", b.Centre(), lo, hi, ""
		}
		p.State = state(b)
		out = append(out, p)
	}
	for _, b := range m.others {
		key, grade := b.Grounds()
		lo, hi := b.Band()
		out = append(out, Prior{Key: b.Key, Name: b.Name, Value: b.Centre(), Low: lo, High: hi, Unit: b.Unit, Source: key, Grade: grade, Seen: b.Count(), State: state(b), Belief: b.Key})
	}
	return out
}

// fixedShrinkages are the shrinkages the request fixes, way by way.
func (m *maker) fixedShrinkages() []Prior {
	out := []Prior{}
	for _, way := range []struct{ key, name string }{{"shrink_long_pct", "drying shrinkage along"}, {"shrink_short_pct", "drying shrinkage across"}} {
		if p, ok := m.Known[way.key]; ok {
			out = append(out, Prior{Key: way.key, Name: way.name, Value: p.Value, Low: p.Value, High: p.Value, Unit: "%", Source: "maker", Grade: p.Grade, State: "fixed"})
		}
	}
	return out
}

// state says in a word what a belief rests on.
func state(b belief.Belief) string {
	switch {
	case b.Pin != nil:
		return "fixed"
	case b.Count() > 0:
		return "measured"
	default:
		return "handbook"
	}
}
