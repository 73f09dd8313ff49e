package paperwork

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	goqr "github.com/piglig/go-qr"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"vatside/internal/typeface"
)

var bothSizes = []Size{A4, Letter}

// stringsOf lists every string in a value, whatever its shape.
func stringsOf(v reflect.Value) []string {
	var out []string
	switch v.Kind() {
	case reflect.String:
		out = append(out, v.String())
	case reflect.Slice:
		for i := range v.Len() {
			out = append(out, stringsOf(v.Index(i))...)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[Card]() || v.Type().PkgPath() == reflect.TypeFor[Card]().PkgPath() {
			for i := range v.NumField() {
				out = append(out, stringsOf(v.Field(i))...)
			}
		}
	}
	return out
}

// notPrinted are the fields that stand on the card in another form: the code
// holds Link, and the count of test sheets is in the heading.
var notPrinted = []string{"http://vatside.local/m/K7-041"}

func TestEveryFieldIsOnTheCard(t *testing.T) {
	t.Parallel()
	for _, paper := range bothSizes {
		for name, c := range map[string]Card{"usual": sampleCard(63, 23), "long": longCard(100, 9), "short posts": sampleCard(40, 8)} {
			_, file := setOpen(t, c, paper)
			shown := textOf(file)
			text := strings.ToLower(plainText(shown))
			for _, s := range stringsOf(reflect.ValueOf(c)) {
				if s == "" || slices.Contains(notPrinted, s) {
					continue
				}
				for _, word := range strings.Fields(strings.ToLower(s)) {
					if !strings.Contains(text, word) && len([]rune(word)) < 30 {
						t.Errorf("%s, %s: %q of %q is not on the card", name, paper.Name, word, s)
					}
				}
			}
			for n := 1; n <= c.Posts[len(c.Posts)-1].Last; n++ {
				if !slices.Contains(shown, strconv.Itoa(n)) {
					t.Errorf("%s, %s: no box for sheet %d", name, paper.Name, n)
				}
			}
		}
	}
}

// Whole phrases survive, not only words, where they are set on one line.
func TestPhrasesByAnotherReader(t *testing.T) {
	t.Parallel()
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed")
	}
	path := filepath.Join(t.TempDir(), "card.pdf")
	var out bytes.Buffer
	c := sampleCard(63, 23)
	if err := c.WritePDF(&out, A4); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	raw, err := exec.Command(reader, "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(raw)), " ")
	for _, want := range []string{"Text for a small edition", "K7-041", "exactly 1166 mL of stock at 30 g/L = 1 full jug", "under 33.6 g", "dry in the stack", "FIRST FILL OF THE VAT", "page 2 of 2", "420 × 297 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the text another program reads", want)
		}
	}
}

// longCard strains every field: long names, six fibres, remarks of two
// hundred letters, a long test table.
func longCard(sheets, perPost int) Card {
	c := sampleCard(sheets, perPost)
	long := strings.TrimSpace(strings.Repeat("Enough water to cover, changed once when it is stained ", 4))[:200]
	c.Paper = "Endpapers of the second state, with the long name that a customer gave them and nobody dared to shorten afterwards"
	c.Use = "endpapers and hinges for a large atlas that is opened every day by people with wet umbrellas"
	c.By, c.For = "Ansel Quill and Theodora Wintergreen-Marchbanks", "the Mirren Bookbinding and Restoration Cooperative"
	c.Furnish = "cotton rag 31 %, abaca 22.5 %, flax 17 %, hemp 12 %, kozo 10 %, yucca leaf 7.5 %; calcium carbonate 3 % on fibre, kaolin 2 % on fibre, pigment 1.25 % on fibre; sized with gelatin; rough finish with tooth"
	c.Decisions[1].Lines = nil
	for i, fibre := range []string{"cotton rag, second cuttings of shirts", "abaca", "flax, retted", "hemp", "kozo", "yucca leaf", "calcium carbonate", "kaolin", "iron oxide pigment"} {
		c.Decisions[1].Lines = append(c.Decisions[1].Lines, DecisionLine{Amount: fmt.Sprintf("%d g", 1000-i*83), What: fibre, Tick: true})
	}
	c.Tests.Rows = nil
	for i := range 17 {
		c.Tests.Rows = append(c.Tests.Rows, TestRow{Range: fmt.Sprintf("%.1f–%.1f g", 28+float64(i), 29+float64(i)), Do: "add 12 ¾ jugs", Exact: "12790 mL"})
	}
	c.Steps[1].Note, c.Steps[6].Note = long, long
	c.Steps[9].Cautions = []string{long}
	c.RestsOn = strings.Repeat("drying shrinkage along the mould measured 3 times; ", 5) + "handbook for 11 others"
	c.Cautions = append(c.Cautions, long)
	return c
}

