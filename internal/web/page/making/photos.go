package making

import (
	"crypto/rand"
	"time"

	"vatside/internal/photo"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// mostShown is how many photos stand on a making's own page; ours: two rows.
const mostShown = 6

// album is the newest photos and the form that adds some.
func album(id string, st studio.State, now time.Time) page.Album {
	a := page.Photos(id, st.Photos, now, mostShown)
	a.Form, a.Limits = rand.Text(), photo.Formats()
	return a
}

func photoSaid(b studio.Photo) string {
	if b.Caption == "" {
		return "A photo"
	}
	return "Photo: " + b.Caption
}
