package intake

import (
	"crypto/rand"
	"sync"
	"time"

	"vatside/internal/fault"
	"vatside/internal/intake"
	"vatside/internal/studio"
)

// mostWaiting is how many files wait at once; the oldest makes room.
const mostWaiting = 4

// tray holds the files that were chosen and not written down yet.
type tray struct {
	mu   sync.Mutex
	list []*waiting
}

// waiting is one file between being chosen and written down.
type waiting struct {
	mu     sync.Mutex
	id     string
	file   string
	sheets []intake.Sheet
	sheet  int
	match  intake.Matching
	work   *work
}

// work is a file being written down.
type work struct {
	since time.Time
	done  chan struct{}
	made  studio.Import
	err   error
}

// over reports whether the work has ended.
func (w *work) over() bool {
	select {
	case <-w.done:
		return true
	default:
		return false
	}
}

func (t *tray) put(file string, sheets []intake.Sheet) *waiting {
	t.mu.Lock()
	defer t.mu.Unlock()
	one := &waiting{id: rand.Text(), file: file, sheets: sheets}
	t.list = append(t.list, one)
	if len(t.list) > mostWaiting {
		t.list = t.list[1:]
	}
	return one
}

// get returns a file that waits. Faults: NotFound.
func (t *tray) get(id string) (*waiting, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, one := range t.list {
		if one.id == id {
			return one, nil
		}
	}
	return nil, fault.NotFound("this file is no longer here; choose it again, it will be read as it was before")
}

func (t *tray) drop(id string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for i, one := range t.list {
		if one.id == id {
			t.list = append(t.list[:i:i], t.list[i+1:]...)
			return
		}
	}
}
