package vat

import (
	"context"
	"encoding/json"
	"net/http"
	"sync"
	"time"

	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// known keeps what many devices ask for at the same moment: the making, whose
// plan is long and never changes, and its view, worked out once for all of them.
type known struct {
	mu      sync.Mutex
	makings map[string]studio.Making
	views   map[shown]kept
}

// shown is whose view it is, and in which units.
type shown struct {
	making string
	system measure.System
}

type kept struct {
	version int64
	at      time.Time
	view    json.RawMessage
}

// Bounds of what is kept; ours. A view is worked out anew where entries came that
// nobody told of, as by an import.
const (
	mostKnown = 8
	goodFor   = time.Second
)

func newKnown() *known {
	return &known{makings: map[string]studio.Making{}, views: map[shown]kept{}}
}

// view is where the making's run stands, in the reader's units.
func (p *Page) view(r *http.Request, id string) (json.RawMessage, error) {
	sys, err := p.frame.System(r)
	if err != nil {
		return nil, err
	}
	k, of := p.known, shown{id, sys}
	version := p.crowd.version(id) // before reading: what comes meanwhile is another's
	k.mu.Lock()
	defer k.mu.Unlock()
	if v, ok := k.views[of]; ok && v.version == version && p.now().Sub(v.at) < goodFor {
		return v.view, nil
	}
	m, err := p.making(r.Context(), id)
	if err != nil {
		return nil, err
	}
	events, err := p.studio.Events(r.Context(), id)
	if err != nil {
		return nil, err
	}
	view, err := json.Marshal(viewOf(part.Speech{System: sys}, m, events, p.now()))
	if err != nil {
		return nil, err
	}
	if len(k.views) >= mostKnown {
		clear(k.views)
	}
	k.views[of] = kept{version, p.now(), view}
	return view, nil
}

// making is the making with its plan; the caller holds the lock.
func (p *Page) making(ctx context.Context, id string) (studio.Making, error) {
	if m, ok := p.known.makings[id]; ok {
		return m, nil
	}
	m, err := p.studio.Making(ctx, id)
	if err != nil {
		return m, err
	}
	if len(p.known.makings) >= mostKnown {
		clear(p.known.makings)
	}
	p.known.makings[id] = m
	return m, nil
}
