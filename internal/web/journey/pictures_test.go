package journey_test

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"

	"vatside/internal/testkit/browser"
)

// TestPictures writes pictures of the pages to the folder the variable names,
// for eyes to judge.
func TestPictures(t *testing.T) {
	dir := os.Getenv("VATSIDE_PICTURES")
	if dir == "" {
		t.Skip("only where VATSIDE_PICTURES names a folder")
	}
	s, b := serve(t), browser.Start(t)
	take := func(name string) {
		for _, width := range []int{390, 820, 1440} {
			for _, scheme := range []browser.Scheme{browser.Light, browser.Dark} {
				if scheme == browser.Dark && width == 820 {
					continue
				}
				file := filepath.Join(dir, name+"-"+strconv.Itoa(width)+"-"+string(scheme)+".png")
				if err := os.WriteFile(file, b.Screenshot(width, scheme), 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	empty := map[string]string{"papers": "empty-papers", "makings": "empty-makings", "studio": "empty-studio", "knows": "empty-knows"}
	for p, name := range empty {
		b.Open(s.url + "/" + p)
		take(name)
	}
	m := s.making()
	b.Open(s.url + "/makings/" + m.ID)
	take("making-begun")
	b.Open(s.url + "/makings/" + m.ID + "/record")
	take("record")
	fill(b, "post-1-kissed", "2")
	fill(b, "test-1-grams", "3 cups")
	fill(b, "size-1-long", "419")
	click(b, ".finish .act", ".wrong-summary")
	take("record-refused")
	s.recorded(m)
	for name, p := range map[string]string{"making": "/makings/" + m.ID, "makings": "/makings", "record-again": "/makings/" + m.ID + "/record",
		"papers": "/papers", "paper": "/papers/" + m.PaperID, "paper-edit": "/papers/" + m.PaperID + "/edit", "studio": "/studio", "knows": "/knows",
		"handbook": "/handbook", "formula": "/handbook/formulas/vat.Consistency?system=metric&g=100&h=20", "sources": "/handbook/sources"} {
		b.Open(s.url + p)
		take(name)
	}
	b.Print()
	b.Open(s.url + "/makings/" + m.ID)
	take("making-printed")
	open(b, s.url+"/papers/"+m.PaperID+"/edit")
	pa := present(s, m.PaperID)
	pa.Design.GrammageConditioned = 110
	if _, err := s.records.SavePaper(t.Context(), pa); err != nil {
		t.Fatal(err)
	}
	fill(b, "grammage", "90")
	click(b, ".finish .act", ".conflict")
	take("conflict")
	b.Open(s.url + "/studio")
	unfold(b)
	fill(b, "rh", "140")
	click(b, ".finish .act", ".wrong-summary")
	take("studio-refused")
	b.Open(s.url + "/knows")
	b.Do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("#number-0 details, #number-1 details").forEach(d => d.open = true)`))
	take("knows-open")
}
