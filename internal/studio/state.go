package studio

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"vatside/internal/fault"
)

// State is what the events of a making amount to. It is the replay of the
// events, in the maker's order, with corrections applied, and nothing else.
type State struct {
	Posts      []PostState // by number
	Pulled     int         // sheets pulled, all posts
	KissedOff  int
	Couched    int // pulled less kissed off
	Recharges  []RechargeSeen
	Recharged  int     // how many recharges were given
	RechargeML float64 // stock given, all recharges
	Tests      []TestWeighed
	Parting    []WeighedAtParting
	Dry        []WeighedDry
	Sizes      []DrySize
	Grades     Graded
	Graded     bool               // at least one grading came
	Minutes    map[string]float64 // hands-on, by the plan's step
	StockLeftL *float64
	FibreG     float64            // weighed out, as it lay; 0: not said
	FibreLots  map[string]float64 // of it, grams by lot
	Measured
	Vat         []VatSeen // what bears on the run at the vat, in the maker's order
	Remarks     []RemarkSeen
	Closed      bool
	ClosedAt    time.Time
	First       time.Time // maker's time of the first and the last thing that holds
	Last        time.Time
	LastAtVat   time.Time // of the last post, recharge or test
	LastParting time.Time
	Missing     []string // what has not come yet, in words, in the order it is expected
	Odd         []Flag   // what looks odd, with the sum
}

// PostState is the count of one post.
type PostState struct {
	Post      int
	Pulled    int
	KissedOff int
	Couched   int
}

// RechargeSeen is a recharge with its event and time.
type RechargeSeen struct {
	Recharge
	EventID string
	At      time.Time
}

// RemarkSeen is a remark with its event and time.
type RemarkSeen struct {
	Text    string
	EventID string
	At      time.Time
}

// Flag is what looks odd in a record. It is shown, never refused.
type Flag struct {
	Code string // such as grammage, grades, clock
	Text string // one sentence
	Sum  string // the arithmetic behind it; empty where there is none
}

// Holding is an event as it holds now: its content after all corrections.
type Holding struct {
	Event Event // the event first recorded; its time stays
	Body  Body
}

// Holds returns the events that hold, in the maker's order, with what they say
// after all corrections.
func Holds(events []Event) []Holding {
	list, _ := hold(events)
	return list
}

// Replay returns the state that the events of a making lead to. The order in
// which they are given does not matter, nor that some are given twice.
func Replay(m Making, events []Event) State {
	holding, odd := hold(events)
	s := State{Minutes: map[string]float64{}, Odd: odd}
	posts := map[int]*PostState{}
	for _, h := range holding {
		if s.First.IsZero() {
			s.First = h.Event.At
		}
		s.Last = h.Event.At
		s.take(h, posts)
	}
	for _, p := range posts {
		p.Couched = p.Pulled - p.KissedOff
		s.Posts = append(s.Posts, *p)
		s.Pulled += p.Pulled
		s.KissedOff += p.KissedOff
	}
	slices.SortFunc(s.Posts, func(a, b PostState) int { return cmp.Compare(a.Post, b.Post) })
	s.Couched = s.Pulled - s.KissedOff
	s.Missing = missing(s)
	s.Odd = append(s.Odd, oddClock(events)...)
	s.Odd = append(s.Odd, oddities(m, s)...)
	return s
}

// take adds one event to the state.
func (s *State) take(h Holding, posts map[int]*PostState) {
	at := h.Event.At
	if tellsOfVat(h.Body) {
		s.Vat = append(s.Vat, VatSeen{h.Body, h.Event.ID, at})
	}
	switch b := h.Body.(type) {
	case Post:
		p := posts[b.Post]
		if p == nil {
			p = &PostState{Post: b.Post}
			posts[b.Post] = p
		}
		p.Pulled += b.Pulled
		p.KissedOff += b.KissedOff
		s.LastAtVat = at
	case Recharge:
		s.Recharges = append(s.Recharges, RechargeSeen{b, h.Event.ID, at})
		s.Recharged += max(b.Times, 1)
		s.RechargeML += b.StockML
		s.LastAtVat = at
	case TestWeighed:
		s.Tests = append(s.Tests, b)
		s.LastAtVat = at
	case VatChanged, VatStrained:
		s.LastAtVat = at
	case WeighedAtParting:
		s.Parting = append(s.Parting, b)
		s.LastParting = at
	case WeighedDry:
		s.Dry = append(s.Dry, b)
	case DrySize:
		s.Sizes = append(s.Sizes, b)
	case Graded:
		s.Graded = true
		s.Grades.Good += b.Good
		s.Grades.Retree += b.Retree
		s.Grades.Broken += b.Broken
		s.Grades.Broke += b.Broke
	case StepTime:
		s.Minutes[b.Step] += b.Minutes
	case FibreWeighed:
		s.FibreG += b.Grams
		for _, l := range b.Lots {
			if s.FibreLots == nil {
				s.FibreLots = map[string]float64{}
			}
			s.FibreLots[l.Lot] += l.Grams
		}
	case StockLeft:
		s.StockLeftL = &b.Litres
	case Remark:
		s.Remarks = append(s.Remarks, RemarkSeen{b.Text, h.Event.ID, at})
	case Closed:
		s.Closed, s.ClosedAt = true, at
	default:
		s.Measured.take(h)
	}
}

