package studio

import "context"

// Current works out anew, once, what another version of the program worked out
// otherwise: what the makings teach, and what they are found by.
func (s *Service) Current(ctx context.Context) error {
	return s.readDerived(ctx, func(Tx) error { return nil })
}

// readDerived reads what is worked out from the makings, as this program works
// it out: a file of an older one may have come in at any time.
func (s *Service) readDerived(ctx context.Context, read func(Tx) error) error {
	by := learner
	current := func(tx Tx) (err error) {
		if by, _, err = tx.Learner(ctx); err != nil || by != learner {
			return err
		}
		return read(tx)
	}
	if err := s.store.Read(ctx, current); err != nil || by == learner {
		return err
	}
	err := s.store.Write(ctx, func(tx Tx) (err error) {
		if by, _, err = tx.Learner(ctx); err != nil || by == learner { // another was first
			return err
		}
		return s.relearn(ctx, tx)
	})
	if err != nil {
		return err
	}
	return s.store.Read(ctx, current)
}

// Relearn works out anew what is worked out from every making.
func (s *Service) Relearn(ctx context.Context) error {
	return s.store.Write(ctx, func(tx Tx) error { return s.relearn(ctx, tx) })
}

func (s *Service) relearn(ctx context.Context, tx Tx) error {
	makings, err := tx.Makings(ctx, MakingFilter{Light: true})
	if err != nil {
		return err
	}
	ids := make([]string, len(makings))
	for i, m := range makings {
		ids[i] = m.ID
	}
	if err := s.rebuild(ctx, tx, ids); err != nil {
		return err
	}
	return tx.SetLearner(ctx, learner)
}
