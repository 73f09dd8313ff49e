package studio

import "context"

// Record appends events to a making and returns the state they lead to. An
// event that is already there is passed over. All are kept or none.
// Faults: Invalid, OutOfRange, with the field as events[i].…; NotFound;
// Conflict when an id is already used for something else.
func (s *Service) Record(ctx context.Context, makingID string, events ...Event) (State, error) {
	panic("not yet")
}

// Events returns the events of a making in the order of their arrival.
// Faults: NotFound.
func (s *Service) Events(ctx context.Context, makingID string) ([]Event, error) {
	panic("not yet")
}

// State returns what the events of a making amount to. Faults: NotFound.
func (s *Service) State(ctx context.Context, makingID string) (State, error) {
	panic("not yet")
}
