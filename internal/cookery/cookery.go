// Package cookery is what a studio does with raw fibre: what a harvest makes,
// cooks as they are begun, logged and ended, and what they taught of a plant.
//
// A cook is written down once, with the card it was begun by and who took heed
// of which cautions; what happens to it is appended in any order and put right by
// further entries, never by changing one. What it taught, the hours and the
// yield, is worked out from the entries each time it is asked for: a studio has
// hundreds of cooks, not millions. The hours go by the law of package cooking,
// the yield by a belief of package belief.
//
// Assumed: one fibre and one alkali to a cook; a cook in a second liquor teaches
// its yield but not its hours. Sources: those of package cooking.
// Missing: rags and waste paper that are cleaned and not cooked, retting as a log
// of its own, several pots at once.
package cookery

import (
	"context"
	"time"

	"vatside/internal/fault"
)

// Store is where cooks are kept.
type Store interface {
	// Cooks lists cooks, the newest first; of one id, or all where it is empty.
	Cooks(ctx context.Context, id string) ([]Cook, error)
	// PutCook writes a cook that is not there yet.
	PutCook(ctx context.Context, c Cook) error
	// Entries lists what happened to a cook, or to all where the id is empty, in
	// the order of arrival.
	Entries(ctx context.Context, cookID string) ([]Entry, error)
	// Append writes what happened; what is there under that id already stays.
	Append(ctx context.Context, e Entry) error
	Safeties
}

// Safeties keeps the studio's own numbers.
type Safeties interface {
	Safety(ctx context.Context) (Safety, error)
	PutSafety(ctx context.Context, s Safety) error
}

// Service is what is done with cooks.
type Service struct {
	store Store
	now   func() time.Time
}

// New returns the use cases over a store, by the studio's clock.
func New(s Store, now func() time.Time) *Service { return &Service{s, now} }

// Cook returns one cook with what happened to it. Faults: NotFound.
func (s *Service) Cook(ctx context.Context, id string) (Cook, State, error) {
	list, err := s.store.Cooks(ctx, id)
	if err != nil {
		return Cook{}, State{}, err
	}
	if len(list) == 0 || id == "" {
		return Cook{}, State{}, fault.NotFound("there is no such cook")
	}
	entries, err := s.store.Entries(ctx, id)
	return list[0], Replay(list[0], entries), err
}

// Told is a cook with where it stands.
type Told struct {
	Cook  Cook
	State State
}

// Cooks lists all cooks, the newest first.
func (s *Service) Cooks(ctx context.Context) ([]Told, error) {
	list, err := s.store.Cooks(ctx, "")
	if err != nil {
		return nil, err
	}
	entries, err := s.store.Entries(ctx, "")
	if err != nil {
		return nil, err
	}
	of := map[string][]Entry{}
	for _, e := range entries {
		of[e.CookID] = append(of[e.CookID], e)
	}
	out := make([]Told, len(list))
	for i, c := range list {
		out[i] = Told{c, Replay(c, of[c.ID])}
	}
	return out, nil
}

// Start writes down a cook that is begun. Sent twice it is written once. Faults:
// Invalid where the cautions were not taken heed of.
func (s *Service) Start(ctx context.Context, c Cook) error {
	if c.Begun.IsZero() {
		c.Begun = s.now()
	}
	c.Begun = c.Begun.UTC().Truncate(time.Second)
	if err := c.check(); err != nil {
		return err
	}
	there, err := s.store.Cooks(ctx, c.ID)
	if err != nil || len(there) > 0 {
		return err
	}
	return s.store.PutCook(ctx, c)
}

// Append writes down what happened to a cook. Faults: Invalid, OutOfRange,
// NotFound.
func (s *Service) Append(ctx context.Context, e Entry) error {
	if e.At.IsZero() {
		e.At = s.now()
	}
	e.At, e.Received = e.At.UTC().Truncate(time.Millisecond), s.now().UTC().Truncate(time.Second)
	if err := e.check(); err != nil {
		return err
	}
	_, state, err := s.Cook(ctx, e.CookID)
	if err != nil {
		return err
	}
	if e.Kind == Correction && !state.has(e.Corrects) {
		return fault.NotFound("there is no such entry to put right")
	}
	return s.store.Append(ctx, e)
}

// Known returns what the studio's cooks have taught.
func (s *Service) Known(ctx context.Context) (Known, error) {
	cooks, err := s.Cooks(ctx)
	if err != nil {
		return Known{}, err
	}
	k := Known{cooks: cooks}
	for _, t := range cooks {
		if o, ok := yieldSeen(t); ok {
			k.yields = append(k.yields, o)
		}
	}
	return k, nil
}

// Safety returns the studio's own numbers.
func (s *Service) Safety(ctx context.Context) (Safety, error) { return s.store.Safety(ctx) }

// SaveSafety keeps the studio's own numbers. Faults: Invalid, OutOfRange.
func (s *Service) SaveSafety(ctx context.Context, f Safety) error {
	if err := f.check(); err != nil {
		return err
	}
	return s.store.PutSafety(ctx, f)
}
