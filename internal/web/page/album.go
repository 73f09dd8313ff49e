package page

import (
	"slices"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Album is photos of a making, the newest first, and what the form needs that
// adds some.
type Album struct {
	Making string // id
	Photos []Photo
	More   int // further ones that are not shown

	Form   string // what the entries' ids are made from
	Limits string // the formats taken, and how large
}

// Photo is one photo on a page.
type Photo struct {
	Hash, Event   string
	Alt           string // never empty
	Caption, When string
	Width, Height int
}

// Refused is a file that was not kept, and why.
type Refused struct{ File, Text string }

// Photos lists a making's photos, at most so many; 0: all of them.
func Photos(making string, seen []studio.PhotoSeen, now time.Time, most int) Album {
	a := Album{Making: making}
	for _, s := range slices.Backward(seen) {
		if most > 0 && len(a.Photos) == most {
			a.More++
			continue
		}
		at := s.At.In(now.Location())
		p := Photo{Hash: s.Hash, Event: s.Event, Alt: s.Caption, Caption: s.Caption, When: part.Moment(s.At, now), Width: s.Width, Height: s.Height}
		if p.Alt == "" {
			p.Alt = "photo of " + at.Format("2 January")
		}
		a.Photos = append(a.Photos, p)
	}
	return a
}
