package vat

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"time"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Sent is what a device sends: its entries, the oldest first.
type Sent struct {
	Events []Entry `json:"events"`
}

// Entry is an event as a device keeps it. At is the maker's time by the
// program's clock, in milliseconds since 1970: the device adds how far its own
// clock is off before it sends an entry for the first time, and never again.
type Entry struct {
	ID       string          `json:"id"`
	Kind     studio.Kind     `json:"kind"`
	Body     json.RawMessage `json:"body"`
	At       int64           `json:"at"`
	Corrects string          `json:"corrects,omitempty"`
}

// Answer is what a device hears.
type Answer struct {
	Now     int64           `json:"now"` // the program's clock, ms
	Stored  []string        `json:"stored,omitempty"`
	Refused []Refusal       `json:"refused,omitempty"`
	View    json.RawMessage `json:"view"`
}

// Refusal is an entry that cannot be kept, and why.
type Refusal struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// mostAtOnce is how many entries are taken at once; a device sends the rest
// after them.
const mostAtOnce = 500

// Take keeps entries that a device sends. One that cannot be kept is refused by
// itself and holds up no other; one that is there already counts as stored.
func (p *Page) Take(w http.ResponseWriter, r *http.Request) error {
	var sent Sent
	dec := json.NewDecoder(r.Body)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&sent); err != nil {
		var tooBig *http.MaxBytesError
		if errors.As(err, &tooBig) {
			return err
		}
		return fault.Invalid("events", "This is no list of entries.")
	}
	if _, err := dec.Token(); err != io.EOF || len(sent.Events) > mostAtOnce {
		return fault.Invalid("events", "Send one list of at most %d entries.", mostAtOnce)
	}
	id := r.PathValue("id")
	a := Answer{}
	events := make([]studio.Event, len(sent.Events))
	for i, e := range sent.Events {
		events[i] = studio.Event{ID: e.ID, Kind: e.Kind, Body: e.Body, At: time.UnixMilli(e.At), Corrects: e.Corrects}
	}
	_, err := p.studio.Record(r.Context(), id, events...)
	switch {
	case err == nil:
		for _, e := range events {
			a.Stored = append(a.Stored, e.ID)
		}
	case !ofEntry(err):
		return err
	default:
		for _, e := range events {
			_, err := p.studio.Record(r.Context(), id, e)
			switch {
			case err == nil:
				a.Stored = append(a.Stored, e.ID)
			case ofEntry(err):
				a.Refused = append(a.Refused, Refusal{e.ID, page.Sentence(err)})
			default:
				return err
			}
		}
	}
	if a.View, err = p.view(r, id); err != nil {
		return err
	}
	a.Now = p.now().UnixMilli()
	return answer(w, a)
}

// ofEntry reports whether a fault is about what was sent and would be the same
// again.
func ofEntry(err error) bool {
	k := fault.KindOf(err)
	return k == fault.KindInvalid || k == fault.KindOutOfRange || k == fault.KindConflict
}

func answer(w http.ResponseWriter, a Answer) error {
	text, err := json.Marshal(a)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(text) // a device gone away sends again
	return nil
}
