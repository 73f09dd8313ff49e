package photo

import (
	"net/http"
	"os"
	"time"
)

// forGood tells a browser to keep a file: under its hash it never changes. Only
// this browser, for a photo is the studio's own.
const forGood = "private, max-age=31536000, immutable"

// File answers with a photo as it came.
func (p *Page) File(w http.ResponseWriter, r *http.Request) error {
	file, mime, err := p.photos.Open(r.PathValue("hash"))
	if err != nil {
		return err
	}
	return send(w, r, file, mime)
}

// Small answers with the small picture.
func (p *Page) Small(w http.ResponseWriter, r *http.Request) error {
	file, err := p.photos.OpenSmall(r.Context(), r.PathValue("hash"))
	if err != nil {
		return err
	}
	return send(w, r, file, "image/jpeg")
}

// send answers with a file, in pieces where they are asked for.
func send(w http.ResponseWriter, r *http.Request, file *os.File, mime string) error {
	defer file.Close() //nolint:errcheck // it is only read
	h := w.Header()
	h.Set("Content-Type", mime)
	h.Set("Cache-Control", forGood)
	h.Set("ETag", `"`+r.URL.Path+`"`)
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	http.ServeContent(w, r, "", time.Time{}, file)
	return nil
}