// order is the maker's order: by the maker's time, then by arrival, then by id.
func order(a, b Event) int {
	return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Seq, b.Seq), cmp.Compare(a.ID, b.ID))
}

// fixes are the corrections, by the id they point at, in the maker's order.
type fixes map[string][]Event

// of returns what an event says after its corrections: of those that are not
// themselves taken back, the last one holds. Corrections that point at each
// other in a ring are reached from no event, so the recursion ends.
func (f fixes) of(e Event) (body json.RawMessage, void bool) {
	body = e.Body
	for _, fix := range f[e.ID] {
		if text, taken := f.of(fix); !taken {
			body, void = text, isVoid(text)
		}
	}
	return body, void
}

// hold applies the corrections: it returns the events that hold, in the
// maker's order, and flags corrections that cannot be followed.
func hold(events []Event) ([]Holding, []Flag) {
	events = slices.Clone(events)
	slices.SortFunc(events, order)
	seen := make(map[string]bool, len(events))
	f := fixes{}
	var plain []Event
	for _, e := range events {
		if seen[e.ID] {
			continue
		}
		seen[e.ID] = true
		if e.Kind == KindCorrection {
			f[e.Corrects] = append(f[e.Corrects], e)
		} else {
			plain = append(plain, e)
		}
	}
	var holding []Holding
	var odd []Flag
	for _, e := range plain {
		raw, void := f.of(e)
		if void {
			continue
		}
		body, err := ReadBody(e.Kind, raw)
		if err != nil {
			// A correction can arrive before what it corrects, unchecked.
			odd = append(odd, Flag{Code: "correction", Text: "a correction of “" + string(e.Kind) + "” does not fit and is passed over: " + fault.All(err)[0].Text})
			if body, err = ReadBody(e.Kind, e.Body); err != nil {
				continue
			}
		}
		holding = append(holding, Holding{Event: e, Body: body})
	}
	for _, e := range events {
		if e.Kind == KindCorrection && !seen[e.Corrects] {
			odd = append(odd, Flag{Code: "correction", Text: "a correction points at an entry that has not arrived"})
			break
		}
	}
	return holding, odd
}

// missing names what is not recorded yet, in the order of the work.
func missing(s State) []string {
	var list []string
	need := func(have bool, what string) {
		if !have {
			list = append(list, what)
		}
	}
	need(s.Pulled > 0, "sheets pulled, by post")
	need(len(s.Tests) > 0, "weight of the test sheets")
	need(len(s.Recharges) > 0, "recharges given")
	need(len(s.Parting) > 0, "weight at parting")
	need(s.StockLeftL != nil, "stock left")
	need(len(s.Dry) > 0, "dry weight")
	humid := len(s.Dry) == 0
	for _, d := range s.Dry {
		humid = humid || d.RHPct > 0
	}
	need(humid, "humidity of the room when the dry sheets were weighed")
	need(len(s.Sizes) > 0, "dry size")
	need(s.Graded, "grades")
	need(len(s.Minutes) > 0, "hands-on minutes")
	return list
}

// Bounds past which a record looks odd. They only raise a flag, so they are
// set wide; all are common practice, no published source.
const (
	oddGrammage = 0.30            // part of the wanted grammage, for dry weighings
	oddTest     = 0.50            // the same for test sheets, which are there to find the vat out
	oddSolidsLo = 0.15            // bone-dry over pressed mass: wetter than couched, unpressed
	oddSolidsHi = 0.65            // drier than any press leaves it
	oddBalanced = 0.40            // part of the wanted grammage, for fibre weighed out against sheets couched
	oddAhead    = 5 * time.Minute // a device's clock before the program's
)

// oddities compares what was recorded with itself and with what was wanted.
func oddities(m Making, s State) []Flag {
	var odd []Flag
	flag := func(code, text, sum string, args ...any) {
		odd = append(odd, Flag{Code: code, Text: text, Sum: fmt.Sprintf(sum, args...)})
	}
	for _, p := range s.Posts {
		if p.Couched < 0 {
			flag("kissed off", fmt.Sprintf("in post %d more sheets were kissed off than pulled", p.Post),
				"%d pulled − %d kissed off = %d", p.Pulled, p.KissedOff, p.Couched)
		}
	}
	g := s.Grades
	if all := g.Good + g.Retree + g.Broken + g.Broke; s.Pulled > 0 && all > s.Couched {
		flag("grades", "more sheets were graded than couched",
			"%d good + %d retree + %d broken + %d broke = %d; couched %d", g.Good, g.Retree, g.Broken, g.Broke, all, s.Couched)
	}
	var weighed int
	for _, d := range s.Dry {
		weighed += d.Sheets
	}
	if s.Pulled > 0 && weighed > s.Couched {
		flag("weighed", "more sheets were weighed dry than couched", "%d weighed; couched %d", weighed, s.Couched)
	}
	odd = append(odd, oddSizes(m, s)...)
	odd = append(odd, oddBalance(m, s)...)
	return append(odd, oddWeights(m, s)...)
}

