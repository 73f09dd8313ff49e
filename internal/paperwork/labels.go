package paperwork

import (
	"fmt"
	"io"
	"math"
	"slices"
	"time"
)

// Label says of which making a sheet is: on a tag that goes with it, or beside
// a swatch. Link is what the code on it holds; without one, as on what leaves
// the studio, there is no code.
type Label struct {
	Tag, Link string
	Paper     string
	Furnish   string
	Lines     []string // grammage, beating, drying, finish, in short pieces
	Date      string
}

// Cut is a size that labels are cut to, in mm.
type Cut struct {
	Name string
	W, H float64
}

// The sizes of labels. A swatch of 2 × 3 inches is customary where samples are
// swapped (common practice); the tag is ours, for a slip between sheets.
var (
	TagCut    = Cut{"tags", 66, 38}
	SwatchCut = Cut{"swatches", 50.8, 76.2}
)

// Grid is how many labels stand beside and below one another on a page.
func (c Cut) Grid(paper Size) (across, down int) {
	return int(paper.W / c.W), int(paper.H / c.H)
}

// Sheets is how many sheets of paper so many labels take.
func (c Cut) Sheets(labels int, paper Size) int {
	across, down := c.Grid(paper)
	return int(math.Ceil(float64(labels) / float64(across*down)))
}

// WriteLabels sets labels for cutting, as many to a page as it takes, and
// writes them as PDF. The same labels on the same day give the same bytes.
func WriteLabels(w io.Writer, labels []Label, cut Cut, paper Size, day time.Time) error {
	p, err := setLabels(labels, cut, paper, day)
	if err != nil {
		return err
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the labels could not be written: %w", err)
	}
	return nil
}

func setLabels(labels []Label, cut Cut, paper Size, day time.Time) (*pen, error) {
	c := Card{Paper: "Labels", Date: day}
	if len(labels) > 0 {
		c.Paper, c.Tag = labels[0].Paper, labels[0].Tag
	}
	p, err := c.newPen(paper)
	if err != nil {
		return nil, err
	}
	p.left, p.right, p.top, p.bottom = 0, paper.W, 0, paper.H
	across, down := cut.Grid(paper)
	left, top := (paper.W-float64(across)*cut.W)/2, (paper.H-float64(down)*cut.H)/2
	for i, l := range labels {
		at := i % (across * down)
		if at == 0 {
			p.pdf.AddPage()
		}
		x, y := left+float64(at%across)*cut.W, top+float64(at/across)*cut.H
		p.box(x, y, cut.W, cut.H, hairline)
		if err := p.labelAt(l, x+labelPad, y+labelPad, cut.W-2*labelPad, cut.H-2*labelPad); err != nil {
			return nil, err
		}
	}
	return p, p.pdf.Error()
}

// A page that swatches are glued to, mm: four swatches of 2 × 3 in below one
// another, each with what it is beside it.
const (
	swatchMargin = 18.0
	swatchHead   = 16.0
	swatchRow    = 56.0
	swatchGap    = 8.0 // between the swatch and what it is
)

// swatchRows is how many stand on a page.
func swatchRows(paper Size) int { return int((paper.H - 2*swatchMargin - swatchHead) / swatchRow) }

// SwatchSheets is how many sheets of paper the page takes for so many swatches.
func SwatchSheets(n int, paper Size) int {
	return (n + swatchRows(paper) - 1) / swatchRows(paper)
}

// WriteSwatches sets a page, or more, with room to glue a swatch beside what
// each label says, for the studio's own book of samples, and writes it as PDF.
// The same labels on the same day give the same bytes.
func WriteSwatches(w io.Writer, labels []Label, studio string, paper Size, day time.Time) error {
	p, err := setSwatches(labels, studio, paper, day)
	if err != nil {
		return err
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the swatch page could not be written: %w", err)
	}
	return nil
}

func setSwatches(labels []Label, studio string, paper Size, day time.Time) (*pen, error) {
	p, err := Card{Paper: "Swatches", Date: day}.newPen(paper)
	if err != nil {
		return nil, err
	}
	p.left, p.right, p.top, p.bottom = swatchMargin, paper.W-swatchMargin, swatchMargin, paper.H-swatchMargin
	title := "Swatches"
	if len(labels) > 0 && !slices.ContainsFunc(labels, func(l Label) bool { return l.Paper != labels[0].Paper }) {
		title = labels[0].Paper
	}
	for i, l := range labels {
		at := i % swatchRows(paper)
		if at == 0 {
			p.pdf.AddPage()
			p.linesIn(p.left, p.top, p.right-p.left-40, p.top+swatchHead-4, bold, statedTitle-4, title, 1)
			p.textRight(p.right, p.top+6, plain, statedHow, studio)
		}
		y := p.top + swatchHead + float64(at)*swatchRow
		p.box(p.left, y, SwatchCut.H, SwatchCut.W, hairline) // lying
		p.text(p.left+labelPad, y+SwatchCut.W-labelPad, plain, labelSmall, "swatch")
		x := p.left + SwatchCut.H + swatchGap
		if err := p.labelAt(l, x, y, p.right-x, SwatchCut.W); err != nil {
			return nil, err
		}
	}
	return p, p.pdf.Error()
}

// Inside a label, mm and points.
const (
	labelPad   = 4.0
	labelCode  = 21.0 // side of the code: read from a hand's width
	labelName  = 11.0
	labelText  = 8.0
	labelSmall = 6.0
)

// labelAt sets one label: the tag and what it is; the code where there is room
// for it, beside a wide label's text and below a tall one's.
func (p *pen) labelAt(l Label, x, y, w, h float64) error {
	textW, foot := w, y+h
	if l.Link != "" {
		cx, cy := x+w-labelCode, y+h-labelCode
		if w > h { // beside
			textW = w - labelCode - 2
			cy = y
		} else {
			foot = y + h - labelCode
		}
		if err := p.qr(cx, cy, labelCode, l.Link); err != nil {
			return err
		}
	}
	p.text(x, y+h-1, bold, labelName, l.Tag)
	if w > h {
		foot = y + h - leading(labelName)
	}
	if l.Date != "" && l.Link != "" && w <= h {
		p.text(x, y+h-1-leading(labelName), plain, labelSmall+1, l.Date)
	} else if l.Date != "" {
		p.textRight(x+w, y+h-1, plain, labelSmall+1, l.Date)
	}
	y = p.linesIn(x, y, textW, foot, bold, labelName, l.Paper, 2)
	y = p.linesIn(x, y+0.6, textW, foot, plain, labelText, l.Furnish, 3)
	for _, line := range l.Lines {
		y = p.linesIn(x, y+0.4, textW, foot, plain, labelText, line, 2)
	}
	return nil
}

// linesIn sets a text in at most so many lines that end above foot; what does
// not go in is left away, its last line ending in three dots.
func (p *pen) linesIn(x, y, w, foot float64, f face, pt float64, s string, most int) float64 {
	lines := p.wrap(f, pt, s, w)
	room := min(most, int((foot-y)/leading(pt)))
	if room <= 0 {
		return y
	}
	if len(lines) > room {
		lines = lines[:room]
		last := []rune(lines[room-1])
		for len(last) > 0 && p.width(f, pt, string(last)+"…") > w {
			last = last[:len(last)-1]
		}
		lines[room-1] = string(last) + "…"
	}
	for _, line := range lines {
		p.text(x, y+rise(pt), f, pt, line)
		y += leading(pt)
	}
	return y
}
