package web_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"vatside/internal/studio"
)

// sendSheet chooses a file on the page, as a browser sends it.
func (a *aStudio) sendSheet(name string, content []byte) sheet {
	a.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	p, err := w.CreateFormFile("file", name)
	if err != nil {
		a.t.Fatal(err)
	}
	p.Write(content) //nolint:errcheck // to memory
	w.Close()        //nolint:errcheck // to memory
	r := httptest.NewRequest("POST", "/intake", &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// writeDown presses the button and waits until it is written.
func (a *aStudio) writeDown(at string) sheet {
	a.t.Helper()
	s := a.post(at+"/write", url.Values{})
	for s.code == http.StatusSeeOther && s.to() == at {
		time.Sleep(50 * time.Millisecond)
		s = a.get(at)
	}
	return s
}

const invented = "Day it was,Paper,Fibre,gsm,How many,Sheet wt (g),Weather\n" +
	"3/5/2019,Heron <text>,abaca,100,60,12.4,wet\n14/5/2019,Heron <text>,abaca,approx 100,2-3,12.5,\nnever,Heron <text>,abaca,100,,,\n"

// A notebook from the file to the makings, its columns put right on the way,
// and back.
func TestTakingASheetIn(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.firstEvening()
	if href := a.get("/makings").Find(`a[href="/intake"]`); href.Length() != 1 {
		t.Error("the makings have no way to take a sheet in")
	}
	sent := a.sendSheet("notebook.csv", []byte(invented))
	if sent.code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", sent.code, sent.text("main"))
	}
	at := sent.to()
	look := a.get(at)
	if got := look.text(".wrong-summary"); !strings.Contains(got, "No column holds the day") {
		t.Errorf("with a heading nobody knows it says %q", got)
	}
	form := filled(look)
	form.Set("field-0", "date")
	form.Set("field-4", "pulled")
	if s := a.post(at, form); s.to() != at+"#would" {
		t.Fatalf("status %d, on to %q", s.code, s.to())
	}
	look = a.get(at)
	if got := look.text("#would .lead"); got != "2 will be added, 1 cannot be read." {
		t.Errorf("it would do: %q", got)
	}
	if got := look.text("#would"); !strings.Contains(got, "“2-3” is read as its middle") || !strings.Contains(got, `"never" is not a day`) || !strings.Contains(got, "A4") {
		t.Errorf("it says %q", got)
	}
	if list, err := a.records.Imports(t.Context()); err != nil || len(list) != 0 {
		t.Errorf("looking wrote something: %v, %v", list, err)
	}
	done := a.writeDown(at)
	start := a.follow(done)
	if got := start.text("[role=status]"); !strings.Contains(got, "2 makings added") {
		t.Errorf("written, it says %q", got)
	}
	makings, err := a.records.Makings(t.Context(), studio.MakingFilter{})
	if err != nil || len(makings) < 2 {
		t.Fatalf("%d makings, %v", len(makings), err)
	}
	for _, m := range makings { // every page of a past making can be read
		for _, page := range []string{"", "/record", "/beating", "/trouble", "/photos", "/again", "/card.pdf"} {
			if got := a.get("/makings/" + m.ID + page); got.code != http.StatusOK {
				t.Errorf("%s%s: status %d", m.PaperName, page, got.code)
			}
		}
	}
	// Once more: it is read as before, and all is there.
	again := a.follow(a.sendSheet("notebook.csv", []byte(invented)))
	if got := again.text("#would .lead"); got != "2 there already, 1 cannot be read." {
		t.Errorf("the same again would do: %q", got)
	}
	undo := start.Find(`a[href^="/intake?undo="]`).AttrOr("href", "")
	sure := a.get(undo)
	action := sure.Find("form.body.opening").First().AttrOr("action", "")
	back := a.follow(a.post(action, url.Values{}))
	if got := back.text("[role=status]"); !strings.Contains(got, "Undone") {
		t.Errorf("undone, it says %q", got)
	}
	if left, err := a.records.Makings(t.Context(), studio.MakingFilter{}); err != nil || len(left) != len(makings)-2 {
		t.Errorf("%d makings are left of %d, %v", len(left), len(makings), err)
	}
}

// The whole studio can be saved as one file.
func TestHandingOut(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.aMaking()
	if href := a.get("/intake").Find("a[download]").AttrOr("href", ""); href != "/intake/studio.zip" {
		t.Errorf("it is saved from %q", href)
	}
	s := a.get("/intake/studio.zip")
	z, err := zip.NewReader(strings.NewReader(s.raw), int64(len(s.raw)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, path.Base(f.Name))
	}
	for _, want := range []string{"makings.csv", "events.csv", "studio.xlsx", "README.txt"} {
		if !slices.Contains(names, want) {
			t.Errorf("%s is not in it: %q", want, names)
		}
	}
}

// What cannot be taken is refused at the field, in a sentence.
func TestSheetsRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	for name, content := range map[string]string{"empty.csv": "\n\n", "photo.xlsx": "\x89PNG\x00\x00", "broken.xlsx": "PK\x03\x04 and no more"} {
		s := a.sendSheet(name, []byte(content))
		if s.code != http.StatusUnprocessableEntity || s.text("#f-file-error") == "" {
			t.Errorf("%s: status %d, %q", name, s.code, s.text("#f-file-error"))
		}
	}
	large := a.sendSheet("large.csv", bytes.Repeat([]byte("a,b\n"), 14<<20))
	if large.code < 400 || !strings.Contains(large.text("#f-file-error"), "50 MB") {
		t.Errorf("too large: status %d, %q", large.code, large.text("main"))
	}
	if s := a.get("/intake/gone"); s.code != http.StatusNotFound || !strings.Contains(s.text("main"), "choose it again") {
		t.Errorf("a file that is gone: status %d, %q", s.code, s.text("main"))
	}
	for i := range 6 { // the tray holds four
		if s := a.sendSheet(fmt.Sprintf("%d.csv", i), []byte(invented)); s.code != http.StatusSeeOther {
			t.Errorf("file %d: status %d", i, s.code)
		}
	}
}

