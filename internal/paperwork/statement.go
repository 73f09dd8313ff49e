package paperwork

import (
	"fmt"
	"io"
	"time"
)

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
