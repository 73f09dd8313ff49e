package studio

import (
	"context"
	"time"
)

// CardEntry is a making card typed back: what is written on the paper, as one
// form. What was left blank stays nil or empty.
type CardEntry struct {
	FormID    string    // made by the client once for each form it shows
	At        time.Time // when the making was; zero: now
	Posts     []Post
	Recharges []Recharge // by post, by sheet, or one line in total
	Parting   []WeighedAtParting
	Tests     []TestWeighed
	Dry       []WeighedDry
	Sizes     []DrySize
	Grades    *Graded
	Minutes   map[string]float64 // hands-on, by the plan's step
	StockLeft *StockLeft
	Remarks   []string
	Close     bool // nothing more will come
}

// FinishCard turns a typed card into events, in one transaction. The same form
// sent twice is stored once; typed in again with other numbers, it makes
// corrections. Faults: Invalid, OutOfRange, with the form's field; NotFound;
// Conflict when the card was typed in again elsewhere since this form was sent.
func (s *Service) FinishCard(ctx context.Context, makingID string, entry CardEntry) error {
	panic("not yet")
}