// A usual card takes two pages up to a hundred sheets. One that strains every
// field at once, more than any plan does, may take a third.
func TestPagesAndEdges(t *testing.T) {
	t.Parallel()
	for _, paper := range bothSizes {
		for _, sheets := range []int{0, 3, 60, 100, 700} {
			for _, perPost := range []int{7, 9, 14, 23, 100, 1000} {
				for name, make := range map[string]func(int, int) Card{"usual": sampleCard, "long": longCard} {
					if perPost > 100 && sheets < 700 || name == "long" && sheets%60 > 0 {
						continue
					}
					c := make(sheets, perPost)
					p, err := c.draw(paper)
					if err != nil {
						t.Fatal(err)
					}
					at := fmt.Sprintf("%s, %s, %d sheets in posts of %d", name, paper.Name, sheets, perPost)
					if len(p.overflow) > 0 {
						t.Errorf("%s: over the edge: %v", at, p.overflow)
					}
					if pages := p.pdf.PageCount(); sheets <= 100 && (name == "usual" && pages > 2 || pages > 3) {
						t.Errorf("%s: %d pages", at, pages)
					}
					if clash := clashes(p.words); len(clash) > 0 {
						t.Errorf("%s: one over another: %v", at, clash)
					}
				}
			}
		}
	}
}

// clashes lists strings that stand in one another. Capitals and figures reach
// capHeight above the baseline; what hangs below it is left out.
func clashes(words []placed) []string {
	var out []string
	for i, a := range words {
		for _, b := range words[i+1:] {
			if a.page != b.page || a.x1 <= b.x0+0.05 || b.x1 <= a.x0+0.05 {
				continue
			}
			topA, topB := a.y-a.pt*mmPerPoint*capHeight, b.y-b.pt*mmPerPoint*capHeight
			if topA < b.y-0.05 && topB < a.y-0.05 {
				out = append(out, fmt.Sprintf("page %d: %q and %q", a.page, a.text, b.text))
			}
		}
	}
	return out
}

func TestACardOfOnePage(t *testing.T) {
	t.Parallel()
	c := sampleCard(9, 9)
	c.Steps, c.Tests, c.Outcomes, c.Recharges, c.Cautions = c.Steps[4:8], TestTable{}, nil, nil, nil
	for _, paper := range bothSizes {
		p, err := c.draw(paper)
		if err != nil {
			t.Fatal(err)
		}
		if p.pdf.PageCount() != 1 || len(p.overflow) > 0 {
			t.Errorf("%s: a small card takes %d pages, over the edge: %v", paper.Name, p.pdf.PageCount(), p.overflow)
		}
	}
}

// figureHeight reads the height of a figure from the typeface itself, in mm
// at a size in points.
func figureHeight(t *testing.T, figure rune, pt float64) float64 {
	t.Helper()
	f, err := sfnt.Parse(typeface.Bold)
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	g, err := f.GlyphIndex(&buf, figure)
	if err != nil {
		t.Fatal(err)
	}
	box, _, err := f.GlyphBounds(&buf, g, fixed.I(1000), font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return float64(box.Max.Y-box.Min.Y) / 64 / 1000 * pt * mmPerPoint
}

// Nine millimetres at two metres is 15 minutes of arc, three times what normal
// sight can just read (5 minutes of arc, ISO 8596; from memory).
func TestTheRuleIsReadFromTwoMetres(t *testing.T) {
	t.Parallel()
	for _, parts := range [][]RulePart{
		{{Number: true, Whole: 3}, {Word: "sheets, then"}, {Number: true, Whole: 1, Quarters: 1}, {Word: "jugs"}},
		{{Number: true, Whole: 12}, {Word: "sheets, then"}, {Number: true, Whole: 10, Quarters: 3}, {Word: "jugs"}},
		{{Number: true, Whole: 120}, {Word: "sheets, then"}, {Number: true, Whole: 110, Quarters: 2}, {Word: "jugs"}},
		{{Number: true, Whole: 1}, {Word: "sheet, then"}, {Number: true, Quarters: 3}, {Word: "jug"}},
	} {
		c := sampleCard(60, 20)
		c.Rule = parts
		p, err := c.draw(A4)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.overflow) > 0 {
			t.Errorf("the rule %v goes over the edge: %v", parts, p.overflow)
		}
		largest := slices.MaxFunc(p.words, func(a, b placed) int { return int(a.pt*100) - int(b.pt*100) })
		if n, err := strconv.Atoi(largest.text); err != nil || n != parts[0].Whole && n != parts[2].Whole && len(largest.text) > 1 {
			t.Errorf("the largest thing on the page is %q, not a figure of the rule", largest.text)
		}
		for _, part := range parts {
			if !part.Number {
				continue
			}
			for _, figure := range figuresOf(part) {
				high := 0.0
				for _, w := range p.words {
					if w.page == 1 && w.text == figure {
						high = max(high, figureHeight(t, rune(figure[0]), w.pt))
					}
				}
				if high < 9 {
					t.Errorf("the figure %s of the rule stands %.1f mm high", figure, high)
				}
			}
		}
	}
}

func figuresOf(part RulePart) []string {
	var out []string
	if part.Whole > 0 {
		out = append(out, strconv.Itoa(part.Whole))
	}
	return append(out, [][]string{nil, {"1", "4"}, {"1", "2"}, {"3", "4"}}[part.Quarters]...)
}

