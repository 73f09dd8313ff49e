package studio

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"vatside/internal/beating"
	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// Beating is how far one load of a making is beaten.
type Beating struct {
	Load     int
	Loads    int
	Machine  string
	Fibre    string // by whose rate is reckoned: the largest share of the load
	Scale    beating.Scale
	Readings []Slowness    // of this load on this scale, the earliest first
	Hours    float64       // that the card has for a load; 0: none
	Target   float64       // to beat to, on the scale; 0: not known
	Asked    bool          // the target was asked for, not taken from the hours
	Earlier  bool          // the expected rate rests on an earlier run here
	Left     *beating.Left // nil: there is no reading, no target or no curve
	Expect   *beating.Band // at the end of the card's hours
	Why      string        // why there is no curve
}

// Slowness is one reading as the curve takes it.
type Slowness struct {
	BeatSeen
	Value float64 // corrected
	Apart string  // it differs from another of the same hour by more than two runs may
}

// Beating returns how far a load is beaten: the last one where load is 0, and
// to the slowness that the card's hours usually give where target is 0.
// Faults: NotFound.
func (s *Service) Beating(ctx context.Context, makingID string, load int, target float64) (Beating, error) {
	m, events, err := s.making(ctx, makingID)
	if err != nil {
		return Beating{}, err
	}
	b := newBeating(m, Replay(m, events), load)
	own, _ := loadOf(m, b.Load)
	f, ok := loadFibre(m, own)
	if !ok {
		b.Why = "the handbook does not know the fibre"
		return b, nil
	}
	b.Fibre = f.Name
	run, err := s.earlierRun(ctx, m, b)
	if err != nil {
		return Beating{}, err
	}
	known, err := s.Known(ctx)
	if err != nil {
		return Beating{}, err
	}
	b.reckon(f, run, beside(known, m.ID), target)
	return b, nil
}

// beside is what is known of the pace without what one making taught: its own
// readings lie on its curve already.
func beside(k belief.Known, makingID string) belief.Known {
	var rest []belief.Observation
	for key, list := range k.Seen {
		for _, o := range list {
			if strings.HasPrefix(key, plan.PaceKind) && o.Making != makingID {
				rest = append(rest, o)
			}
		}
	}
	return belief.NewKnown(rest, k.Pins)
}

func newBeating(m Making, st State, load int) Beating {
	b := Beating{Load: max(load, 1)}
	for _, r := range st.Beats {
		if load == 0 {
			b.Load = max(b.Load, r.Load)
		}
	}
	for _, r := range st.Beats {
		if r.Load == b.Load && r.Value != nil {
			b.Scale = r.Scale // the last one read on
		}
	}
	b.Readings = slownesses(st.Beats, b.Load, b.Scale)
	own, loads := loadOf(m, b.Load)
	b.Machine, b.Hours, b.Loads = own.Machine, own.Hours, loads
	if b.Hours == 0 && m.Request.Paper.BeatingHours != nil {
		b.Hours = *m.Request.Paper.BeatingHours
	}
	return b
}

// slownesses are the readings of one load on one scale, by hours, with those
// that lie too far apart marked.
func slownesses(list []BeatSeen, load int, scale beating.Scale) []Slowness {
	var out []Slowness
	for _, r := range list {
		if r.Load != load || r.Value == nil || r.Scale != scale {
			continue
		}
		v, err := r.Reading()
		if err != nil {
			continue
		}
		z := Slowness{BeatSeen: r, Value: v.Value}
		for _, o := range out {
			if math.Abs(o.Hours-r.Hours) < sameHour {
				if w, apart := beating.Repeat(o.Value, z.Value); apart {
					z.Apart = w.Text
				}
			}
		}
		out = append(out, z)
	}
	slices.SortStableFunc(out, func(a, b Slowness) int { return cmp.Compare(a.Hours, b.Hours) })
	return out
}

// sameHour is how near two readings lie that are two runs of one test, h: a
// minute.
const sameHour = 1.0 / 60

// loadOf is the plan's row of a load, empty where it has none, and how many
// loads there are.
func loadOf(m Making, load int) (row plan.Load, loads int) {
	for _, l := range m.Plan.Loads {
		if load > loads && load <= loads+l.Loads {
			row = l
		}
		loads += l.Loads
	}
	return row, loads
}

