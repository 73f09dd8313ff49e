package studio

import (
	"cmp"
	"encoding/json"
	"slices"
	"time"

	"vatside/internal/fault"
)

// State is what the events of a making amount to. It is the replay of the
// events, in the maker's order, with corrections applied, and nothing else.
type State struct {
	Posts       []PostState // by number
	Pulled      int         // sheets pulled, all posts
	KissedOff   int
	Couched     int // pulled less kissed off
	Recharges   []RechargeSeen
	Recharged   int     // how many recharges were given
	RechargeML  float64 // stock given, all recharges
	Tests       []TestWeighed
	Parting     []WeighedAtParting
	Dry         []WeighedDry
	Sizes       []DrySize
	Grades      Graded
	Graded      bool               // at least one grading came
	Minutes     map[string]float64 // hands-on, by the plan's step
	StockLeftL  *float64
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
	case StockLeft:
		s.StockLeftL = &b.Litres
	case Remark:
		s.Remarks = append(s.Remarks, RemarkSeen{b.Text, h.Event.ID, at})
	case Closed:
		s.Closed, s.ClosedAt = true, at
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
