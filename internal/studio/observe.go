package studio

import (
	"context"
	"math"
	"strings"

	"vatside/internal/belief"
	"vatside/internal/fault"
)

// ObservationFilter narrows a list of observations; its zero value asks for
// all, oldest first.
type ObservationFilter struct {
	ID       string
	MakingID string
	Belief   string // full key
}

// Observations lists what was learned from the makings, oldest first; what the
// maker left out carries the reason.
func (s *Service) Observations(ctx context.Context, f ObservationFilter) ([]belief.Observation, error) {
	var list []belief.Observation
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		list, err = tx.Observations(ctx, f)
		return err
	})
	return list, err
}

// ExcludeObservation leaves an observation out, with the reason; an empty
// reason takes it in again. It outlasts every rebuilding. Faults: Invalid,
// NotFound.
func (s *Service) ExcludeObservation(ctx context.Context, id, reason string) error {
	var faults fault.List
	reason = strings.TrimSpace(reason)
	checkText(&faults, "reason", reason, longText)
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Observations(ctx, ObservationFilter{ID: id})
		o, err := one(list, err, "there is no such observation")
		if err != nil {
			return err
		}
		return tx.ExcludeObservation(ctx, o.Making, o.ID, reason, s.second())
	})
}

// Relearn rebuilds the observations of every making, as after a new version of
// the program that learns otherwise.
func (s *Service) Relearn(ctx context.Context) error {
	return s.store.Write(ctx, func(tx Tx) error {
		makings, err := tx.Makings(ctx, MakingFilter{})
		if err != nil {
			return err
		}
		for _, m := range makings {
			events, err := tx.Events(ctx, m.ID)
			if err != nil {
				return err
			}
			if _, err := s.derive(ctx, tx, m, events); err != nil {
				return err
			}
		}
		return nil
	})
}

// Pins returns the values the maker fixed, by belief.
func (s *Service) Pins(ctx context.Context) (map[string]belief.Pin, error) {
	var pins map[string]belief.Pin
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		pins, err = tx.Pins(ctx)
		return err
	})
	return pins, err
}

// SetPin fixes a value. Faults: Invalid, OutOfRange. Whether the number can be
// one of that belief, the plan says.
func (s *Service) SetPin(ctx context.Context, key string, p belief.Pin) error {
	var faults fault.List
	if key == "" {
		faults.Add(fault.Invalid("belief", "say which number is fixed"))
	}
	checkText(&faults, "belief", key, shortText)
	if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) {
		faults.Add(fault.OutOfRange("value", "a number"))
	}
	checkText(&faults, "why", p.Why, longText)
	if err := faults.OrNil(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error { return tx.PutPin(ctx, key, p, s.second()) })
}

// ForgetPin sets a fixed value free again; forgetting twice is no fault.
func (s *Service) ForgetPin(ctx context.Context, key string) error {
	return s.store.Write(ctx, func(tx Tx) error { return tx.ErasePin(ctx, key) })
}
