package paperwork

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var labelDay = time.Date(2030, 5, 3, 0, 0, 0, 0, time.UTC)

// Eighty swatches of 2 × 3 in, twelve to a Letter sheet, take seven sheets
// (worked in the trade for a yearly swap of samples).
func TestSwatchesOfASwap(t *testing.T) {
	t.Parallel()
	if across, down := SwatchCut.Grid(Letter); across*down != 12 {
		t.Errorf("%d × %d swatches on a Letter sheet, want 12", across, down)
	}
	if n := SwatchCut.Sheets(80, Letter); n != 7 {
		t.Errorf("80 swatches take %d sheets, want 7", n)
	}
	p, err := setLabels(make([]Label, 80), SwatchCut, Letter, labelDay)
	if err != nil || p.pdf.PageCount() != 7 {
		t.Errorf("%d pages, %v; want 7", p.pdf.PageCount(), err)
	}
}

// Whatever is said of a paper stays on its label: nothing goes over its edge,
// and no two lines of it stand on one another.
func TestLabelsHoldWhatTheySay(t *testing.T) {
	t.Parallel()
	word := rapid.StringMatching(`[a-zäß 木綿]{0,60}`)
	rapid.Check(t, func(t *rapid.T) {
		l := Label{Tag: "K7-3F", Paper: word.Draw(t, "paper"), Furnish: word.Draw(t, "furnish"), Date: "24 September 2030", Lines: rapid.SliceOfN(word, 0, 8).Draw(t, "lines")}
		if rapid.Bool().Draw(t, "code") {
			l.Link = "http://localhost:8017/makings?tag=K7-3F"
		}
		cut := rapid.SampledFrom([]Cut{TagCut, SwatchCut}).Draw(t, "cut")
		p, err := setLabels([]Label{l}, cut, A4, labelDay)
		if err != nil {
			t.Fatal(err)
		}
		across, down := cut.Grid(A4)
		right, foot := (A4.W-float64(across)*cut.W)/2+cut.W, (A4.H-float64(down)*cut.H)/2+cut.H
		for i, a := range p.words {
			if a.x1 > right || a.y > foot {
				t.Fatalf("%q ends at %.1f, %.1f; the label at %.1f, %.1f", a.text, a.x1, a.y, right, foot)
			}
			for _, b := range p.words[:i] {
				if b.text != "" && a.text != "" && a.x0 < b.x1 && b.x0 < a.x1 && max(a.y-b.y, b.y-a.y) < 0.7*leading(min(a.pt, b.pt)) {
					t.Fatalf("%q stands on %q", a.text, b.text)
				}
			}
		}
	})
}

// A statement says each line with how it is known, goes on to a second page
// where it is long, and is the same bytes each time.
func TestStatement(t *testing.T) {
	t.Parallel()
	s := Statement{Kind: "What was measured", Studio: "Invented Mill", Paper: "Moor text", Tag: "K7-3F", Day: labelDay,
		Lines: []StatedLine{{"Grammage", "112 g/m²", "10 sheets weighed"}}, Not: []string{"pH", "strength"}, Notes: []string{"By rule."}}
	p, err := s.draw(A4)
	if err != nil || p.pdf.PageCount() != 1 || len(p.overflow) > 0 {
		t.Fatalf("%d pages, %v, over the edge: %v", p.pdf.PageCount(), err, p.overflow)
	}
	var all []string
	for _, w := range p.words {
		all = append(all, w.text)
	}
	for _, want := range []string{"Moor text", "112 g/m²", "10 sheets weighed", "pH, strength.", "3 May 2030"} {
		if !strings.Contains(strings.Join(all, "\n"), want) {
			t.Errorf("%q is not on the page: %q", want, all)
		}
	}
	for range 40 {
		s.Lines = append(s.Lines, StatedLine{"Thickness", "0.2 mm", "Mean of three readings on the studio's own gauge, which presses as it likes"})
	}
	p, err = s.draw(Letter)
	if err != nil || p.pdf.PageCount() < 2 || len(p.overflow) > 0 {
		t.Errorf("%d pages, %v, over the edge: %v", p.pdf.PageCount(), err, p.overflow)
	}
	var a, b bytes.Buffer
	if s.WritePDF(&a, A4) != nil || s.WritePDF(&b, A4) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same statement gives other bytes")
	}
}

// A swatch page has room for four swatches of 2 × 3 in; what is said beside
// them stays on the page, and off the swatch.
func TestSwatchPages(t *testing.T) {
	t.Parallel()
	for _, paper := range []Size{A4, Letter} {
		if n := swatchRows(paper); n != 4 {
			t.Errorf("%d swatches on %s, want 4", n, paper.Name)
		}
		l := Label{Tag: "K7-3F", Link: "http://localhost:8017/makings?tag=K7-3F", Paper: strings.Repeat("Moor text ", 9), Furnish: "flax and abaca",
			Date: "24 September 2030", Lines: []string{"112 g/m²", "beaten 3 h", strings.Repeat("hung in the loft ", 6)}}
		p, err := setSwatches([]Label{l, l, l, l, l}, "Invented Mill", paper, labelDay)
		if err != nil || p.pdf.PageCount() != SwatchSheets(5, paper) || p.pdf.PageCount() != 2 {
			t.Fatalf("%d pages, %v; want 2", p.pdf.PageCount(), err)
		}
		for _, w := range p.words {
			beside := w.y > swatchMargin+swatchHead && w.text != "swatch"
			if w.x1 > paper.W-swatchMargin+0.1 || w.y > paper.H-swatchMargin || beside && w.x0 < swatchMargin+SwatchCut.H {
				t.Errorf("%q stands at %.1f–%.1f, %.1f", w.text, w.x0, w.x1, w.y)
			}
		}
	}
}
