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

// Statement is a page about one making for whoever gets its sheets: what the
// paper is, or what was measured of it and how.
type Statement struct {
	Kind   string // what it is called, such as Certificate
	Studio string // who made it
	Paper  string
	Tag    string
	Day    time.Time
	Lines  []StatedLine
	Not    []string // what was not measured
	Notes  []string
}

// StatedLine is one thing said, and how it is known.
type StatedLine struct{ What, Value, How string }

// WritePDF sets the statement on one page, or on more where it is long. The same
// statement gives the same bytes.
func (s Statement) WritePDF(w io.Writer, paper Size) error {
	p, err := s.draw(paper)
	if err != nil {
		return err
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the page could not be written: %w", err)
	}
	return nil
}

// Points of a statement, and its margin in mm: it is read at arm's length.
const (
	statedMargin = 24.0
	statedTitle  = 22.0
	statedText   = 11.5
	statedHow    = 9.5
	statedColumn = 52.0 // mm, of the names
)

func (s Statement) draw(paper Size) (*pen, error) {
	p, err := Card{Paper: s.Paper, Tag: s.Tag, Date: s.Day}.newPen(paper)
	if err != nil {
		return nil, err
	}
	p.left, p.right, p.top, p.bottom = statedMargin, paper.W-statedMargin, statedMargin, paper.H-statedMargin+6
	y := s.head(p)
	for _, l := range s.Lines {
		y = p.stated(l, p.roomFor(y, 20))
	}
	if len(s.Not) > 0 {
		y = p.roomFor(y+4, 24)
		p.label(p.left, y+4, "Not measured")
		y += 6
		y = p.para(p.left, y, p.right-p.left, plain, statedText, join(", ", s.Not...)+".")
	}
	for _, n := range s.Notes {
		y = p.para(p.left, p.roomFor(y+3, 14), p.right-p.left, plain, statedHow, n)
	}
	return p, p.pdf.Error()
}

// head begins the first page.
func (s Statement) head(p *pen) float64 {
	p.pdf.AddPage()
	y := p.top
	p.label(p.left, y, s.Kind)
	p.textRight(p.right, y, plain, statedHow, s.Day.Format("2 January 2006"))
	y += 4
	y = p.para(p.left, y, p.right-p.left, bold, statedTitle, s.Paper)
	y = p.para(p.left, y+1, p.right-p.left, plain, statedText, join(" · ", s.Studio, s.Tag))
	y += 3
	p.fill(p.left, y, p.right-p.left, strong)
	return y + 4
}

// roomFor goes to a new page where less than that much is left.
func (p *pen) roomFor(y, high float64) float64 {
	if y+high <= p.bottom {
		return y
	}
	p.pdf.AddPage()
	return p.top
}

// stated sets one line: its name, the value large, below it how it is known.
func (p *pen) stated(l StatedLine, y float64) float64 {
	x := p.left + statedColumn
	name := p.para(p.left, y, statedColumn-4, plain, statedText, l.What)
	y = p.para(x, y, p.right-x, bold, statedText, l.Value)
	if l.How != "" {
		y = p.para(x, y+0.5, p.right-x, plain, statedHow, l.How)
	}
	y = max(y, name) + 2
	p.line(p.left, y, p.right, y, hairline)
	return y + 2
}
