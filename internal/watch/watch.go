// Package watch says what a maker at the vat wants to know: where the run
// stands, what comes next and after how many sheets, what the coming sheets
// will weigh, and what to be asked; and, looked back on, how it was.
//
// It is a pure function of a making and its entries. What comes is told ahead
// for the whole run, as if nothing more were weighed, so that a page cut off
// from the program can go on by it. Assumed: a sheet counted after an act was
// due means that the act was done. Missing: two makers at one vat.
package watch

import (
	"slices"

	"vatside/internal/measure"
	"vatside/internal/run"
	"vatside/internal/studio"
)

// Now is where a run stands.
type Now struct {
	Couched   int
	KissedOff int
	Spoilt    int
	Wanted    int // sheets to couch, the first ones among them
	Tests     int // first sheets that are weighed by themselves
	Weighed   bool
	Post      int // that grows, from 1
	InPost    int // sheets in it
	PostHolds int // felts: it is full then
	Closed    bool

	Why   string // why weights are not followed; "": they are
	Words string // how the sheets run, and what to do otherwise than usual
	Vat   Level
	Last  *Sheet  // the sheet couched last
	Ahead []Sheet // the coming ones
	Acts  []Act   // what is to be done, in its order

	Asks   []Ask
	Missed *Missed
}

// Level is what is in the vat.
type Level struct {
	Fibre measure.Mass
	Water measure.Volume
}

// Sheet is what a sheet weighs or will, dry and in the room's air, with the band
// that holds it nine times in ten.
type Sheet struct {
	N                int
	Value, Low, High measure.GrammageConditioned
}

// Act is one thing to do, after so many couched sheets.
type Act struct {
	After int
	Kind  Kind
	Post  int // to press
	run.Act
}

// Kind is what an act is.
type Kind string

// The kinds of acts.
const (
	Recharge Kind = "recharge" // stock in, and what keeps the level
	RunDown  Kind = "run down" // no stock any more, water off
	Weigh    Kind = "weigh"    // the first sheets
	Press    Kind = "press"    // the post is full
	Finish   Kind = "finish"   // all are couched
)

// Ask is a weighing that is out of all reason.
type Ask struct {
	EventID string
	Off     float64 // over what was expected, fraction
}

// Missed is a recharge that was noted and, by the weighings since, probably
// not poured.
type Missed struct {
	EventID string
	Before  int // the sheet it was noted before
	Chance  float64
}

// missedFrom is the chance from which a missed recharge is told: more likely
// than not.
const missedFrom = 0.5

// From tells where a making's run stands.
func From(m studio.Making, events []studio.Event) Now {
	s := studio.Replay(m, events)
	figure := func(key string) int { return int(m.Plan.Figures[key].Value) }
	n := Now{Couched: max(0, s.Couched), KissedOff: s.KissedOff, Wanted: figure("sheets_couched"), PostHolds: figure("post_sheets"), Closed: s.Closed, Post: 1, Tests: 3}
	if t := m.Request.TestSheets; t != nil {
		n.Tests = *t
	}
	n.Weighed = n.Tests == 0 || slices.ContainsFunc(s.Tests, func(t studio.TestWeighed) bool { return t.From <= 1 })
	for _, w := range s.Spoilt {
		n.Spoilt += w.Sheets
	}
	v, err := studio.Follow(m, events)
	for _, p := range s.Posts {
		if p.Post >= n.Post {
			n.Post, n.InPost = p.Post, max(0, p.Couched)
		}
	}
	if err == nil {
		err = v.Stopped
	}
	if err != nil {
		n.Why = err.Error()
		n.ends()
		return n
	}
	n.stands(m, v)
	n.comes(m, v)
	n.ends()
	return n
}

