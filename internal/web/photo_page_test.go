package web_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"mime/multipart"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/photo"
	"vatside/internal/studio"
	"vatside/internal/web"
)

// picture is a small photo of one grey, as JPEG or PNG.
func picture(t *testing.T, grey uint8, as string) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 60, 40))
	for i := range m.Pix {
		m.Pix[i] = grey
	}
	m.SetGray(1, 1, color.Gray{0})
	var b bytes.Buffer
	var err error
	if as == "png" {
		err = png.Encode(&b, m)
	} else {
		err = jpeg.Encode(&b, m, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

type upload struct {
	name    string
	content []byte
}

// sendPhotos posts the form of photos as a browser does.
func (a *aStudio) sendPhotos(to, form, caption string, files ...upload) sheet {
	a.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	w.WriteField("form", form)       //nolint:errcheck // to memory
	w.WriteField("caption", caption) //nolint:errcheck // to memory
	for _, f := range files {
		p, err := w.CreateFormFile("photo", f.name)
		if err != nil {
			a.t.Fatal(err)
		}
		p.Write(f.content) //nolint:errcheck // to memory
	}
	w.Close() //nolint:errcheck // to memory
	r := httptest.NewRequest("POST", to, &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// aMaking starts a making and returns its address.
func (a *aStudio) aMaking() string {
	a.t.Helper()
	a.firstEvening()
	list, err := a.records.Briefs(a.t.Context(), studio.BriefFilter{})
	if err != nil || len(list) == 0 {
		a.t.Fatalf("no brief: %v", err)
	}
	if got := a.post("/briefs/"+list[0].ID+"/makings", url.Values{}); got.code >= 400 {
		a.t.Fatalf("a making was not started: %d", got.code)
	}
	makings, err := a.records.Makings(a.t.Context(), studio.MakingFilter{})
	if err != nil || len(makings) == 0 {
		a.t.Fatalf("no making: %v", err)
	}
	return "/makings/" + makings[0].ID
}

func TestPhotosOfAMaking(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	if form := a.get(making).Find("form[data-photos]"); form.AttrOr("enctype", "") != "multipart/form-data" || form.AttrOr("action", "") != making+"/photos" {
		t.Fatal("the making's page has no form for photos")
	}
	if input := a.get(making).Find("input[type=file]"); input.AttrOr("capture", "none") != "none" || input.AttrOr("accept", "") != "image/*" {
		t.Error("the file input forces the camera, or does not ask for pictures")
	}
	first, second := picture(t, 90, "jpeg"), picture(t, 200, "png")
	sent := a.sendPhotos(making+"/photos", "one", "the post, <pressed>", upload{"a.jpg", first}, upload{"b.png", second})
	if sent.code != 303 {
		t.Fatalf("status %d: %s", sent.code, sent.text("main"))
	}
	shown := a.follow(sent)
	if got := shown.text("[role=status]"); got != "2 photos are kept." || shown.Find("figure.photo").Length() != 2 {
		t.Errorf("after sending: %q, %d photos", got, shown.Find("figure.photo").Length())
	}
	again := a.sendPhotos(making+"/photos", "one", "the post, <pressed>", upload{"a.jpg", first}, upload{"b.png", second})
	if n := a.follow(again).Find("figure.photo").Length(); again.code != 303 || n != 2 {
		t.Errorf("sent twice, status %d, %d photos", again.code, n)
	}
	page := a.get(making)
	if n := page.Find("#photos ~ .main figure.photo img[alt='the post, <pressed>'][loading=lazy]").Length(); n != 2 {
		t.Errorf("%d photos stand on the making's page", n)
	}
	if got := page.text(".history"); !strings.Contains(got, "Photo: the post, <pressed>") {
		t.Errorf("the history does not tell of the photos: %s", got)
	}
	hash := hexOf(first)
	for path, want := range map[string]string{"/photos/" + hash: "image/jpeg", "/photos/" + hash + "/small": "image/jpeg", "/photos/" + hexOf(second): "image/png"} {
		file := a.get(path)
		if file.code != 200 || file.head.Get("Content-Type") != want || file.head.Get("X-Content-Type-Options") != "nosniff" ||
			!strings.Contains(file.head.Get("Cache-Control"), "immutable") {
			t.Errorf("%s: status %d, head %v", path, file.code, file.head)
		}
	}
	if file := a.get("/photos/" + hash); file.raw != string(first) {
		t.Error("the photo is not as it came")
	}
	for _, path := range []string{"/photos/" + strings.Repeat("0", 64), "/photos/x", "/photos/x/small", "/photos/..%2fstudio.vatside"} {
		if file := a.get(path); file.code != 404 || strings.Contains(file.head.Get("Cache-Control"), "immutable") {
			t.Errorf("%s: status %d, kept %q", path, file.code, file.head.Get("Cache-Control"))
		}
	}
}

func hexOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// Of several files those that can be read are kept, and of the others it is
// said why not.
func TestPhotosRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	good := picture(t, 120, "jpeg")
	page := a.sendPhotos(making+"/photos", "one", "", upload{"good.jpg", good}, upload{"cut.jpg", good[:len(good)/2]}, upload{"letter.txt", []byte("not a photo at all")},
		upload{"phone.heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic")})
	said := page.text(".wrong-summary")
	if page.code != 422 || page.Find("figure.photo").Length() != 1 || page.text(".lead") != "The photo is kept." {
		t.Errorf("status %d, %d photos, %q", page.code, page.Find("figure.photo").Length(), page.text(".lead"))
	}
	for _, want := range []string{"3 files were not kept", "cut.jpg: This JPEG file is damaged", "letter.txt: This is no photo", "phone.heic: "} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
	if page := a.sendPhotos(making+"/photos", "two", ""); page.code != 422 || !strings.Contains(page.text(".wrong-summary"), "Choose at least one") {
		t.Errorf("nothing chosen: status %d", page.code)
	}
	if page := a.sendPhotos("/makings/zzz/photos", "three", "", upload{"a.jpg", good}); page.code != 404 {
		t.Errorf("no such making: status %d", page.code)
	}
	if page := a.post(making+"/photos", url.Values{"caption": {"x"}}); page.code != 422 {
		t.Errorf("no form of files: status %d", page.code)
	}
	if page := a.sendPhotos(making+"/photos", "four", strings.Repeat("long ", 100), upload{"a.jpg", good}); page.code != 422 {
		t.Errorf("a caption of 500 letters: status %d", page.code)
	}
}

// A caption is put right and a photo taken away, and put back as it was; the
// history keeps all.
func TestPhotosChanged(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	a.sendPhotos(making+"/photos", "one", "", upload{"a.jpg", picture(t, 60, "jpeg")})
	if alt := a.get(making).Find("figure.photo img").AttrOr("alt", ""); alt != "photo of 3 May" {
		t.Errorf("without a caption the photo is called %q", alt)
	}
	form := func() url.Values {
		return url.Values{"entry": {a.get(making+"/photos").Find("form input[name=entry]").AttrOr("value", "")}}
	}
	f := form()
	f.Set("caption", "first sheet")
	f.Set("do", "caption")
	if got := a.post(making+"/photos/change", f); got.code != 303 || a.get(making).Find("figure.photo img[alt='first sheet']").Length() != 1 {
		t.Errorf("caption: status %d", got.code)
	}
	f = form()
	f.Set("do", "away")
	if got := a.post(making+"/photos/change", f); got.code != 303 || a.get(making).Find("figure.photo").Length() != 0 {
		t.Errorf("taken away: status %d", got.code)
	}
	if got := a.get(making).text(".history"); !strings.Contains(got, "Photo: first sheet") || !strings.Contains(got, "taken back") {
		t.Errorf("history: %s", got)
	}
	if got := a.post(making+"/photos/change", f); got.code != 404 {
		t.Errorf("taken away twice: status %d", got.code)
	}
	page := a.get(making + "/photos")
	f = url.Values{"entry": {page.Find("details form input[name=entry]").AttrOr("value", "")}, "do": {page.Find("details form button[name=do]").AttrOr("value", "")}}
	for range 2 { // and the same once more
		if got := a.post(making+"/photos/change", f); got.code != 303 || a.get(making).Find("figure.photo img[alt='first sheet']").Length() != 1 {
			t.Errorf("put back: status %d", got.code)
		}
		if page := a.get(making + "/photos"); page.Find("details form").Length() != 0 {
			t.Error("what is back is told to be away")
		}
		if got := a.post(making+"/photos/change", f); got.code != 404 {
			t.Errorf("put back twice: status %d", got.code)
		}
		a.post(making+"/photos/change", url.Values{"entry": {f.Get("entry")}, "do": {"away"}})
	}
}

// Where the folder cannot be written, nothing is written down: no entry is
// without its file.
func TestNoEntryWithoutItsFile(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "photos")
	if err := os.WriteFile(dir, []byte("in the way"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, server := start(t, web.Config{Now: func() time.Time { return morning }, Photos: photo.In(dir)})
	a := &aStudio{t: t, records: s, handler: server.Handler(), cookies: map[string]string{}, lang: "en-GB"}
	making := a.aMaking()
	if page := a.sendPhotos(making+"/photos", "one", "", upload{"a.jpg", picture(t, 60, "jpeg")}); page.code != 500 {
		t.Errorf("status %d", page.code)
	}
	if n := a.get(making).Find("figure.photo").Length(); n != 0 {
		t.Errorf("%d entries without a file", n)
	}
}