func TestTheCodeReadsBack(t *testing.T) {
	t.Parallel()
	for _, link := range []string{"http://vatside.local/m/K7-041", "http://192.168.178.23:8080/makings/0190f3a2-7c1e-7b44-9a6e-3f1d2c4b5a69", ""} {
		for _, paper := range bothSizes {
			c := sampleCard(12, 12)
			c.Link = link
			p, file := setOpen(t, c, paper)
			img := inkOf(file, paper, p.right-22, p.top-3, 24, 24, 40)
			got, err := goqr.Decode(img)
			if err != nil {
				t.Fatalf("%s: the printed code cannot be read: %v", paper.Name, err)
			}
			if want := c.content(); got != want {
				t.Errorf("%s: the printed code reads %q, want %q", paper.Name, got, want)
			}
		}
	}
}

func TestALinkTooLongForACode(t *testing.T) {
	t.Parallel()
	c := sampleCard(3, 3)
	c.Link = strings.Repeat("x", 5000)
	if err := c.WritePDF(io.Discard, A4); err == nil {
		t.Error("a link of 5000 letters was set as a code")
	}
}

func TestSameCardSameBytes(t *testing.T) {
	t.Parallel()
	c := longCard(100, 12)
	c.By = "Ανθή Σελίδα" // brings the second typeface in
	var a, b bytes.Buffer
	if err := c.WritePDF(&a, Letter); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		b.Reset()
		if err := c.WritePDF(&b, Letter); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Fatal("the same card gave other bytes")
		}
	}
	if !bytes.Contains(a.Bytes(), []byte("(D:20260303080000")) {
		t.Error("the file does not carry the card's own date")
	}
}

func TestTitle(t *testing.T) {
	t.Parallel()
	_, file := setOpen(t, sampleCard(3, 3), A4)
	m := bytes.Index(file, []byte("/Title ("))
	if m < 0 {
		t.Fatal("the file has no title")
	}
	got := strings.ReplaceAll(string(file[m:m+120]), "\x00", "")
	if !strings.Contains(got, "Text for a small edition K7-041") {
		t.Errorf("the title is %q", got)
	}
}

func TestLettersOutsideTheTypeface(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		by    string
		sign  bool
		shown string
	}{
		"Greek":             {"Ανθή Σελίδα", false, "Ανθή Σελίδα"},
		"Cyrillic":          {"Вера Листова", false, "Вера Листова"},
		"Czech":             {"Žofie Příhodná", false, "Žofie Příhodná"},
		"composed":          {"Zoe\u0301", false, "Zoé"},
		"arrow":             {"A → B ✓", false, "A → B ✓"},
		"Japanese":          {"紙 kami", true, "□ kami"},
		"Hebrew":            {"נייר", true, "□□□□"},
		"beyond two bytes":  {"a\U0001F4DCb", true, "a□b"},
		"controls":          {"a\x00\u200bb", false, "ab"},
		"parentheses":       {`a (b) \ c`, false, `a (b) \ c`},
		"not UTF-8":         {"a\xffb", false, "b"},
		"narrow space":      {"12\u202f000", false, "12 000"},
		"micro and a prime": {"5 µm 3′", false, "5 μm 3′"},
	} {
		card := sampleCard(12, 12)
		card.By = c.by
		_, file := setOpen(t, card, A4)
		text := strings.ReplaceAll(strings.Join(textOf(file), "\n"), "\u00a0", " ")
		if !strings.Contains(text, c.shown) {
			t.Errorf("%s: %q is not on the card as %q", name, c.by, c.shown)
		}
		if said := strings.Contains(text, "letter these typefaces do not hold"); said != c.sign {
			t.Errorf("%s: the card says that a letter is missing: %v, want %v", name, said, c.sign)
		}
	}
}

func BenchmarkCard(b *testing.B) {
	c := sampleCard(63, 23)
	for b.Loop() {
		if err := c.WritePDF(io.Discard, A4); err != nil {
			b.Fatal(err)
		}
	}
}

// Blanks are written in with a wet hand: 8 mm, as docs/card.md promises.
func TestBlanksAreHighEnough(t *testing.T) {
	t.Parallel()
	const promised = 8.0
	p, err := sampleCard(3, 3).newPen(A4)
	if err != nil {
		t.Fatal(err)
	}
	p.dry = true
	for _, w := range []float64{p.right - p.left, 89} {
		if high := p.step(1, Step{Name: "weigh"}, p.left, 0, w, closeSteps); high < promised {
			t.Errorf("the cell for a step's minutes is %.1f mm high", high)
		}
	}
	labelHigh := labelPoints * mmPerPoint
	if high := p.blank(p.left, 0, 30, "good", "") - labelHigh; high < promised {
		t.Errorf("a blank is %.1f mm high under its label", high)
	}
	if pitch := (p.remarks(3, 0, 0) - p.remarks(2, 0, 0)); pitch < promised {
		t.Errorf("lines for remarks are %.1f mm apart", pitch)
	}
}