// loadFibre is the fibre of the largest share of what is beaten in a load, by
// whose pace a blend beats much as it does. A load that is no fibre's alone is
// of those beaten together, one that the plan does not know of the whole
// furnish.
func loadFibre(m Making, l plan.Load) (fibre.Fibre, bool) {
	if f, alone := loneFibre(m, l); alone {
		return f, true
	}
	best := plan.Part{SharePct: -1}
	for _, p := range m.Request.Paper.Furnish {
		if (l.Batch == "" || p.BeatingHours == nil) && p.SharePct > best.SharePct {
			best = p
		}
	}
	return shelfOf(m.Request.Studio).Get(best.Fibre)
}

// loneFibre is the fibre that a load is beaten of by itself, for hours of its own.
func loneFibre(m Making, l plan.Load) (fibre.Fibre, bool) {
	shelf := shelfOf(m.Request.Studio)
	for _, p := range m.Request.Paper.Furnish {
		if f, ok := shelf.Get(p.Fibre); ok && p.BeatingHours != nil && f.Name == l.Batch {
			return f, true
		}
	}
	return fibre.Fibre{}, false
}

// BeatenAlone reports whether a load, counted from one, is of a fibre that is
// beaten by itself for hours of its own.
func BeatenAlone(m Making, load int) bool {
	row, _ := loadOf(m, load)
	_, alone := loneFibre(m, row)
	return alone
}

// reckon draws the curve and reads from it.
func (b *Beating) reckon(f fibre.Fibre, run []beating.Reading, known belief.Known, target float64) {
	c, err := expected(b.Scale, f, b.Machine, run, known)
	if err != nil {
		b.Why = err.Error()
		return
	}
	b.Earlier = len(run) > 0
	b.Target, b.Asked = target, target > 0
	if usual, err := beating.HoursForUse(f, ""); err == nil && b.Hours == 0 {
		b.Hours = usual.Mid
	}
	if !b.Asked {
		if at, err := c.At(measure.Hours(b.Hours)); err == nil {
			b.Target = at.Mid
		}
	}
	for _, r := range b.Readings {
		if c, err = c.With(beating.Reading{At: measure.Hours(r.Hours), Value: r.Value}); err != nil {
			b.Why = err.Error()
			return
		}
	}
	if at, err := c.At(measure.Hours(b.Hours)); err == nil {
		b.Expect = &at
	}
	left, err := c.TimeTo(b.Target)
	switch {
	case err != nil:
		b.Why = err.Error()
	case len(b.Readings) > 0:
		b.Left = &left
	}
}

// expected is the curve before any reading: it rises as the handbook has it,
// sharpened by an earlier run here. Of that run only the first and the last
// reading count: with more the rate would seem better known than it is from one
// run to the next, which differ by load, roll and lot. Without such a run the
// pace of other fibres in the machine, and of this one in others, says more than
// the handbook.
func expected(scale beating.Scale, f fibre.Fibre, machine string, run []beating.Reading, known belief.Known) (beating.Curve, error) {
	rate, err := beating.HandbookRate(scale, f)
	if err != nil {
		return beating.Curve{}, err
	}
	if pace, err := plan.BeatingPace(machine, f); err == nil && len(run) == 0 {
		pace = pace.With(known)
		rate.Mid *= pace.Centre()
		_, rate.Spread = pace.Next()
	}
	c, err := beating.NewCurve(scale, rate)
	if err != nil || len(run) == 0 {
		return c, err
	}
	for _, r := range []beating.Reading{run[0], run[len(run)-1]} {
		if c, err = c.With(r); err != nil {
			return c, err
		}
	}
	return beating.NewCurve(scale, c.Rate())
}

// earlierRun is the newest load of another making that tells of this one: the
// same fibre in the same machine, since its bars were last ground, read at two
// different times. None is no fault.
func (s *Service) earlierRun(ctx context.Context, m Making, b Beating) ([]beating.Reading, error) {
	now, run := s.now(), []beating.Reading(nil)
	err := s.store.Read(ctx, func(tx Tx) error {
		profile, err := tx.Profile(ctx)
		if err != nil {
			return err
		}
		ground := groundDays(profile.Kit, b.Machine)
		makings, err := tx.Makings(ctx, MakingFilter{With: KindBeat}) // newest first
		if err != nil {
			return err
		}
		for _, o := range makings {
			if o.ID == m.ID {
				continue
			}
			events, err := tx.Events(ctx, o.ID)
			if err != nil {
				return err
			}
			if run = runOf(o, Replay(o, events), b, now, ground); run != nil {
				return nil
			}
		}
		return nil
	})
	return run, err
}

