package studio

import (
	"context"
	"time"
)

// Bench is what stands on the bench today.
type Bench struct {
	AtVat    []BenchItem
	Drying   []BenchItem
	Waiting  []BenchItem // to be begun, to be sorted, to be closed
	Promised []Promise   // the earliest first
}

// BenchItem is one making on the bench.
type BenchItem struct {
	Making Making
	State  State
	Stage  Stage
	Since  time.Time // the last thing that happened to it
	Next   string    // what comes next, in words
}

// Promise is a brief that is not settled.
type Promise struct {
	Brief     Brief
	PaperName string
	Good      int  // good sheets graded so far
	DaysLeft  *int // nil: no date; negative: overdue
}

// Bench returns what is at the vat, drying, waiting and promised, as the
// records have it now.
func (s *Service) Bench(ctx context.Context) (Bench, error) {
	panic("not yet")
}
