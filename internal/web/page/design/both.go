package design

import (
	"context"
	"fmt"
	"sync"

	"vatside/internal/plan"
)

// draft is a design that is thought of, and for how many good sheets.
type draft struct {
	paper plan.Paper
	sheet plan.Sheet
	good  int
}

// planned is a plan, or why there is none.
type planned struct {
	plan.Plan
	err error
}

func (p *Page) plan(ctx context.Context, d draft) (out planned) {
	// Beside a request a defect would end the program; as a fault it ends no
	// more than the request.
	defer func() {
		if v := recover(); v != nil {
			out = planned{err: fmt.Errorf("plan of a design: %v", v)}
		}
	}()
	_, out.Plan, out.err = p.studio.PlanDesign(ctx, d.paper, d.sheet, d.good, nil)
	return out
}

// both plans two designs at the same time: one waits half as long for the two.
func (p *Page) both(ctx context.Context, a, b draft) (one, other planned) {
	var wg sync.WaitGroup
	wg.Go(func() { one = p.plan(ctx, a) })
	other = p.plan(ctx, b)
	wg.Wait()
	return one, other
}
