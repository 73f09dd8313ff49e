package photo

import (
	"io"
	"net/http"
	"strconv"
	"unicode/utf8"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Bounds of one sending, bytes; ours.
const (
	MostBody    = 1 << 30 // a card full of a day's photos
	mostCaption = 4096    // of a blank
)

// sent is what arrived in one form.
type sent struct {
	form, caption string
	events        []studio.Event
	refused       []page.Refused
}

// Add keeps the photos of a form and writes them down.
func (p *Page) Add(w http.ResponseWriter, r *http.Request) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	s, err := p.take(w, r)
	if err != nil {
		return err
	}
	if len(s.events) == 0 && len(s.refused) == 0 {
		return p.show(w, r, http.StatusUnprocessableEntity, "", []page.Refused{{Text: "Choose at least one photo."}})
	}
	added, err := p.write(r, m, s)
	if err != nil {
		return err
	}
	if len(s.refused) > 0 {
		return p.show(w, r, http.StatusUnprocessableEntity, kept(strconv.Itoa(added)), s.refused)
	}
	return page.See(w, r, "/makings/"+m.ID+"/photos?kept="+strconv.Itoa(len(s.events)))
}

// take reads the form as it comes.
func (p *Page) take(w http.ResponseWriter, r *http.Request) (s sent, err error) {
	err = page.ReadParts(w, r, func(one *page.Sent) (err error) {
		switch {
		case one.FormName() == "form":
			s.form, err = text(one)
		case one.FormName() == "caption":
			s.caption, err = text(one)
		case one.FormName() == "photo" && one.FileName() != "":
			err = p.takeOne(r, &s, one)
		}
		return err
	})
	return s, err
}

// takeOne keeps one file, or notes why not; only what ends the whole sending is
// a fault.
func (p *Page) takeOne(r *http.Request, s *sent, file *page.Sent) error {
	k, err := p.photos.Add(r.Context(), file)
	switch {
	case fault.Refused(err):
		s.refused = append(s.refused, page.Refused{File: file.FileName(), Text: page.Sentence(err)})
		return nil
	case err != nil:
		return err
	}
	body := studio.Photo{Hash: k.Hash, Format: k.Format, Width: k.Width, Height: k.Height, Caption: s.caption}
	s.events = append(s.events, studio.NewEvent("photo/"+s.form+"/"+k.Hash[:16], p.now(), body))
	return nil
}

// write writes down what is not written down yet, so that a form sent twice
// counts once, and returns how many photos of the form there are.
func (p *Page) write(r *http.Request, m studio.Making, s sent) (int, error) {
	events, err := p.studio.Events(r.Context(), m.ID)
	if err != nil {
		return 0, err
	}
	there := map[string]bool{}
	for _, e := range events {
		there[e.ID] = true
	}
	var fresh []studio.Event
	for _, e := range s.events {
		if !there[e.ID] {
			there[e.ID] = true
			fresh = append(fresh, e)
		}
	}
	if len(fresh) > 0 {
		if _, err := p.studio.Record(r.Context(), m.ID, fresh...); err != nil {
			return 0, err
		}
	}
	return len(s.events), nil
}

func text(from io.Reader) (string, error) {
	b, err := io.ReadAll(io.LimitReader(from, mostCaption))
	if err != nil {
		return "", err
	}
	if !utf8.Valid(b) {
		return "", fault.Invalid("caption", "the caption is not readable text")
	}
	return string(b), nil
}
