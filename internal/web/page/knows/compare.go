package knows

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"sync"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// comparison is the next plan of a paper, now and by the handbook alone.
type comparison struct {
	was, now *plan.Plan // was nil: nothing it rests on is measured
	cannot   bool
}

// mostCompared bounds the plans kept; ours: more papers than a studio makes.
const mostCompared = 64

// comparisons keeps what was compared. A plan is a function of what it is made
// from and of nothing else, so that a fingerprint of all of that is its key,
// and what is found is never out of date.
type comparisons struct {
	mu   sync.Mutex
	kept map[[sha256.Size]byte]comparison
}

func (c *comparisons) of(ctx context.Context, s Planned, in input, pa studio.Paper, b studio.Brief) (comparison, error) {
	text, err := json.Marshal([]any{pa.Design, b, in.print})
	if err != nil {
		return comparison{}, err
	}
	key := sha256.Sum256(text)
	c.mu.Lock()
	found, ok := c.kept[key]
	c.mu.Unlock()
	if ok {
		return found, nil
	}
	made, err := compare(ctx, s, in.known, b)
	if err != nil {
		return made, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.kept == nil || len(c.kept) >= mostCompared {
		c.kept = map[[sha256.Size]byte]comparison{}
	}
	c.kept[key] = made
	return made, nil
}

func compare(ctx context.Context, s Planned, known belief.Known, b studio.Brief) (comparison, error) {
	req, now, err := s.PlanBrief(ctx, b)
	if fault.Refused(err) {
		return comparison{cannot: true}, nil
	}
	if err != nil {
		return comparison{}, err
	}
	made := comparison{now: &now}
	if !touched(req, known) {
		return made, nil
	}
	if was, err := plan.Make(req, belief.Known{}); err == nil {
		made.was = &was
	}
	return made, nil
}

// touched reports whether anything a request rests on was measured, lent by
// other papers or fixed.
func touched(r plan.Request, known belief.Known) bool {
	list, err := plan.Beliefs(r, known)
	if err != nil {
		return false
	}
	for _, b := range list {
		if b.Pin != nil || len(b.Seen) > 0 || b.Lent() != "" {
			return true
		}
	}
	return false
}
