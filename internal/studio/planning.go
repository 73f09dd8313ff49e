package studio

import (
	"context"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

// Known returns what the studio has learned and fixed, as plans use it.
func (s *Service) Known(ctx context.Context) (belief.Known, error) {
	seen, err := s.Observations(ctx, ObservationFilter{})
	if err != nil {
		return belief.Known{}, err
	}
	pins, err := s.Pins(ctx)
	if err != nil {
		return belief.Known{}, err
	}
	known := belief.Known{Seen: map[string][]belief.Observation{}, Pins: pins}
	for _, o := range seen {
		known.Seen[o.Belief] = append(known.Seen[o.Belief], o)
	}
	return known, nil
}

// PlanBrief plans a brief from the records as they are now: the paper at the
// revision the brief names, the studio's equipment, what was learned. The
// brief need not be saved. Faults: those of plan.Make, NotFound.
func (s *Service) PlanBrief(ctx context.Context, b Brief) (plan.Request, plan.Plan, error) {
	req, known, err := s.gather(ctx, b.PaperID, b.PaperRevision, b.Sheet)
	if err != nil {
		return req, plan.Plan{}, err
	}
	good, sure := b.GoodSheets, b.ConfidencePct
	req.GoodSheets = &good
	if sure > 0 {
		req.ConfidencePct = &sure
	}
	answer, err := plan.Make(req, known)
	return req, answer, err
}

// PlanPulp answers what pulp in hand can make of a paper.
func (s *Service) PlanPulp(ctx context.Context, paperID string, sheet plan.Sheet, have plan.Have) (plan.Plan, error) {
	req, known, err := s.gather(ctx, paperID, 0, sheet)
	if err != nil {
		return plan.Plan{}, err
	}
	req.Have = &have
	return plan.Make(req, known)
}

// gather begins a request with what the records hold. Revision 0 is the
// present one.
func (s *Service) gather(ctx context.Context, paperID string, revision int, sheet plan.Sheet) (plan.Request, belief.Known, error) {
	var paper Paper
	err := s.store.Read(ctx, func(tx Tx) error {
		list, err := tx.Papers(ctx, PaperFilter{ID: paperID, Revision: revision})
		paper, err = one(list, err, "there is no such paper")
		return err
	})
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	profile, err := s.Profile(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	known, err := s.Known(ctx)
	if err != nil {
		return plan.Request{}, belief.Known{}, err
	}
	kit := profile.Kit
	kit.Currency = profile.Currency
	return plan.Request{Paper: paper.Design, Sheet: sheet, Studio: kit}, known, nil
}
