package web

import (
	"context"

	"vatside/internal/belief"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// planner makes plans from the records as they are now: the brief, its paper,
// the studio's equipment and what was learned.
type planner struct {
	studio *studio.Service
}

// Planner returns the planner over the records.
func Planner(s *studio.Service) interface {
	Plan(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error)
	Pail(ctx context.Context, paperID string, sheet plan.Sheet, have plan.Have) (plan.Plan, error)
} {
	return planner{s}
}

// Plan makes the plan of a brief.
func (p planner) Plan(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error) {
	req, known, err := p.gather(ctx, b.PaperID, b.Sheet)
	if err != nil {
		return req, plan.Plan{}, err
	}
	good, sure := b.GoodSheets, b.ConfidencePct
	req.GoodSheets, req.ConfidencePct = &good, &sure
	answer, err := plan.Make(req, known)
	return req, answer, err
}

// Pail answers what pulp in hand can make.
func (p planner) Pail(ctx context.Context, paperID string, sheet plan.Sheet, have plan.Have) (plan.Plan, error) {
	req, known, err := p.gather(ctx, paperID, sheet)
	if err != nil {
		return plan.Plan{}, err
	}
	req.Have = &have
	return plan.Make(req, known)
}

// gather begins a request with what the records hold.
func (p planner) gather(ctx context.Context, paperID string, sheet plan.Sheet) (plan.Request, belief.Known, error) {
	paper, err := p.studio.Paper(ctx, paperID)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	profile, err := p.studio.Profile(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	seen, err := p.studio.Observations(ctx, studio.ObservationFilter{})
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	pins, err := p.studio.Pins(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	known := belief.Known{Seen: map[string][]belief.Observation{}, Pins: pins}
	for _, o := range seen {
		if o.Excluded == "" {
			known.Seen[o.Belief] = append(known.Seen[o.Belief], o)
		}
	}
	return plan.Request{Paper: paper.Design, Sheet: sheet, Studio: profile.Kit}, known, nil
}
