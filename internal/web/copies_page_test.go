package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
)

// sendFile posts a file as a browser does.
func (a *aStudio) sendFile(to string, content []byte) sheet {
	a.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	p, err := w.CreateFormFile("file", "studio.zip")
	if err != nil {
		a.t.Fatal(err)
	}
	p.Write(content) //nolint:errcheck // to memory
	w.Close()        //nolint:errcheck // to memory
	r := httptest.NewRequest("POST", to, &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// A newcomer makes a copy, loses something, looks into the copy, goes back, and
// takes that back again.
func TestCopiesAndBack(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	photo := picture(t, 90, "jpeg")
	a.sendPhotos(making+"/photos", "one", "kept safe", upload{"a.jpg", photo})
	if got := a.get("/copies").text("h1"); got != "Not copied yet" {
		t.Errorf("before the first copy: %q", got)
	}
	if page := a.follow(a.post("/copies", url.Values{})); !strings.Contains(page.text(".flash"), "was read through") || page.Find(".copy-line").Length() != 1 {
		t.Fatalf("no copy was made: %s", page.text("main"))
	}
	a.sendPhotos(making+"/photos", "two", "after the copy", upload{"b.jpg", picture(t, 30, "jpeg")})
	look := a.get(a.get("/copies").Find(".copy-line a").First().AttrOr("href", ""))
	if got := look.text("h1"); look.code != 200 || got != "1 paper, 1 making" {
		t.Errorf("in the copy: status %d, %q", look.code, got)
	}
	back := a.post(look.Find("form[action$='/restore']").AttrOr("action", ""), url.Values{})
	if page := a.follow(back); back.code != 303 || !strings.Contains(page.text(".flash"), "takes this back") || page.Find(".copy-line").Length() != 2 {
		t.Fatalf("going back: status %d, %s", back.code, page.text("main"))
	}
	if n := a.get(making).Find("figure.photo").Length(); n != 1 {
		t.Errorf("%d photos after going back, want the one of the copy", n)
	}
	undo := a.get("/copies").Find(".copy-line a").First().AttrOr("href", "")
	a.post(undo+"/restore", url.Values{})
	if n := a.get(making).Find("figure.photo").Length(); n != 2 {
		t.Errorf("%d photos after taking it back, want both", n)
	}
}

// One file carries the studio into another program: shown first, then taken.
func TestStudioByFile(t *testing.T) {
	t.Parallel()
	a, b := newStudio(t), newStudio(t)
	making := a.aMaking()
	photo := picture(t, 90, "jpeg")
	a.sendPhotos(making+"/photos", "one", "carried", upload{"a.jpg", photo})
	file := a.get("/copies/now")
	if file.head.Get("Content-Type") != "application/zip" || !strings.Contains(file.head.Get("Content-Disposition"), "studio-2030-05-03.zip") {
		t.Fatalf("no file: %v", file.head)
	}
	b.firstEvening()
	sent := b.sendFile("/copies/file", []byte(file.raw))
	look := b.follow(sent)
	if sent.code != 303 || look.text("h1") != "1 paper, 1 making" || b.get(making).code != 404 {
		t.Fatalf("status %d, %q", sent.code, look.text("h1"))
	}
	b.post(look.Find("form[action$='/restore']").AttrOr("action", ""), url.Values{})
	if page := b.get(making); page.code != 200 || page.Find("img[alt=carried]").Length() != 1 {
		t.Errorf("the making did not come: status %d", page.code)
	}
	if got := b.get("/photos/" + hexOf(photo)); got.raw != string(photo) {
		t.Errorf("the photo did not come: status %d", got.code)
	}
	if got := b.get("/photos/" + hexOf(photo) + "/small"); got.code != 200 {
		t.Errorf("its small picture: status %d", got.code)
	}
	for name, content := range map[string]string{"half": file.raw[:len(file.raw)/2], "words": "no studio", "empty": ""} {
		page := a.sendFile("/copies/file", []byte(content))
		if page.code != 422 || !strings.Contains(page.text(".wrong-summary"), "Nothing was changed") || a.get(making).code != 200 {
			t.Errorf("%s: status %d: %s", name, page.code, page.text(".wrong-summary"))
		}
	}
	for _, path := range []string{"/copies/x", "/copies/..%2fstudio.vatside", "/copies/20300503T090000.000Z-daily.vatside/file"} {
		if page := a.get(path); page.code != 404 {
			t.Errorf("%s: status %d", path, page.code)
		}
	}
}

// While the studio goes back, pages are read and forms are sent, and every one
// is answered.
func TestPagesWhileGoingBack(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	making := a.aMaking()
	a.post("/copies", url.Values{})
	copyAt := a.get("/copies").Find(".copy-line a").First().AttrOr("href", "")
	stop := make(chan struct{})
	var wait sync.WaitGroup
	for range 3 {
		wait.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				r := httptest.NewRequest("GET", making, nil)
				r.Host = own
				w := httptest.NewRecorder()
				a.handler.ServeHTTP(w, r)
				if w.Code != 200 {
					t.Errorf("a page meanwhile: status %d", w.Code)
				}
			}
		})
	}
	for range 3 {
		if back := a.post(copyAt+"/restore", url.Values{}); back.code != 303 {
			t.Errorf("going back: status %d", back.code)
		}
	}
	close(stop)
	wait.Wait()
}
