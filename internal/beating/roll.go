package beating

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Character is what stock is wanted.
type Character int

// The characters.
const (
	Free  Character = iota // drains fast, short: blotting, casting, soft prints
	Plain                  // the usual beat
	Slow                   // slippery and long: thin, translucent or shrinking sheets
)

// brushing is the part of the beating between clearing in and clearing out
// that the roll only brushes; the rest it works. The third is common practice,
// the others are from memory. A light roll brushes and slows, a hard one cuts.
var brushing = [...]measure.Share{Free: 1.0 / 6, Plain: 1.0 / 3, Slow: 2.0 / 3}

// What the roll does at the ends, common practice: 10–20 min up at the start
// and 5–10 at the end, of short beats no more than a quarter and an eighth.
const (
	circulating, circulatingMost = 15.0, 0.25
	clearing, clearingMost       = 7.5, 0.125
)

// lowering is how often the roll goes down a step while it works: one maker
// lowers linen every half hour (linen-rag-sample), another recycled stock every
// quarter (hollander-test-page).
var lowering = [...]measure.Minutes{Free: 15, Plain: 30, Slow: 30}

// RollStep is one row of a roll schedule.
type RollStep struct {
	Roll    string          // where the roll stands
	Minutes measure.Minutes // how long
	Every   measure.Minutes // a step lower each so many minutes; 0: it stays
	Does    string
	Source  string
}

// RollSchedule returns the trade's schedule of the roll for so much beating:
// up to circulate, down to brush, down to work, up to clear.
//
// Contract:
//
//   - Quantity: minutes at each place of the roll, which add up to the whole
//   - Inputs: minutes of beating in all; character wanted
//   - Valid: 4 to 1,440 min; outside: fault.OutOfRange
//   - Assumes: a roll that can be set; on a fixed roll only the first and last row count
//   - Error: a place to begin; ear and drain test decide
//   - Source: practice; linen-rag-sample, hollander-test-page
//   - Checked: worked by hand for three hours; property: rows add up, and slower stock is brushed longer
func RollSchedule(whole measure.Minutes, c Character) ([]RollStep, error) {
	if err := measure.Inside("minutes", "beating", whole, 4, 1440, "min"); err != nil {
		return nil, err
	}
	if c < 0 || int(c) >= len(brushing) {
		return nil, fault.Invalid("character", "stock is wanted free, plain or slow")
	}
	up := min(circulating, circulatingMost*whole)
	clear := min(clearing, clearingMost*whole)
	brush := (whole - up - clear) * measure.Minutes(brushing[c])
	work := whole - up - clear - brush
	source := "linen-rag-sample"
	if c == Free {
		source = "hollander-test-page"
	}
	works := [...]string{
		Free:  "cut and shorten: set it down early and hard; a thinner load is cut more",
		Plain: "work: the hiss rises at each step down and falls as the stock opens",
		Slow:  "work without cutting: the smallest steps that can be heard; a thicker load is brushed more",
	}
	return []RollStep{
		{"up", up, 0, "charge little by little and let it circulate; no lump may pass under", "practice"},
		{"just touching", brush, 0, "brush: open the fibre and make it slippery", "practice"},
		{"down, step by step", work, lowering[c], works[c], source},
		{"up", clear, 0, "clear: undo knots; size, filler or colour go in now, 5 min apart", "hollander-test-page"},
	}, nil
}