// oddSizes flags dry sizes no sheet of this making can have.
func oddSizes(m Making, s State) []Flag {
	var odd []Flag
	formed := func(key string) float64 { return m.Plan.Figures[key].Value }
	for _, z := range s.Sizes {
		if z.LongMM < z.ShortMM {
			odd = append(odd, Flag{Code: "size", Text: "the long side of a dry sheet is shorter than the short side",
				Sum: fmt.Sprintf("%g mm × %g mm", z.LongMM, z.ShortMM)})
		}
		l, w := formed("formed_long_mm"), formed("formed_short_mm")
		if l > 0 && w > 0 && (z.LongMM > l || z.ShortMM > w) {
			odd = append(odd, Flag{Code: "size", Text: "a dry sheet is larger than it was formed",
				Sum: fmt.Sprintf("dry %g mm × %g mm; formed %g mm × %g mm", z.LongMM, z.ShortMM, l, w)})
		}
	}
	return odd
}

// oddWeights flags weights whose implied grammage, or implied solids, is far
// from what was wanted.
func oddWeights(m Making, s State) []Flag {
	var odd []Flag
	l, w := s.Size(m.Request.Sheet)
	const mm2 = 1e6 // mm² in a m²
	area, wanted := l*w/mm2, m.Request.Paper.GrammageConditioned
	if !(area > 0) || !(wanted > 0) {
		return nil
	}
	implied := func(code, what string, sheets int, grams, part float64) {
		got := grams / float64(sheets) / area
		if got < wanted*(1-part) || got > wanted*(1+part) {
			odd = append(odd, Flag{Code: code,
				Text: fmt.Sprintf("%s weighed as %.3g g/m², and %.3g g/m² were wanted", what, got, wanted),
				Sum:  fmt.Sprintf("%g g / %d sheets / (%.4g mm × %.4g mm) = %.3g g/m²", grams, sheets, l, w, got)})
		}
	}
	for _, t := range s.Tests {
		implied("test", "the test sheets", t.Sheets, t.Grams, oddTest)
	}
	dry, dried := 0.0, 0
	for _, d := range s.Dry {
		implied("grammage", "the dry sheets", d.Sheets, d.Grams, oddGrammage)
		dry, dried = dry+d.Grams, dried+d.Sheets
	}
	each := wanted * area
	if dried > 0 {
		each = dry / float64(dried)
	}
	for _, p := range s.Parting {
		wet := p.Grams / float64(p.Sheets)
		if solids := each / wet; solids < oddSolidsLo || solids > oddSolidsHi {
			odd = append(odd, Flag{Code: "parting", Text: "the sheets weighed at parting are wetter or drier than a press leaves them",
				Sum: fmt.Sprintf("dry %.3g g / (%g g / %d sheets) = %.0f %% solids", each, p.Grams, p.Sheets, 100*solids)})
		}
	}
	return odd
}

// oddBalance compares the fibre that was weighed out with the sheets it became:
// what is neither in the heel nor in stock left over must be in the sheets.
func oddBalance(m Making, s State) []Flag {
	value := func(key string) float64 { return m.Plan.Figures[key].Value }
	weigh, dry, wanted := value("fibre_air_dry_g"), value("fibre_bone_dry_g"), m.Request.Paper.GrammageConditioned
	area := m.Request.Sheet.LongMM * m.Request.Sheet.ShortMM / 1e6
	if s.FibreG == 0 || s.Couched <= 0 || weigh == 0 || dry == 0 || !(area > 0) || !(wanted > 0) {
		return nil
	}
	solids, heel, left := s.FibreG*dry/weigh, value("heel_fibre_g"), 0.0
	if s.StockLeftL != nil && m.Request.Studio.StockGL != nil {
		left = *s.StockLeftL * *m.Request.Studio.StockGL
	}
	got := (solids - heel - left) / float64(s.Couched) / area
	if got > wanted*(1-oddBalanced) && got < wanted*(1+oddBalanced) {
		return nil
	}
	return []Flag{{Code: "balance",
		Text: fmt.Sprintf("the fibre used makes sheets of about %.0f g/m², and %.3g g/m² were wanted: was stock left over, were the sheets larger, or were more pulled than written down?", got, wanted),
		Sum:  fmt.Sprintf("(%.4g g bone-dry − %.4g g heel − %.4g g in stock left) / %d sheets / %.4g m² = %.4g g/m²", solids, heel, left, s.Couched, area, got)}}
}

// oddClock flags events from a device whose clock runs ahead.
func oddClock(events []Event) []Flag {
	for _, e := range events {
		if !e.Received.IsZero() && e.At.Sub(e.Received) > oddAhead {
			return []Flag{{Code: "clock", Text: "a device that wrote to this making has its clock ahead; its entries may stand in the wrong order",
				Sum: fmt.Sprintf("written %s, received %s", e.At.UTC().Format(time.DateTime), e.Received.UTC().Format(time.DateTime))}}
		}
	}
	return nil
}
