package part

import (
	"slices"
	"strconv"
	"strings"

	"vatside/internal/belief"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sizing"
)

// Reckoned is one uncertain number that plans rest on: what it was reckoned as
// and what it is reckoned as now, in the reader's words.
type Reckoned struct {
	Key     string // of what the studio learns
	Known   string // by which a request may fix it; "" where it cannot
	Name    string
	Context string // for which stock, mould or step
	Was     string
	WasSpan string
	Now     string
	NowSpan string
	Unit    string // of a value typed for it; "" where it has none
	From    string // where the number as it was comes from
	Fixed   bool
	Why     string // the maker's words for a fixed one
	Pair    *Pair
	Seen    []belief.Observation
	Lent    string // by what other papers it moved: "3 makings of other papers of abaca"; "" by none
	Step    string // the step whose time by hand it is; "" for others

	was, now Span
	scale    float64
	counts   bool
	speech   Speech
}

// Reckon returns what a request rests on under two states of knowledge.
func Reckon(r plan.Request, was, now belief.Known, s Speech) ([]Reckoned, error) {
	before, err := plan.Beliefs(r, was)
	if err != nil {
		return nil, err
	}
	after, err := plan.Beliefs(r, now)
	if err != nil {
		return nil, err
	}
	known := plan.KnownKeys()
	list := make([]Reckoned, len(after))
	for i := range after {
		key := ""
		if i < len(known) {
			key = known[i]
		}
		list[i] = number(key, before[i], after[i], s)
	}
	return list, nil
}

func number(known string, was, now belief.Belief, s Speech) Reckoned {
	_, context, _ := strings.Cut(now.Key, "/")
	n := Reckoned{
		Key: now.Key, Known: known, Name: Upper(now.Name), Context: strings.ReplaceAll(context, "/", ", "),
		Fixed: now.Pin != nil, Seen: now.Seen, Lent: now.Lent(), From: RestsOn(was.Grade),
		scale: 1, counts: now.Link == belief.Count, speech: s,
	}
	if now.Pin != nil {
		n.Why = now.Pin.Why
	}
	n.Unit, n.scale = spoken(known, now)
	if step, ok := strings.CutPrefix(now.Key, plan.StepTimeKey("")); ok {
		n.Step, n.Name, n.Context = step, Upper(step)+", time by hand over the usual", ""
	}
	low, high := was.Band()
	n.Was, n.WasSpan = n.say(was.Centre()), n.span(low, high)
	nowLow, nowHigh := now.Band()
	n.Now, n.NowSpan = n.say(now.Centre()), n.span(nowLow, nowHigh)
	n.was, n.now = Span{was.Centre(), low, high}, Span{now.Centre(), nowLow, nowHigh}
	n.Pair = NewPair(n.was, n.now,
		"before "+n.WasSpan+", now "+n.NowSpan)
	return n
}

// spoken is the unit a number is said in, and what its value is multiplied by
// for it. Ratios have none.
func spoken(known string, b belief.Belief) (unit string, scale float64) {
	switch {
	case known == "effective_depth_mm" && strings.Contains(b.Name, "depth"):
		return "mm", 1
	case known == "density_g_cm3":
		return measure.Density(0).Unit(), 1
	case known == "size_uptake_g_g":
		return sizing.Uptake(0).Unit(), 1
	case known == "shrink_short_pct" || !strings.Contains(known, "_pct"):
		return b.Unit, 1
	}
	return "%", 100
}

func (n Reckoned) say(v float64) string { return n.speech.One(v*n.scale, n.Unit) }

func (n Reckoned) span(low, high float64) string {
	return n.speech.Span(low*n.scale, high*n.scale, n.Unit)
}

// Here says what one making saw of it.
func (n Reckoned) Here(o belief.Observation) string {
	if n.counts {
		return plain(o.Hits) + " of " + plain(o.Trials)
	}
	return n.say(o.Value)
}

// Times says a step's time by hand, and one that was seen, where the step
// usually takes so many minutes; 0: as multiples of the usual, whatever it is.
func (n Reckoned) Times(usual, seen float64) (was, now, saw string) {
	say := func(ratio float64) string {
		if usual > 0 {
			return strconv.FormatFloat(ratio*usual, 'f', 0, 64) + "\u00a0min"
		}
		return n.say(ratio) + " × the usual"
	}
	return say(n.was.Value), say(n.now.Value), say(seen)
}

// order is the order in which numbers are read: what makes the sheet first,
// then what is lost; times by hand come last.
var order = []string{"effective_depth_mm", "shrink_long_pct", "shrink_short_pct", "kissed_off_pct", "lost_later_pct", "solids_pressed_pct"}

// rank is a number's place in that order.
func (n Reckoned) rank() int {
	if n.Step != "" {
		return len(order) + 1
	}
	if i := slices.Index(order, n.Known); i >= 0 {
		return i
	}
	return len(order)
}

// ByRank compares two numbers by the order they are read in.
func ByRank(a, b Reckoned) int { return a.rank() - b.rank() }

// Typed is a value as it is typed for this number, back in the unit that is
// reckoned with.
func (n Reckoned) Typed(v float64) float64 { return v / n.scale }

// Changed reports whether the number is another than it was.
func (n Reckoned) Changed() bool { return n.Was != n.Now || n.WasSpan != n.NowSpan }

// Without returns what is known when one making is left out.
func Without(k belief.Known, making string) belief.Known {
	out := belief.Known{Seen: map[string][]belief.Observation{}, Pins: k.Pins}
	for key, list := range k.Seen {
		out.Seen[key] = slices.DeleteFunc(slices.Clone(list), func(o belief.Observation) bool { return o.Making == making })
	}
	return out
}
