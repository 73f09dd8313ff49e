package web_test

import (
	"bytes"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/photo"
	"vatside/internal/web"
)

// What is sent and ends before its end is told plainly, wherever files are
// taken, and nothing of it is kept.
func TestUploadCutOff(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	file := a.get("/copies/now")
	for _, c := range []struct {
		to, field, name string
		content         []byte
	}{
		{"/intake", "file", "notebook.csv", []byte(strings.Repeat(invented, 50))},
		{"/copies/file", "file", "studio.zip", []byte(file.raw)},
		{making + "/photos", "photo", "a.jpg", picture(t, 90, "jpeg")},
	} {
		var b bytes.Buffer
		w := multipart.NewWriter(&b)
		p, err := w.CreateFormFile(c.field, c.name)
		if err != nil {
			t.Fatal(err)
		}
		p.Write(c.content) //nolint:errcheck // to memory
		w.Close()          //nolint:errcheck // to memory
		whole := b.Bytes()
		for what, body := range map[string]io.Reader{
			"half":        bytes.NewReader(whole[:len(whole)/2]),
			"a slow line": io.MultiReader(bytes.NewReader(whole[:len(whole)/2]), late{}),
			"no end":      bytes.NewReader(whole[:len(whole)-len(w.Boundary())]),
		} {
			r := httptest.NewRequest("POST", c.to, body)
			r.Header.Set("Content-Type", w.FormDataContentType())
			r.Header.Set("Sec-Fetch-Site", "same-origin")
			if s := a.do(r); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("main"), "did not arrive whole") {
				t.Errorf("%s, %s: status %d, %s", c.to, what, s.code, s.text("main"))
			}
		}
	}
	if n := a.get(making).Find("figure.photo").Length(); n != 0 {
		t.Errorf("%d photos are kept", n)
	}
}

// late is a body that waits longer than it is waited for.
type late struct{}

func (late) Read([]byte) (int, error) { return 0, os.ErrDeadlineExceeded }

// A download that fails in its midst breaks off, so that no half file passes
// for a whole one, and the log tells why.
func TestDownloadCutOff(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "photos")
	if err := os.WriteFile(dir, []byte("no folder"), 0o600); err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	s, server := start(t, web.Config{Now: func() time.Time { return morning }, Photos: photo.In(dir), Log: slog.New(slog.NewTextHandler(&log, nil))})
	a := &aStudio{t: t, records: s, handler: server.Handler(), cookies: map[string]string{}, lang: "en-GB"}
	a.aMaking()
	ts := httptest.NewServer(server.Handler())
	defer ts.Close()
	r, err := http.NewRequestWithContext(t.Context(), "GET", ts.URL+"/intake/studio.zip", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Host = own
	answer, err := ts.Client().Do(r)
	if err == nil {
		defer answer.Body.Close() //nolint:errcheck // it is read
		_, err = io.Copy(io.Discard, answer.Body)
	}
	if err == nil {
		t.Errorf("half a file arrived as a whole one, status %d", answer.StatusCode)
	}
	if !strings.Contains(log.String(), "level=ERROR msg=download") {
		t.Errorf("the log says %s", log.String())
	}
}
