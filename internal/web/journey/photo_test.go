package journey_test

import (
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// pictures writes two photos and a file that is none.
func pictures(t *testing.T) (good []string, bad string) {
	t.Helper()
	dir := t.TempDir()
	for i, name := range []string{"first.jpg", "second.jpg"} {
		m := image.NewGray(image.Rect(0, 0, 320+i, 240))
		file, err := os.Create(filepath.Join(dir, name))
		if err == nil {
			err = jpeg.Encode(file, m, nil)
		}
		if err != nil {
			t.Fatal(err)
		}
		file.Close()
		good = append(good, file.Name())
	}
	bad = filepath.Join(dir, "letter.jpg")
	if err := os.WriteFile(bad, []byte("no photo at all"), 0o600); err != nil {
		t.Fatal(err)
	}
	return good, bad
}

// Photos are added at the making's page, with script and without, and the pages
// show them; a file that is none is named where the form stands, and the files
// stay chosen.
func TestPhotosAreAdded(t *testing.T) {
	t.Parallel()
	s, b := serve(t), browser.Start(t)
	at := s.url + "/makings/" + s.making().ID
	good, bad := pictures(t)
	for script, file := range good {
		b.WithoutScript(script == 0)
		open(b, at)
		b.Do(chromedp.Click(chromedp.CSS(".fold:has(.add-photos) > summary")), chromedp.WaitVisible(chromedp.CSS("#photo-files")), chromedp.SetUploadFiles(chromedp.CSS("#photo-files"), []string{file}))
		fill(b, "caption", filepath.Base(file))
		b.Do(chromedp.Click(chromedp.CSS(".add-photos button")), chromedp.WaitVisible(chromedp.CSS(".wide-album")))
		if got := text(b, "#photos-said"); !strings.Contains(got, "The photo is kept.") {
			t.Errorf("script %v: %q", script == 1, got)
		}
	}
	b.WithoutScript(false)
	open(b, at)
	if n := browser.Get(b, chromedp.Evaluate[int](`document.querySelectorAll("figure.photo img[alt$='.jpg']").length`)); n != 2 {
		t.Errorf("%d photos stand on the making's page", n)
	}
	if waitFor(t, func() int {
		return browser.Get(b, chromedp.Evaluate[int](`[...document.querySelectorAll("figure.photo img")].filter(i => { i.loading = "eager"; return i.complete && i.naturalWidth > 0 }).length >> 1`))
	}) == 0 {
		t.Error("the pictures of two photos do not load")
	}
	b.Do(chromedp.Click(chromedp.CSS(".fold:has(.add-photos) > summary")), chromedp.WaitVisible(chromedp.CSS("#photo-files")),
		chromedp.SetUploadFiles(chromedp.CSS("#photo-files"), []string{bad}), chromedp.Click(chromedp.CSS(".add-photos button")),
		chromedp.WaitVisible(chromedp.CSS(".photos-why .wrong-summary")))
	if got := text(b, ".photos-why"); !strings.Contains(got, "letter.jpg") || !strings.Contains(got, "no photo") {
		t.Errorf("what is no photo: %q", got)
	}
	if n := browser.Get(b, chromedp.Evaluate[int](`document.querySelector("#photo-files").files.length`)); n != 1 {
		t.Errorf("%d files stay chosen", n)
	}
}
