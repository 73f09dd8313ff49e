package studio

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"time"

	"vatside/internal/fault"
)

// Bounds of what an event may carry.
const (
	mostID   = 300       // characters of a client's id
	mostBody = 128 << 10 // bytes of a body; a remark of 20,000 characters fits
)

// Record appends events to a making and returns the state they lead to. An
// event that is already there is passed over. All are kept or none.
// Faults: Invalid, OutOfRange, with the field as events[i].…; NotFound;
// Conflict when an id is already used for something else.
func (s *Service) Record(ctx context.Context, makingID string, events ...Event) (State, error) {
	var state State
	err := s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Makings(ctx, MakingFilter{ID: makingID})
		m, err := one(list, err, "there is no such making")
		if err != nil {
			return err
		}
		old, err := tx.Events(ctx, makingID)
		if err != nil {
			return err
		}
		state, err = s.add(ctx, tx, m, old, events)
		return err
	})
	if err != nil {
		return State{}, err
	}
	return state, nil
}

// add checks the events, appends those that are new, and rebuilds what is
// derived from the making.
func (s *Service) add(ctx context.Context, tx Tx, m Making, old, events []Event) (State, error) {
	known := make(map[string]Event, len(old)+len(events))
	for _, e := range old {
		known[e.ID] = e
	}
	tidied := make([]Event, len(events))
	ids := make([]string, len(events))
	var faults fault.List
	for i, e := range events {
		e, err := tidy(e, m.ID)
		faults.Add(under(fmt.Sprintf("events[%d]", i), err))
		tidied[i], ids[i] = e, e.ID
		if _, ok := known[e.ID]; !ok {
			known[e.ID] = e // so that a correction finds what comes with it
		}
	}
	for i, e := range tidied {
		if e.Kind == KindCorrection {
			faults.Add(under(fmt.Sprintf("events[%d]", i), checkCorrection(e, known)))
		}
	}
	if err := faults.OrNil(); err != nil {
		return State{}, err
	}
	stored, err := tx.EventsByID(ctx, ids)
	if err != nil {
		return State{}, err
	}
	there := make(map[string]Event, len(stored))
	for _, e := range stored {
		there[e.ID] = e
	}
	all := old
	for _, e := range tidied {
		if same, ok := there[e.ID]; ok {
			if !e.sameAs(same) {
				return State{}, fault.Conflict("the entry id %q is already used for something else", e.ID)
			}
			continue
		}
		e.Received = s.second()
		if e.Seq, err = tx.AppendEvent(ctx, e); err != nil {
			return State{}, err
		}
		there[e.ID] = e
		all = append(all, e)
	}
	state, err := s.derive(ctx, tx, m, all)
	if err != nil {
		return State{}, err
	}
	return state, s.use(ctx, tx, m, state)
}

// derive rebuilds what lists and beliefs read of a making.
func (s *Service) derive(ctx context.Context, tx Tx, m Making, events []Event) (State, error) {
	state := Replay(m, events)
	if err := tx.PutProgress(ctx, m.ID, progress(m, state)); err != nil {
		return State{}, err
	}
	if s.Learner != nil {
		if err := tx.ReplaceObservations(ctx, m.ID, s.Learner(m, state)); err != nil {
			return State{}, err
		}
	}
	return state, nil
}

// Events returns the events of a making in the order of their arrival.
// Faults: NotFound.
func (s *Service) Events(ctx context.Context, makingID string) ([]Event, error) {
	_, events, err := s.making(ctx, makingID)
	return events, err
}

// State returns what the events of a making amount to. Faults: NotFound.
func (s *Service) State(ctx context.Context, makingID string) (State, error) {
	m, events, err := s.making(ctx, makingID)
	if err != nil {
		return State{}, err
	}
	return Replay(m, events), nil
}

func (s *Service) making(ctx context.Context, id string) (m Making, events []Event, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		list, err := tx.Makings(ctx, MakingFilter{ID: id})
		if m, err = one(list, err, "there is no such making"); err != nil {
			return err
		}
		events, err = tx.Events(ctx, id)
		return err
	})
	return m, events, err
}

// tidy checks an event and returns it as it is stored.
func tidy(e Event, makingID string) (Event, error) {
	var faults fault.List
	if e.MakingID != "" && e.MakingID != makingID {
		faults.Add(fault.Invalid("making", "this entry belongs to another making"))
	}
	e.MakingID, e.Seq, e.Received = makingID, 0, time.Time{}
	if e.ID == "" {
		faults.Add(fault.Invalid("id", "an entry carries an id that its maker gave it"))
	}
	checkText(&faults, "id", e.ID, mostID)
	e.At = e.At.UTC().Truncate(time.Millisecond)
	checkTime(&faults, "at", e.At)
	if len(e.Body) > mostBody {
		faults.Add(fault.OutOfRange("body", "at most %d bytes", mostBody))
		return e, faults.OrNil()
	}
	if len(e.Body) == 0 {
		e.Body = json.RawMessage(`{}`)
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, e.Body); err != nil {
		faults.Add(fault.Invalid("body", "the body is a JSON object"))
		return e, faults.OrNil()
	}
	e.Body = compact.Bytes()
	if e.Kind == KindCorrection {
		checkText(&faults, "corrects", e.Corrects, mostID)
		if e.Corrects == "" || e.Corrects == e.ID {
			faults.Add(fault.Invalid("corrects", "a correction names the entry it corrects"))
		}
		if e.Body[0] != '{' {
			faults.Add(fault.Invalid("body", "the body is a JSON object"))
		}
		return e, faults.OrNil()
	}
	if e.Corrects != "" {
		faults.Add(fault.Invalid("corrects", "only a correction points at another entry"))
	}
	_, err := ReadBody(e.Kind, e.Body)
	faults.Add(err)
	return e, faults.OrNil()
}

// checkCorrection checks a correction's body as one of the kind it comes down
// to. What has not arrived cannot be checked against; the replay will.
func checkCorrection(e Event, known map[string]Event) error {
	if isVoid(e.Body) {
		return nil
	}
	root := e
	for range len(known) + 1 { // a ring ends here
		next, ok := known[root.Corrects]
		if !ok {
			return nil
		}
		if next.Kind != KindCorrection {
			_, err := ReadBody(next.Kind, e.Body)
			return err
		}
		root = next
	}
	return fault.Invalid("corrects", "corrections point at each other in a ring")
}

// sameAs reports whether two events tell the same.
func (e Event) sameAs(o Event) bool {
	return e.ID == o.ID && e.MakingID == o.MakingID && e.Kind == o.Kind && e.At.Equal(o.At) &&
		e.Corrects == o.Corrects && bytes.Equal(e.Body, o.Body)
}

// under puts a path before the fields of err.
func under(path string, err error) error {
	list := fault.All(err)
	for i, f := range list {
		moved := *f
		moved.Field = path
		if f.Field != "" {
			moved.Field += "." + f.Field
		}
		list[i] = &moved
	}
	return list.OrNil()
}
