package paperwork

import (
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// face is one of the weights a card is set in.
type face int

const (
	plain face = iota
	bold
)

func (f face) style() string {
	if f == bold {
		return "B"
	}
	return ""
}

// Families as the PDF knows them.
const (
	mainFamily   = "main"
	secondFamily = "second"
)

// mmPerPoint is the length of a typographic point: 1/72 in, exactly.
const mmPerPoint = 25.4 / 72

// capHeight is the height of capitals and figures over the size of the type:
// read from the typeface (668 of 1000 units; figures 680).
const capHeight = 0.668

// pen sets text and rules on the page. A dry pen only measures: it writes
// nothing, so that a part can be drawn once to learn its height.
type pen struct {
	pdf      *fpdf.Fpdf
	faces    *faces
	dry      bool
	second   bool // the second family has been added
	lost     int  // letters that could not be set
	left     float64
	right    float64
	top      float64
	bottom   float64
	bottomOf float64  // how far down the part that fills may go
	bare     float64  // top of the page's parts: a heading there needs no rule
	words    []placed // every string on the pages
	overflow []string // what went over the edge, for the tests
}

// placed is a string on a page: where its baseline runs and how large it is.
type placed struct {
	page      int
	x0, x1, y float64
	pt        float64
	text      string
}

// note keeps what would fall outside the margins.
func (p *pen) note(what string, x0, x1, y float64) {
	const hair = 0.6 // mm; a stroke may straddle the margin
	if x0 < p.left-hair || x1 > p.right+hair || y > p.bottom+hair {
		p.overflow = append(p.overflow, fmt.Sprintf("page %d: %q at x %.1f–%.1f, y %.1f", p.pdf.PageNo(), what, x0, x1, y))
	}
}

// set chooses the family that holds s and returns s as it can be set.
func (p *pen) set(f face, pt float64, s string) string {
	text, second, lost := settable(s, p.faces.mainHas, p.faces.secondHas)
	if !p.dry {
		p.lost += lost
	}
	family := mainFamily
	if second {
		family = secondFamily
		if !p.second {
			p.pdf.AddUTF8FontFromBytes(secondFamily, "", p.faces.second)
			p.pdf.AddUTF8FontFromBytes(secondFamily, "B", p.faces.secondBold)
			p.second = true
		}
	}
	p.pdf.SetFont(family, f.style(), pt)
	return text
}

// width returns the width of s in mm.
func (p *pen) width(f face, pt float64, s string) float64 {
	return p.pdf.GetStringWidth(p.set(f, pt, s))
}

// text sets s with its baseline at y and returns the x after it.
func (p *pen) text(x, y float64, f face, pt float64, s string) float64 {
	s = p.set(f, pt, s)
	end := x + p.pdf.GetStringWidth(s)
	if !p.dry && s != "" {
		p.put(x, end, y, pt, s)
	}
	return end
}

// put writes s and keeps where it stands.
func (p *pen) put(x, end, y, pt float64, s string) {
	p.note(s, x, end, y)
	p.words = append(p.words, placed{p.pdf.PageNo(), x, end, y, pt, s})
	p.pdf.Text(x, y, s)
}

// textRight sets s so that it ends at x.
func (p *pen) textRight(x, y float64, f face, pt float64, s string) {
	p.text(x-p.width(f, pt, s), y, f, pt, s)
}

// textMid sets s centred on x.
func (p *pen) textMid(x, y float64, f face, pt float64, s string) {
	p.text(x-p.width(f, pt, s)/2, y, f, pt, s)
}

// labelPoints and labelSpace are the size and letter spacing of the small
// capitals that name things.
const (
	labelPoints = 6.6
	labelSpace  = 0.11 // mm between letters
)

// label sets s in small spaced capitals and returns the x after it.
func (p *pen) label(x, y float64, s string) float64 {
	s = strings.ToUpper(s)
	end := x + p.labelWidth(s)
	if p.dry || s == "" {
		return end
	}
	s = p.set(bold, labelPoints, s)
	p.pdf.RawWriteStr(fmt.Sprintf("%.3f Tc", labelSpace/mmPerPoint))
	p.put(x, end, y, labelPoints, s)
	p.pdf.RawWriteStr("0 Tc")
	return end
}

func (p *pen) labelWidth(s string) float64 {
	s = strings.ToUpper(s)
	return p.width(bold, labelPoints, s) + labelSpace*float64(len([]rune(s)))
}

// fit returns the largest size from most down to least at which s is no wider
// than w.
func (p *pen) fit(f face, most, least float64, s string, w float64) float64 {
	for pt := most; pt > least; pt -= 0.5 {
		if p.width(f, pt, s) <= w {
			return pt
		}
	}
	return least
}

// wrap breaks s into lines no wider than w, between words where it can.
func (p *pen) wrap(f face, pt float64, s string, w float64) []string {
	var lines []string
	line := ""
	for _, word := range p.together(f, pt, s, w) {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if p.width(f, pt, try) <= w {
			line = try
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		head, rest := p.chop(f, pt, word, w)
		lines = append(lines, head...)
		line = rest
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// together are the words of s; a number and what it counts are one, where that is
// no wider than w.
func (p *pen) together(f face, pt float64, s string, w float64) []string {
	var words []string
	number := false
	for _, word := range strings.Fields(tidy(s)) {
		if number {
			if both := words[len(words)-1] + " " + word; p.width(f, pt, both) <= w {
				words[len(words)-1], number = both, false
				continue
			}
		}
		words, number = append(words, word), strings.Trim(word, "0123456789.,/") == ""
	}
	return words
}

// chop cuts a word wider than w into full lines and what is left.
func (p *pen) chop(f face, pt float64, word string, w float64) (full []string, rest string) {
	for _, r := range word {
		if rest != "" && p.width(f, pt, rest+string(r)) > w {
			full = append(full, rest)
			rest = ""
		}
		rest += string(r)
	}
	return full, rest
}

// leading is the distance of baselines for a size, in mm.
func leading(pt float64) float64 { return pt * mmPerPoint * 1.22 }

// rise is how far under the top of its line a baseline runs.
func rise(pt float64) float64 { return 0.78 * leading(pt) }

// para sets s wrapped to w, first baseline one line under y, and returns the
// y under it.
func (p *pen) para(x, y, w float64, f face, pt float64, s string) float64 {
	for _, line := range p.wrap(f, pt, s, w) {
		p.text(x, y+rise(pt), f, pt, line)
		y += leading(pt)
	}
	return y
}

// The rules of the form: a hairline, and one strong rule.
const (
	hairline = 0.18 // mm
	midline  = 0.35
	strong   = 1.1
)

func (p *pen) line(x0, y0, x1, y1, weight float64) {
	if p.dry {
		return
	}
	p.note("rule", min(x0, x1), max(x0, x1), max(y0, y1))
	p.pdf.SetLineWidth(weight)
	p.pdf.Line(x0, y0, x1, y1)
}

func (p *pen) box(x, y, w, h, weight float64) {
	if p.dry {
		return
	}
	p.note("box", x, x+w, y+h)
	p.pdf.SetLineWidth(weight)
	p.pdf.Rect(x, y, w, h, "D")
}

func (p *pen) fill(x, y, w, h float64) {
	if p.dry {
		return
	}
	p.note("filled box", x, x+w, y+h)
	p.pdf.SetFillColor(0, 0, 0)
	p.pdf.Rect(x, y, w, h, "F")
}

// tick draws an empty box to be ticked, its foot on the baseline y.
func (p *pen) tick(x, y, side float64) float64 {
	p.box(x, y-side, side, side, midline*0.8)
	return x + side
}

// wedge draws a filled triangle that points down to (x, y).
func (p *pen) wedge(x, y, side float64) {
	if p.dry {
		return
	}
	p.pdf.SetFillColor(0, 0, 0)
	p.pdf.Polygon([]fpdf.PointType{{X: x - side/2, Y: y - side*0.8}, {X: x + side/2, Y: y - side*0.8}, {X: x, Y: y}}, "F")
}

// hollowWedge draws the same as an outline.
func (p *pen) hollowWedge(x, y, side float64) {
	if p.dry {
		return
	}
	p.pdf.SetLineWidth(midline)
	p.pdf.Polygon([]fpdf.PointType{{X: x - side/2, Y: y - side*0.8}, {X: x + side/2, Y: y - side*0.8}, {X: x, Y: y - 0.2}}, "D")
}

// alert draws the sign before a caution, a triangle with a stroke in it, its
// foot on the baseline y.
func (p *pen) alert(x, y, side float64) float64 {
	if !p.dry {
		h := side * 0.9
		p.pdf.SetFillColor(0, 0, 0)
		p.pdf.Polygon([]fpdf.PointType{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side/2, Y: y - h}}, "F")
		p.pdf.SetFillColor(255, 255, 255)
		p.pdf.Rect(x+side/2-side*0.05, y-h*0.66, side*0.1, h*0.34, "F")
		p.pdf.Rect(x+side/2-side*0.05, y-h*0.21, side*0.1, h*0.1, "F")
		p.pdf.SetFillColor(0, 0, 0)
	}
	return x + side
}

// blankHigh is the least height of a place to write in, in mm.
const blankHigh = 8.0

// blank draws a place to write: a label above, a line to write on, the unit
// at its end. It takes blankHigh under the label and returns the y under it.
func (p *pen) blank(x, y, w float64, name, unit string) float64 {
	p.label(x, y+2.4, name)
	foot := y + 2.8 + blankHigh
	end := x + w
	if unit != "" {
		p.textRight(end, foot-0.6, plain, 9, unit)
		end -= p.width(plain, 9, unit) + 1
	}
	p.line(x, foot, end, foot, midline)
	return foot
}

// heading sets the name of a part on its hairline and returns the y under it.
func (p *pen) heading(y float64, name, remark string) float64 {
	if y > p.bare+1.5 {
		p.line(p.left, y, p.right, y, hairline)
	}
	end := p.label(p.left, y+3.6, name)
	if remark != "" {
		if end+3+p.width(plain, 7.6, remark) > p.right {
			return p.para(p.left, y+4.2, p.right-p.left, plain, 7.6, remark) + 0.8
		}
		p.text(end+3, y+3.6, plain, 7.6, remark)
	}
	return y + 5
}
