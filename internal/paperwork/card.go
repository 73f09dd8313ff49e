// Package paperwork prints what a studio takes to the bench: the making card.
//
// It sets type and rules lines; it does no papermaking sums. A Card holds
// finished strings, counts and the rows of tables; FromPlan makes one out of
// a plan, and WritePDF sets it on A4 or Letter. A card is meant to be worked
// from without a screen: what is needed at the vat is readable from two
// metres, nothing is said in colour, and every blank is high enough for a
// wet hand with a pencil.
//
// Assumptions: left-to-right scripts. Latin text is set in the studio's own
// typeface, Greek and Cyrillic in a second one; letters that neither holds
// (Chinese, Japanese, Korean, Arabic, Hebrew) print as an open box, and the
// card says so at its foot. Sources: the legibility of large figures, see
// docs/card.md. Missing: price lists, quotes, labels, calendars.
package paperwork

import "time"

// Card is a making card as plain data: strings already formatted in the
// user's units, counts, and rows. Empty parts are left out of the page.
type Card struct {
	Tag     string    // the short code on every tag of this making
	Link    string    // content of the QR code; empty: the tag alone
	Paper   string    // name of the paper
	Use     string    // what it is for
	By      string    // who makes it
	For     string    // who it is for
	When    string    // the day, as the studio writes it
	Date    time.Time // stamped into the file as its day of creation
	Furnish string    // the furnish in one line
	Units   string    // the system of units the card is in

	LengthUnit string // unit of the blanks for the dry size
	MassUnit   string // unit of the blanks for weights

	Promise string // "50 good sheets, 95 times in 100"

	TempUnit  string // unit of the blanks for temperatures
	StockUnit string // unit of the blank for what is left of the stock

	Sizes     []Entry     // dry size, formed size, mould, grammage, edges …
	Decisions []Decision  // sheets to pull, fibre to weigh, beater, first fill
	Rule      []RulePart  // the recharge rule, large; empty where there is none
	RuleNote  []string    // under the rule: exact amounts, water off, the jug
	Weigh     []WeighLine // what is weighed out, each with its lot
	Readings  int         // at the beater, so many at most: blanks for them
	Sized     bool        // it is sized: blanks for the bath
	Tests     TestTable
	Recharges []RechargeGroup
	Posts     []Post
	Outcomes  []Entry
	Steps     []Step
	RestsOn   string
	Notes     []string // what the plan has to say besides
	Grounds   []string // the same of what it was made from: left out where there is no room
	Cautions  []string // those that belong to no step
}

// Entry is a label with its value and, where there is one, its band or remark.
type Entry struct {
	Label string
	Value string
	Band  string
}

// Decision is one of the big numbers, with the lines under it. Lines that are
// ticked off as they are done carry a box.
//
// Where Apart is set its ticked lines stand in a table of their own. Blank names
// a place to write under it.
type Decision struct {
	Label  string
	Figure string
	Unit   string
	Lines  []DecisionLine
	Apart  bool

	Blank, BlankUnit string
}

// DecisionLine is an amount and what it is of. Tick puts a box before it; what
// is used Later stands at its step.
type DecisionLine struct {
	Amount string
	What   string
	Tick   bool
	Later  bool
}

// WeighLine is one thing to weigh out. Of says which lot it comes out of and
// how it lies; where Blank is set, what came out of it is written beside.
type WeighLine struct {
	Amount string
	What   string
	Of     string
	Blank  bool
}

// RulePart is a piece of the recharge rule: a number, set as large as the
// page allows, or the word after it. Whole and Quarters are printed when
// Number is set; Quarters is 0 to 3.
type RulePart struct {
	Number   bool
	Whole    int
	Quarters int
	Word     string
}

// TestTable says what to do by the weight of the test sheets.
type TestTable struct {
	Sheets  string // "three"
	Heading string // "three test sheets, ironed, weighed together"
	Unit    string // unit of the blank
	Rows    []TestRow
	Note    string
}

// TestRow is a range of weights and the act that follows.
type TestRow struct {
	Range string // "35.1–37.0 g"
	Do    string // "add 1 ½ jugs"
	Exact string // "1480 mL"
}

// RechargeGroup is one act at the vat and every sheet it comes before.
type RechargeGroup struct {
	Act      string // "1 ¼ jugs in"
	Exact    string // "1166 mL"
	WaterOff string // "0.9 L off through the strainer"
	RunDown  bool
	Every    string // long runs: "every 3 sheets, from 4 to 298"; the sheets are then not listed
	Before   []int
}

// Post is the sheets that go to the press together, by their number in the
// run, with those that a recharge comes before.
type Post struct {
	First, Last int
	Test        int   // so many of the first sheets are test sheets
	Recharge    []int // sheets of this post that a recharge comes before
	RunDown     []int // sheets of this post that water is taken off before
}

// Step is one step of the making.
type Step struct {
	Name     string
	Note     string
	HandsOn  string
	Wait     string
	KeepBy   string
	Lines    []StepLine
	Cautions []string
}

// StepLine is one thing to do in a step: an amount and what it is of, with how
// under it, what speaks against it, and a box for each time it is done.
type StepLine struct {
	Amount  string
	What    string
	How     string
	Against []string
	Ticks   int
}

// Size is a sheet of printing paper, in millimetres.
type Size struct {
	Name string
	W, H float64
}

// The two sizes a studio's printer has. A4 is ISO 216; Letter is 8½ × 11 in.
var (
	A4     = Size{Name: "A4", W: 210, H: 297}
	Letter = Size{Name: "Letter", W: 215.9, H: 279.4}
)
