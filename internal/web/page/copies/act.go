package copies

import (
	"errors"
	"io"
	"net/http"

	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// MostBody is the longest request with a file, bytes: a studio with all its
// photos. Ours.
const MostBody = 64 << 30

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
	return page.Download(w, "studio-"+p.now().Format("2006-01-02")+".zip", func(out io.Writer) error { return p.keep.Pack(r.Context(), out) })
}

// File sends a copy, with the photos, as one file.
func (p *Page) File(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("name")
	return page.Download(w, "studio-"+name+".zip", func(out io.Writer) error { return p.keep.PackCopy(r.Context(), name, out) })
}

// Receive takes a file to go back to, checks it, and shows what is in it.
func (p *Page) Receive(w http.ResponseWriter, r *http.Request) error {
	var name string
	err := page.ReadParts(w, r, func(one *page.Sent) (err error) {
		if one.FormName() == "file" && one.FileName() != "" && name == "" {
			name, _, err = p.keep.Receive(r.Context(), one)
		}
		return err
	})
	if err == nil && name == "" {
		err = fault.Invalid("file", "choose the file of a copy first")
	}
	if err != nil {
		return p.refused(w, r, err)
	}
	return page.See(w, r, "/copies/"+name)
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
	if kind := fault.KindOf(err); errors.As(err, &tooLong) || kind != fault.KindStorage && kind != fault.KindInvalid {
		return err
	}
	return p.list(w, r, http.StatusUnprocessableEntity, page.Sentence(err))
}