// runOf is the last load of a making of the same fibre in the same machine that
// still speaks, its readings by hours; nil where none shows a rise.
func runOf(m Making, st State, b Beating, now time.Time, ground []time.Time) []beating.Reading {
	byLoad, loads := map[int][]beating.Reading{}, 0
	for _, r := range st.Beats {
		l, _ := loadOf(m, r.Load)
		if f, ok := loadFibre(m, l); !ok || f.Name != b.Fibre || l.Machine != b.Machine {
			continue
		}
		if r.Value == nil || r.Scale != b.Scale || !beating.StillSpeaks(r.At, now, ground) {
			continue
		}
		if v, err := r.Reading(); err == nil {
			byLoad[r.Load], loads = append(byLoad[r.Load], v), max(loads, r.Load)
		}
	}
	for load := loads; load > 0; load-- {
		run := byLoad[load]
		slices.SortStableFunc(run, func(a, b beating.Reading) int { return cmp.Compare(a.At, b.At) })
		if _, err := beating.RunRate(b.Scale, run); len(run) > 1 && err == nil {
			return run
		}
	}
	return nil
}

// groundDays are the days on which the bars of a machine were ground, by the
// studio's present list.
func groundDays(kit plan.Studio, machine string) []time.Time {
	list := kit.Beaters
	if kit.Beater != nil {
		list = append([]plan.Beater{*kit.Beater}, list...)
	}
	var days []time.Time
	for _, one := range list {
		if day, err := time.Parse(time.DateOnly, one.Ground); err == nil && one.Name == machine {
			days = append(days, day)
		}
	}
	return days
}

// beatingPace is how fast the making's loads beat over the handbook's rate: all
// of one fibre that show a rise in one machine together, on whatever scale they
// were read.
func (l *lesson) beatingPace() {
	type pace struct{ sum, n, spread float64 }
	var order []belief.Belief
	seen := map[string]pace{}
	for _, load := range loadsRead(l.s.Beats) {
		row, _ := loadOf(l.m, load)
		f, ok := loadFibre(l.m, row)
		b, err := plan.BeatingPace(row.Machine, f)
		if !ok || err != nil {
			continue
		}
		for _, scale := range []beating.Scale{beating.ByDrainTime, beating.BySchopperRiegler, beating.ByFreeness} {
			over, spread, ok := overHandbook(scale, f, slownesses(l.s.Beats, load, scale))
			if !ok {
				continue
			}
			p, there := seen[b.Key]
			if !there {
				order = append(order, b)
			}
			seen[b.Key] = pace{p.sum + over, p.n + 1, max(p.spread, spread)}
		}
	}
	for _, b := range order {
		p := seen[b.Key]
		l.belief[b.Key] = b
		l.add(b.Key, belief.Observation{Value: math.Exp(p.sum / p.n), SD: p.spread / math.Sqrt(p.n)})
	}
}

// overHandbook is the logarithm of the rate that readings show over the
// handbook's, and its spread; false where they show no rise.
func overHandbook(scale beating.Scale, f fibre.Fibre, list []Slowness) (over, spread float64, ok bool) {
	if len(list) < 2 {
		return 0, 0, false
	}
	var readings []beating.Reading
	for _, z := range list {
		readings = append(readings, beating.Reading{At: measure.Hours(z.Hours), Value: z.Value})
	}
	usual, err := beating.HandbookRate(scale, f)
	if err != nil {
		return 0, 0, false
	}
	rate, err := beating.RunRate(scale, readings)
	if err != nil {
		return 0, 0, false
	}
	return math.Log(rate.Mid / usual.Mid), rate.Spread, true
}

// loadsRead are the loads that were read, in order.
func loadsRead(list []BeatSeen) []int {
	var out []int
	for _, r := range list {
		if r.Value != nil && !slices.Contains(out, r.Load) {
			out = append(out, r.Load)
		}
	}
	slices.Sort(out)
	return out
}
