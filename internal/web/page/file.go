package page

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"time"

	"vatside/internal/fault"
)

// slowest is how long files may take to arrive: a studio with all its photos
// over its own network, where a page has a minute. Ours.
const slowest = time.Hour

// Sent is one part of a form with files.
type Sent struct {
	*multipart.Part
	cut error // why it ended before its end
}

// Read reads what the part holds.
func (s *Sent) Read(b []byte) (int, error) {
	n, err := s.Part.Read(b)
	if err != nil && !errors.Is(err, io.EOF) {
		s.cut = err
	}
	return n, err
}

// ReadParts reads a form with files part by part, so that no file stands in
// memory: take reads each, or leaves it. What did not arrive whole is Invalid,
// whatever take makes of it; what is too long stays a *http.MaxBytesError.
func ReadParts(w http.ResponseWriter, r *http.Request, take func(*Sent) error) error {
	http.NewResponseController(w).SetReadDeadline(time.Now().Add(slowest)) //nolint:errcheck // where it cannot be moved, the page's minute holds
	parts, err := r.MultipartReader()
	if err != nil {
		return fault.Invalid("file", "the form could not be read; go back and send it again")
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return broken(err)
		}
		one := &Sent{Part: part}
		err = take(one)
		switch {
		case one.cut != nil:
			return broken(one.cut)
		case err != nil:
			return err
		}
	}
}

func broken(err error) error {
	var tooLong *http.MaxBytesError
	if errors.As(err, &tooLong) {
		return err
	}
	return fault.Invalid("file", "what was sent did not arrive whole; send it once more")
}