// stands is what is known now.
func (n *Now) stands(m studio.Making, v studio.Vat) {
	n.Vat.Fibre, n.Vat.Water = v.Run.Vat()
	if last := v.Run.Pulled(); last > 0 {
		if b, err := v.Run.Sheet(last); err == nil {
			n.Last = sheetOf(m, v, last, b)
		}
	}
	if a, err := v.Run.Recharge(); err == nil {
		n.Words = a.Words
	}
	for _, a := range v.Run.Asks() {
		n.Asks = append(n.Asks, Ask{v.IDs[a.Event], a.Off})
	}
	if f := v.Run.Forgotten(); f.Chance > missedFrom {
		n.Missed = &Missed{v.IDs[f.Event], f.Before, f.Chance}
	}
}

func sheetOf(m studio.Making, v studio.Vat, nth int, b run.Band) *Sheet {
	return &Sheet{nth, v.Conditioned(m, b.Value), v.Conditioned(m, b.Low), v.Conditioned(m, b.High)}
}

// mostAhead bounds how far is told ahead, sheets. Ours: more than a day's.
const mostAhead = 200

// comes plays the rest of the run as it is expected.
func (n *Now) comes(m studio.Making, v studio.Vat) {
	r, fed := v.Run.Clone(), v.Fed
	down, acts := runDown(m)
	for sheets := n.Couched; sheets < min(n.Wanted, n.Couched+mostAhead); sheets++ {
		act, due := Act{After: sheets, Kind: Recharge}, sheets > 0 && sheets-fed >= v.Prior.Every
		if sheets >= down {
			_, due = acts[sheets]
			act.Kind, due = RunDown, due && fed < sheets
		}
		if due {
			var err error
			if act.Kind == Recharge {
				act.Act, err = r.Recharge()
			} else {
				act.Act, err = r.RunDown(acts[sheets].stock, acts[sheets].sheets)
			}
			if err != nil {
				return
			}
			for _, e := range act.Events() {
				if r.Happen(e) != nil {
					return
				}
			}
			fed = sheets
			if len(act.Events()) > 0 {
				n.Acts = append(n.Acts, act)
			}
		}
		n.Ahead = append(n.Ahead, *sheetOf(m, v, sheets+1, r.Next()))
		if r.Happen(run.Pulled{}) != nil {
			return
		}
	}
}

// last is an act of the run-down: stock still to pour, and for how many sheets
// it is meant.
type last struct {
	stock  measure.Volume
	sheets int
}

// runDown is after how many sheets the plan's run-down begins, and what it has
// after how many.
func runDown(m studio.Making) (from int, acts map[int]last) {
	end := int(m.Plan.Figures["sheets_couched"].Value)
	from, acts = end+1, map[int]last{}
	for i, row := range m.Plan.Vat.Recharges {
		if !row.RunDown {
			continue
		}
		next := end
		if i+1 < len(m.Plan.Vat.Recharges) {
			next = m.Plan.Vat.Recharges[i+1].BeforeSheet - 1
		}
		from = min(from, row.BeforeSheet-1)
		acts[row.BeforeSheet-1] = last{measure.Volume(row.StockML / 1000), next - row.BeforeSheet + 1}
	}
	return from, acts
}

// ends adds what does not hang on weights: weighing the first, pressing full
// posts, the end. Of acts due together the weighing comes first, for it moves
// the dose, and a recharge last, for it is meant for the next sheet.
func (n *Now) ends() {
	if !n.Weighed && n.Tests > 0 && n.Couched <= n.Tests {
		n.Acts = append(n.Acts, Act{After: n.Tests, Kind: Weigh})
	}
	if n.PostHolds > 0 {
		post := n.Post
		for at := n.Couched + n.PostHolds - min(n.InPost, n.PostHolds); at < n.Wanted; at += n.PostHolds {
			n.Acts = append(n.Acts, Act{After: at, Kind: Press, Post: post})
			post++
		}
	}
	n.Acts = append(n.Acts, Act{After: max(n.Wanted, n.Couched), Kind: Finish, Post: n.Post})
	order := []Kind{Weigh, Press, Finish, Recharge, RunDown}
	slices.SortStableFunc(n.Acts, func(a, b Act) int {
		if a.After != b.After {
			return a.After - b.After
		}
		return slices.Index(order, a.Kind) - slices.Index(order, b.Kind)
	})
}
