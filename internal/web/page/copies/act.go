package copies

import (
	"errors"
	"io"
	"net/http"
	"time"

	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// Bounds of a file that is sent; ours.
const (
	MostBody = 64 << 30         // bytes: a studio with all its photos
	slowest  = 60 * time.Minute // over the studio's own network
)

// Make makes a copy now.
func (p *Page) Make(w http.ResponseWriter, r *http.Request) error {
	if _, err := p.keep.Make(r.Context(), keeping.Asked); err != nil {
		return p.refused(w, r, err)
	}
	page.PutFlash(w, "The studio is copied, and the copy was read through.")
	return page.See(w, r, "/copies")
}

// Now sends the studio as it is, with its photos, as one file.
func (p *Page) Now(w http.ResponseWriter, r *http.Request) error {
	return p.send(w, "studio-"+p.now().Format("2006-01-02")+".zip", func(out io.Writer) error { return p.keep.Pack(r.Context(), out) })
}

// File sends a copy, with the photos, as one file.
func (p *Page) File(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("name")
	return p.send(w, "studio-"+name+".zip", func(out io.Writer) error { return p.keep.PackCopy(r.Context(), name, out) })
}

// send sends what is packed. A fault before the first byte is shown; one after
// it breaks the sending off, so that no half file passes for a whole one.
func (p *Page) send(w http.ResponseWriter, name string, pack func(io.Writer) error) error {
	out := &late{w: w, name: name}
	err := pack(out)
	if err != nil && out.begun {
		panic(http.ErrAbortHandler)
	}
	return err
}

// late sets the head of a download when the first byte comes.
type late struct {
	w     http.ResponseWriter
	name  string
	begun bool
}

func (l *late) Write(b []byte) (int, error) {
	if !l.begun {
		l.begun = true
		h := l.w.Header()
		h.Set("Content-Type", "application/zip")
		h.Set("Content-Disposition", `attachment; filename="`+l.name+`"`)
		h.Set("Cache-Control", "no-store")
	}
	return l.w.Write(b)
}

// Receive takes a file to go back to, checks it, and shows what is in it.
func (p *Page) Receive(w http.ResponseWriter, r *http.Request) error {
	http.NewResponseController(w).SetReadDeadline(time.Now().Add(slowest)) //nolint:errcheck // where it cannot be moved, the page's minute holds
	parts, err := r.MultipartReader()
	if err != nil {
		return fault.Invalid("", "the form could not be read; go back and send it again")
	}
	for {
		next, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return p.list(w, r, http.StatusUnprocessableEntity, "Choose the file of a copy first.")
		}
		if err != nil {
			return fault.Invalid("", "the file did not arrive whole; send it once more")
		}
		if next.FormName() != "file" || next.FileName() == "" {
			continue
		}
		name, _, err := p.keep.Receive(r.Context(), next)
		if err != nil {
			return p.refused(w, r, err)
		}
		return page.See(w, r, "/copies/"+name)
	}
}

// Restore goes back to a copy.
func (p *Page) Restore(w http.ResponseWriter, r *http.Request) error {
	before, err := p.keep.Restore(r.Context(), r.PathValue("name"))
	if err != nil {
		return p.refused(w, r, err)
	}
	page.PutFlash(w, "The studio is the one of the copy now. As it was before, it is kept in the copy of "+part.Moment(before.At, p.now())+": going back to that takes this back.")
	return page.See(w, r, "/copies")
}

// refused shows what is wrong with a copy or a file above the list: it is no
// defect of the program, and the studio is as it was.
func (p *Page) refused(w http.ResponseWriter, r *http.Request, err error) error {
	var tooLong *http.MaxBytesError
	if fault.KindOf(err) != fault.KindStorage || errors.As(err, &tooLong) {
		return err
	}
	return p.list(w, r, http.StatusUnprocessableEntity, page.Sentence(err))
}
