package page

import (
	"fmt"
	"io"
	"net/http"
)

// Download sends what is written as one packed file to be kept. A fault before
// the first byte is shown; one after it is a CutOff, so that no half file passes
// for a whole one.
func Download(w http.ResponseWriter, name string, write func(io.Writer) error) error {
	out := &late{w: w, name: name}
	err := write(out)
	if err != nil && out.begun {
		return &CutOff{Err: err, Gone: out.gone}
	}
	return err
}

// CutOff is a download that failed after its first byte: the connection is
// broken off, for nothing else tells the reader.
type CutOff struct {
	Err  error
	Gone bool // the reader went away
}

// Error says why.
func (c *CutOff) Error() string { return fmt.Sprintf("download cut off: %v", c.Err) }

// Unwrap is the fault itself.
func (c *CutOff) Unwrap() error { return c.Err }

// late sets the head of a download when the first byte comes.
type late struct {
	w           http.ResponseWriter
	name        string
	begun, gone bool
}

func (l *late) Write(b []byte) (int, error) {
	if !l.begun {
		l.begun = true
		h := l.w.Header()
		h.Set("Content-Type", "application/zip")
		h.Set("Content-Disposition", `attachment; filename="`+l.name+`"`)
		h.Set("Cache-Control", "no-store")
	}
	n, err := l.w.Write(b)
	l.gone = l.gone || err != nil
	return n, err
}
