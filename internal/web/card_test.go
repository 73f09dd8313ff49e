package web_test

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"
)

// The code on the printed card, read off the page as a camera would, leads to
// the making; the tag stands beside it in letters.
func TestTheCodeOnTheCardLeadsToTheMaking(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	for _, paper := range []string{"a4", "letter"} {
		card := a.get("/makings/" + m.ID + "/card.pdf?paper=" + paper)
		if card.code != http.StatusOK {
			t.Fatalf("status %d", card.code)
		}
		file := filepath.Join(t.TempDir(), "card.pdf")
		if err := os.WriteFile(file, []byte(card.raw), 0o600); err != nil {
			t.Fatal(err)
		}
		link, err := url.Parse(scanned(t, file))
		if err != nil || link.Host != own || link.Scheme != "http" {
			t.Fatalf("the code holds %q, %v; want an address at %s", link, err, own)
		}
		if to := a.get(link.RequestURI()).to(); to != "/makings/"+m.ID {
			t.Errorf("%s: the code leads to %q, want the making", link, to)
		}
		if text := run(t, "pdftotext", "-l", "1", file, "-"); !strings.Contains(string(text), m.Tag) {
			t.Errorf("the tag %s is not printed in letters", m.Tag)
		}
	}
}

// What is written on the card is asked for by the record, in the card's words
// and in its order.
func TestTheRecordAsksWhatTheCardHasBlanksFor(t *testing.T) {
	t.Parallel()
	a, m := begun(t)
	file := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(file, []byte(a.get("/makings/"+m.ID+"/card.pdf?paper=a4").raw), 0o600); err != nil {
		t.Fatal(err)
	}
	card := strings.ToLower(string(run(t, "pdftotext", "-raw", file, "-")))
	form := strings.ToLower(a.get("/makings/" + m.ID + "/record").raw)
	for _, blanks := range [][]string{
		{"fibre weighed out", "they weighed", "room humidity", "how many sheets"},
		{"pulled on", "stock left", "dry, long", "dry, short", "they weigh, dry", "room humidity", "dry sheets weighed", "good", "retree", "broken", "broke"},
		{"caliper", "readings", "diagonals", "one", "the other", "long side", "short side"},
		{"the hand says", "handle", "rattle", "tooth"},
	} {
		inCard, inForm := card, form
		for _, blank := range blanks {
			_, after, ok := strings.Cut(inCard, blank)
			if !ok {
				t.Errorf("the card has no blank %q there", blank)
			}
			inCard = after
			if _, after, ok = strings.Cut(inForm, ">"+blank); !ok {
				t.Errorf("the record does not ask %q there", blank)
			}
			inForm = after
		}
	}
}

// scanned is what the code at the top right of the first page holds.
func scanned(t *testing.T, file string) string {
	t.Helper()
	page, err := png.Decode(bytes.NewReader(run(t, "pdftoppm", "-r", "300", "-png", "-singlefile", file)))
	if err != nil {
		t.Fatal(err)
	}
	b := page.Bounds()
	corner := image.NewGray(image.Rect(0, 0, b.Dx()/4, b.Dx()/4))
	draw.Draw(corner, corner.Bounds(), page, image.Pt(b.Max.X-b.Dx()/4, 0), draw.Src)
	text, err := goqr.Decode(corner)
	if err != nil {
		t.Fatalf("the code cannot be read: %v", err)
	}
	return text
}

// run runs a reader of PDFs; where it is not installed the test is skipped.
func run(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	program, err := exec.LookPath(name)
	if err != nil {
		t.Skip(name + " is not installed")
	}
	out, err := exec.CommandContext(t.Context(), program, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return out
}
