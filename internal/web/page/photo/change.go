package photo

import (
	"crypto/rand"
	"net/http"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// Change puts a caption right, takes a photo away, or puts it back. The entry
// stays in the history, and the file in its folder.
func (p *Page) Change(w http.ResponseWriter, r *http.Request) error {
	f, err := page.ReadForm(r)
	if err != nil {
		return err
	}
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	events, err := p.studio.Events(r.Context(), m.ID)
	if err != nil {
		return err
	}
	seen := studio.Replay(m, events).Photos
	if f.Get("do") == "back" {
		seen = away(events, seen)
	}
	i := slices.IndexFunc(seen, func(s studio.PhotoSeen) bool { return s.Event == f.Get("entry") })
	if i < 0 {
		return fault.NotFound("this photo was taken away or put back in between")
	}
	change, says := p.change(f, seen[i])
	if _, err := p.studio.Record(r.Context(), m.ID, change); err != nil {
		return err
	}
	page.PutFlash(w, says)
	return page.See(w, r, "/makings/"+m.ID+"/photos")
}

func (p *Page) change(f *page.Form, seen studio.PhotoSeen) (change studio.Event, says string) {
	id, body := "photo/"+rand.Text(), seen.Photo
	switch f.Get("do") {
	case "away":
		return studio.Void(id, p.now(), seen.Event), "The photo is taken away. Below it can be put back."
	case "back":
		says = "The photo is back."
	default:
		body.Caption, says = f.Get("caption"), "The caption is kept."
	}
	return studio.Correction(id, p.now(), seen.Event, body), says
}

// away are the photos that were taken away, as they were last told of: what is
// told of one again holds again.
func away(events []studio.Event, seen []studio.PhotoSeen) []studio.PhotoSeen {
	var list []studio.PhotoSeen
	for _, e := range events {
		if e.Kind != studio.KindPhoto || slices.ContainsFunc(seen, func(s studio.PhotoSeen) bool { return s.Event == e.ID }) {
			continue
		}
		last := studio.PhotoSeen{Event: e.ID, At: e.At}
		for _, told := range events {
			if told.ID != e.ID && told.Corrects != e.ID {
				continue
			}
			if body, err := studio.ReadBody(studio.KindPhoto, told.Body); err == nil { // of what takes it away there is none
				last.Photo = body.(studio.Photo)
			}
		}
		list = append(list, last)
	}
	return list
}
