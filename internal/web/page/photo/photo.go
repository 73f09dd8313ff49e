// Package photo is the page of a making's photos: adding them, several at
// once; putting a caption right; taking one away and back; and the files themselves.
//
// A photo is on the disk before the record tells of it, so that no entry is
// without its file. Of several sent together, those that can be read are kept
// whatever the others are. Missing: the time the camera says.
package photo

import (
	"context"
	"crypto/rand"
	"embed"
	"fmt"
	"io"
	"net/http"
	"os"
	"time"

	"vatside/internal/photo"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

//go:embed *.html
var files embed.FS

var template = page.Must(files, "photos.html")

// Studio is what the page asks of the records.
type Studio interface {
	Making(ctx context.Context, id string) (studio.Making, error)
	Events(ctx context.Context, makingID string) ([]studio.Event, error)
	Record(ctx context.Context, makingID string, events ...studio.Event) (studio.State, error)
}

// Photos keeps the files.
type Photos interface {
	Add(ctx context.Context, from io.Reader) (photo.Kept, error)
	Open(hash string) (*os.File, string, error)
	OpenSmall(ctx context.Context, hash string) (*os.File, error)
}

// Page answers for photos.
type Page struct {
	frame  *page.Frame
	studio Studio
	photos Photos
	now    func() time.Time
}

// New returns the pages of photos over the records, the files and the studio's
// clock.
func New(f *page.Frame, s Studio, photos Photos, now func() time.Time) *Page {
	return &Page{f, s, photos, now}
}

// Data is what the template sets.
type Data struct {
	page.Base
	ID, Tag, Paper string
	Album, Away    page.Album     // kept, and taken away
	Says           string         // what was just kept
	Refused        []page.Refused // what was not, each by the name of its file
}

// Show shows all photos of a making.
func (p *Page) Show(w http.ResponseWriter, r *http.Request) error {
	return p.show(w, r, http.StatusOK, kept(r.URL.Query().Get("kept")), nil)
}

func (p *Page) show(w http.ResponseWriter, r *http.Request, status int, says string, refused []page.Refused) error {
	m, err := p.studio.Making(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	events, err := p.studio.Events(r.Context(), m.ID)
	if err != nil {
		return err
	}
	base, err := p.frame.Base(w, r, "Photos of "+m.PaperName+", "+m.Tag, page.Makings)
	if err != nil {
		return err
	}
	base.Back = "/makings/" + m.ID + "/photos"
	seen := studio.Replay(m, events).Photos
	album := page.Photos(m.ID, seen, p.now(), 0)
	album.Form, album.Limits = rand.Text(), photo.Formats()
	return template.Write(w, status, Data{Base: base, ID: m.ID, Tag: m.Tag, Paper: m.PaperName, Album: album, Away: page.Photos(m.ID, away(events, seen), p.now(), 0), Says: says, Refused: refused})
}

// kept says how many photos were just kept; what is no number says nothing.
func kept(n string) string {
	switch n {
	case "":
		return ""
	case "1":
		return "The photo is kept."
	}
	var count int
	if _, err := fmt.Sscanf(n, "%d", &count); err != nil || count < 2 {
		return ""
	}
	return fmt.Sprintf("%d photos are kept.", count)
}
