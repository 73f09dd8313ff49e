package studio

import "time"

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
	Remarks    []RemarkSeen
	Closed     bool
	ClosedAt   time.Time
	First      time.Time // maker's time of the first and the last thing that holds
	Last       time.Time
	LastAtVat  time.Time // of the last post or recharge
	Missing    []string  // what has not come yet, in words, in the order it is expected
	Odd        []Flag    // what looks odd, with the sum
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
