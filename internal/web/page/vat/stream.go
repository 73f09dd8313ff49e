package vat

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

// crowd is the devices that show makings now.
type crowd struct {
	mu     sync.Mutex
	here   map[chan struct{}]string // by the making shown
	told   map[string]int64         // by making: how often it was told of
	closed chan struct{}
	once   sync.Once
}

func newCrowd() *crowd {
	return &crowd{here: map[chan struct{}]string{}, told: map[string]int64{}, closed: make(chan struct{})}
}

func (c *crowd) heard(making string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.told[making]++
	for ch, shown := range c.here {
		if shown == making {
			select {
			case ch <- struct{}{}:
			default: // it has not looked yet, and will see this too
			}
		}
	}
}

// version changes with everything that is told of a making.
func (c *crowd) version(making string) int64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.told[making]
}

func (c *crowd) join(making string) (ch chan struct{}, leave func()) {
	ch = make(chan struct{}, 1)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.here[ch] = making
	return ch, func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		delete(c.here, ch)
	}
}

func (c *crowd) close() { c.once.Do(func() { close(c.closed) }) }

// beat is how often a quiet stream says that it is there; a device that hears
// nothing for three of them calls again.
const beat = 10 * time.Second

// Stream tells a device of everything new, as server-sent events, each a whole
// view.
func (p *Page) Stream(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("id")
	news, leave := p.crowd.join(id)
	defer leave()
	view, err := p.view(r, id)
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	out := http.NewResponseController(w)
	_ = out.SetReadDeadline(time.Time{}) // the server's own would end the stream
	tick := time.NewTicker(beat)
	defer tick.Stop()
	for {
		if view != nil {
			_, err = fmt.Fprintf(w, "data: %s\n\n", view)
		} else {
			_, err = fmt.Fprint(w, "event: here\ndata: {}\n\n")
		}
		if err != nil || out.Flush() != nil {
			return nil // the device went away
		}
		view = nil
		select {
		case <-news:
			if view, err = p.view(r, id); err != nil {
				return nil // it calls again, and is told then
			}
		case <-tick.C:
		case <-r.Context().Done():
			return nil
		case <-p.crowd.closed:
			return nil
		}
	}
}