// sendWhole sends a packed studio as a browser does.
func (a *aStudio) sendWhole(content []byte) sheet {
	a.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	p, err := w.CreateFormFile("whole", "studio.zip")
	if err != nil {
		a.t.Fatal(err)
	}
	p.Write(content) //nolint:errcheck // to memory
	w.Close()        //nolint:errcheck // to memory
	r := httptest.NewRequest("POST", "/intake/whole", &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return a.do(r)
}

// A studio saved as a whole becomes an empty one, with its photos and its
// sheets on the shelf; where there are records already the page says what to do
// and changes nothing.
func TestTakingAWholeStudioIn(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	a.write(m.ID, "sorted", studio.Post{Post: 1, Pulled: 30}, studio.WeighedDry{Sheets: 10, Grams: 63, RHPct: 50}, studio.Graded{Good: 24})
	shelf := a.post("/makings/"+m.ID+"/keep", url.Values{"form": {"sheets"}}).to()
	a.sendPhotos("/makings/"+m.ID+"/photos", "one", "a blue sheet", upload{"a.jpg", picture(t, 90, "jpeg")})
	packed := []byte(a.get("/intake/studio.zip").raw)

	empty := newStudio(t)
	if empty.get("/intake").Find("#f-whole").Length() != 1 {
		t.Fatal("an empty studio takes no whole one in")
	}
	if s := empty.sendWhole(packed); s.to() != "/" {
		t.Fatalf("%d: %s", s.code, s.text("#f-whole-error"))
	}
	if s := empty.get(shelf); s.text("h1") != "24 sheets" {
		t.Errorf("the sheets on the shelf: %d %q", s.code, s.text("h1"))
	}
	made := empty.get("/makings/" + m.ID)
	src, _ := made.Find(".photo img").Attr("src")
	if photo := empty.get(src); photo.code != http.StatusOK {
		t.Errorf("the photo %q: %d", src, photo.code)
	}
	if s := empty.get("/makings?colour=blue"); s.Find("a.line").Length() != 1 {
		t.Errorf("the making is not found by a caption: %q", s.text(".error"))
	}
	if s := empty.get("/"); s.code != http.StatusOK {
		t.Errorf("the bench: %d", s.code)
	}

	was := a.get("/store").text(".card")
	if s := a.sendWhole(packed); s.code != http.StatusUnprocessableEntity || !strings.Contains(s.text("#f-whole-error"), "--data") || s.Find("#f-whole").Length() != 0 {
		t.Errorf("into a studio that holds records: %d %q", s.code, s.text("#f-whole-error"))
	}
	if a.get("/store").text(".card") != was {
		t.Error("a refused studio changed the shelf")
	}
}

// What is no whole studio is refused in a sentence, writes nowhere but in its
// own folder, and leaves the studio empty.
func TestWholeStudiosRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	packed := func(files ...string) []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for _, name := range files {
			out, err := z.Create(name)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintln(out, "id,nothing") //nolint:errcheck // to memory
		}
		z.Close() //nolint:errcheck // to memory
		return b.Bytes()
	}
	good := packed("out/makings.csv")
	for name, content := range map[string][]byte{
		"no zip": []byte("a letter"), "empty": packed(), "other files": packed("out/notes.csv"), "without its folder": packed("makings.csv"),
		"out of its folder": packed("out/../../../makings.csv", "out//etc/makings.csv"), "named twice": packed("out/makings.csv", "out/makings.csv"),
		"cut": good[:len(good)/2], "of another kind": good,
	} {
		s := a.sendWhole(content)
		if s.code != http.StatusUnprocessableEntity || s.text("#f-whole-error") == "" {
			t.Errorf("%s: %d %q", name, s.code, s.text("#f-whole-error"))
		}
	}
	if list, err := a.records.Makings(t.Context(), studio.MakingFilter{}); err != nil || len(list) > 0 {
		t.Errorf("%d makings, %v", len(list), err)
	}
}
