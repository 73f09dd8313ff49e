package studio

import (
	"context"

	"vatside/internal/belief"
)

// ObservationFilter narrows a list of observations; its zero value asks for
// all, oldest first.
type ObservationFilter struct {
	MakingID string
	Belief   string // full key
}

// Observations lists what was learned from the makings, oldest first; what the
// maker left out carries the reason.
func (s *Service) Observations(ctx context.Context, f ObservationFilter) ([]belief.Observation, error) {
	panic("not yet")
}

// ExcludeObservation leaves an observation out, with the reason; an empty
// reason takes it in again. It outlasts every rebuilding. Faults: Invalid,
// NotFound.
func (s *Service) ExcludeObservation(ctx context.Context, id, reason string) error {
	panic("not yet")
}

// Relearn rebuilds the observations of every making, as after a new version of
// the program that learns otherwise.
func (s *Service) Relearn(ctx context.Context) error {
	panic("not yet")
}

// Pins returns the values the maker fixed, by belief.
func (s *Service) Pins(ctx context.Context) (map[string]belief.Pin, error) {
	panic("not yet")
}

// SetPin fixes a value. Faults: Invalid, OutOfRange.
func (s *Service) SetPin(ctx context.Context, key string, p belief.Pin) error {
	panic("not yet")
}

// ForgetPin sets a fixed value free again; forgetting twice is no fault.
func (s *Service) ForgetPin(ctx context.Context, key string) error {
	panic("not yet")
}
