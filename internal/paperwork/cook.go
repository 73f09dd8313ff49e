package paperwork

import (
	"fmt"
	"io"
	"strconv"
	"time"
)

// Cook is the card of a cook: amounts and their order, what to heed with its
// source, whom to call, and lines to write the log on. It is never the only copy
// of its cautions.
type Cook struct {
	Studio, Fibre, About string
	Day                  time.Time
	Call                 []string // whom to call, the studio's own
	Amounts              []Entry
	Order, Tests         []string
	Cautions, Waste      []Heeded
	Log                  []string // what was written down already
	TempUnit, Units      string
}

// Heeded is a caution with where it comes from.
type Heeded struct{ Text, Source string }

// Points of a cook card: read standing, with gloves on.
const (
	cookTitle = 20.0
	cookText  = 10.5
	cookSmall = 7.8
	leastRows = 6 // of the log; ours: a cook of two hours with a test each half hour
)

// First is what stands above all cautions of the trade.
const First = "Local rules and licensed practice come first."

// WritePDF sets the card. The same card gives the same bytes.
func (c Cook) WritePDF(w io.Writer, paper Size) error {
	p, err := c.draw(paper)
	if err != nil {
		return err
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the cook card could not be written: %w", err)
	}
	return nil
}

func (c Cook) draw(paper Size) (*pen, error) {
	head := Card{Paper: "Cook: " + c.Fibre, Tag: c.Day.Format("2 Jan 2006"), Date: c.Day, Units: c.Units}
	p, err := head.newPen(paper)
	if err != nil {
		return nil, err
	}
	pages := p.breakPages(c.parts(p), false)
	for i, page := range pages {
		p.pdf.AddPage()
		y := p.top
		if i > 0 {
			y = p.running(head, y)
		}
		p.bare = y
		p.print(page, y)
		p.foot(head, i+1, len(pages))
	}
	return p, p.pdf.Error()
}

// parts are the pieces of the card in the order in which they are wanted.
func (c Cook) parts(p *pen) []part {
	list := []part{p.measured(func(y float64) float64 { return c.head(p, y) })}
	add := func(glue bool, draw func(y float64) float64) {
		one := p.measured(draw)
		one.glue = glue
		list = append(list, one)
	}
	add(false, func(y float64) float64 { return p.entries(c.Amounts, y, 4, cookText) + 1 })
	numbered := func(name string, lines []string, count bool) {
		if len(lines) == 0 {
			return
		}
		add(true, func(y float64) float64 { return p.heading(y+1, name, "") })
		for i, s := range lines {
			mark := "–"
			if count {
				mark = strconv.Itoa(i + 1)
			}
			add(false, func(y float64) float64 {
				p.text(p.left, y+rise(cookText), bold, cookText, mark)
				return p.para(p.left+6, y, p.right-p.left-6, plain, cookText, s) + 0.8
			})
		}
	}
	heeded := func(name, remark string, lines []Heeded) {
		add(true, func(y float64) float64 { return p.heading(y+1, name, remark) })
		for _, h := range lines {
			add(false, func(y float64) float64 { return p.heeded(h, y) })
		}
	}
	heeded("take care", First, c.Cautions)
	numbered("in this order", c.Order, true)
	numbered("is it done?", c.Tests, false)
	heeded("the liquor", First, c.Waste)
	numbered("written down", c.Log, false)
	add(true, func(y float64) float64 {
		return p.heading(y+1, "log", "when it simmers, each test, off the flame, each rinse")
	})
	first := p.measured(func(y float64) float64 { return c.logRow(p, 0, y) })
	list = append(list, first)
	next := p.measured(func(y float64) float64 { return c.logRow(p, 1, y) })
	rows := leastRows
	if len(c.Log) > 0 {
		rows = 2 // it was begun on another sheet, or at the screen
	}
	for n := 1; n < rows || p.leftAfter(list) > next.high; n++ {
		list = append(list, next)
	}
	return list
}

// head sets what is cooked and whom to call.
func (c Cook) head(p *pen, y float64) float64 {
	p.label(p.left, y+3, "cook card")
	p.textRight(p.right, y+3, plain, 9, join(" · ", c.Studio, c.Day.Format("2 January 2006")))
	y = p.para(p.left, y+4, p.right-p.left, bold, cookTitle, c.Fibre)
	y = p.para(p.left, y+0.5, p.right-p.left, plain, cookText, c.About)
	y += 1.5
	top := y
	if call := join("   ", c.Call...); call != "" {
		y = p.para(p.left+3, y+2, p.right-p.left-6, bold, cookText, call) + 2
	} else {
		p.left, p.right = p.left+3, p.right-3
		y = p.places([]place{{"emergency", "", 1}, {"poison centre", "", 1}, {"doctor, eye clinic", "", 1}, {"running water is", "", 1}}, y+2)
		p.left, p.right = p.left-3, p.right+3
	}
	p.box(p.left, top, p.right-p.left, y-top, strong)
	return y + 2
}

// heeded sets one caution with its source.
func (p *pen) heeded(h Heeded, y float64) float64 {
	p.alert(p.left, y+rise(cookText), 2.8)
	y = p.para(p.left+6, y, p.right-p.left-6, plain, cookText, h.Text)
	if h.Source != "" {
		y = p.para(p.left+6, y, p.right-p.left-6, plain, cookSmall, h.Source)
	}
	return y + 0.8
}

// logRow sets a line to write on.
func (c Cook) logRow(p *pen, i int, y float64) float64 {
	row := []place{{"time", "", 1}, {"it simmers, off, rinse, remark", "", 3.2}, {"liquor", c.TempUnit, 0.9}, {"pH, cold", "", 0.9}, {"parts?", "", 0.8}, {"who", "", 0.7}}
	if i > 0 {
		for j := range row {
			row[j].name = ""
		}
	}
	return p.places(row, y) - 1
}
