package paperwork

import (
	"slices"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// head sets the name of the paper, its tag and code, and whose it is, over
// the strong rule.
func (p *pen) head(c Card, y float64) (float64, error) {
	const side = 23.0
	codeX := p.right - side
	if err := p.qr(codeX+1.5, y-2.2, side, c.content()); err != nil {
		return y, err
	}
	tagPt := p.fit(bold, 24, 11, c.Tag, 46)
	tagW := max(p.width(bold, tagPt, c.Tag), 12)
	tagX := codeX - 2 - tagW
	p.label(tagX, y+2.4, "tag")
	p.text(tagX, y+2.4+leading(tagPt), bold, tagPt, c.Tag)

	w := tagX - 6 - p.left
	p.label(p.left, y+2.4, "making card")
	at := y + 3.4
	pt := p.fit(bold, 25, 15, c.Paper, w)
	at = p.para(p.left, at, w, bold, pt, c.Paper)
	if c.Use != "" {
		at = p.para(p.left, at+0.4, w, plain, 10, c.Use)
	}
	at = max(at+1, y+side-5.5)
	who := join(" · ", prefix("for ", c.For), prefix("by ", c.By), c.When, c.Promise)
	if who != "" {
		at = p.para(p.left, at-0.6, codeX-4-p.left, plain, 9, who)
	}
	at = max(at+1.6, y+side-1.7)
	p.fill(p.left, at, p.right-p.left, strong)
	return at + strong + 1.2, nil
}

// content returns what the code holds.
func (c Card) content() string {
	if c.Link != "" {
		return c.Link
	}
	return c.Tag
}

func prefix(word, s string) string {
	if s == "" {
		return ""
	}
	return word + s
}

func join(sep string, parts ...string) string {
	var kept []string
	for _, s := range parts {
		if s != "" {
			kept = append(kept, s)
		}
	}
	return strings.Join(kept, sep)
}

// furnish sets the furnish line and the sizes.
func (p *pen) furnish(c Card, y float64) float64 {
	if c.Furnish != "" {
		x := p.label(p.left, y+rise(10.5), "furnish") + 3
		y = p.para(x, y, p.right-x, plain, 10.5, c.Furnish) + 0.8
	}
	return p.entries(c.Sizes, y, 6, 11) + 1
}

// entries sets labelled values in columns, as many in a row as fit up to
// most, and returns the y under them.
func (p *pen) entries(list []Entry, y float64, most int, pt float64) float64 {
	if len(list) == 0 {
		return y
	}
	rows := (len(list) + most - 1) / most
	cols := (len(list) + rows - 1) / rows
	const gap = 4.0
	w := (p.right - p.left + gap) / float64(cols)
	for row := range slices.Chunk(list, cols) {
		lines, foot := 1, y
		for _, e := range row {
			lines = max(lines, len(p.wrapLabel(e.Label, w-gap)))
		}
		for i, e := range row {
			foot = max(foot, p.entry(e, p.left+w*float64(i), y, w-gap, pt, lines))
		}
		y = foot + 1
	}
	return y
}

// entry sets one labelled value; its label takes so many lines, so that the
// values of a row stand level.
func (p *pen) entry(e Entry, x, y, w, pt float64, lines int) float64 {
	label := p.wrapLabel(e.Label, w)
	for i, line := range label {
		p.label(x, y+2.8*float64(lines-len(label)+i+1), line)
	}
	y += 2.8 * float64(lines)
	size := p.fit(bold, pt, pt*0.7, e.Value, w)
	y = p.para(x, y+0.3, w, bold, size, e.Value)
	if e.Band != "" {
		y = p.para(x, y-0.3, w, plain, 8, e.Band)
	}
	return y
}

// wrapLabel breaks a label into lines of small capitals.
func (p *pen) wrapLabel(s string, w float64) []string {
	return p.wrap(bold, labelPoints+0.9, strings.ToUpper(s), w)
}

// decisions sets the big numbers side by side, each with its lines.
func (p *pen) decisions(c Card, y float64) float64 {
	if len(c.Decisions) == 0 {
		return y
	}
	y = p.heading(y, "to have ready", "")
	const gap = 5.0
	shares := columnShares(c.Decisions)
	whole := p.right - p.left - gap*float64(len(c.Decisions)-1)
	x, foot := p.left, y
	for i, d := range c.Decisions {
		foot = max(foot, p.decision(d, x, y, whole*shares[i]))
		x += whole*shares[i] + gap
	}
	x = p.left - gap/2
	for _, share := range shares[:len(shares)-1] {
		x += whole*share + gap
		p.line(x, y+0.6, x, foot, hairline)
	}
	return foot + 1.2
}

// columnShares gives a decision more of the width the more its longest line
// wants: a line that wraps costs a line.
func columnShares(list []Decision) []float64 {
	const least, most = 18, 32 // letters
	shares, sum := make([]float64, len(list)), 0.0
	for i, d := range list {
		longest := 2 * len(d.Figure)
		for _, l := range d.Lines {
			longest = max(longest, len([]rune(l.Amount+" "+l.What)))
		}
		shares[i] = float64(min(most, max(least, longest)))
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares
}

func (p *pen) decision(d Decision, x, y, w float64) float64 {
	for _, line := range p.wrapLabel(d.Label, w) {
		p.label(x, y+2.8, line)
		y += 2.9
	}
	figPt := p.fit(bold, 27, 14, d.Figure, w-8)
	unitW := p.width(plain, 10.5, d.Unit)
	base := y + 9.2
	end := p.text(x, base, bold, figPt, d.Figure)
	if end+1.5+unitW <= x+w {
		p.text(end+1.5, base, plain, 10.5, d.Unit)
		y = base + 1.2
	} else {
		y = p.para(x, base, w, plain, 10.5, d.Unit) + 0.6
	}
	for _, l := range d.Lines {
		if !l.Later && (!d.Apart || !l.Tick) {
			y = p.decisionLine(l, x, y, w)
		}
	}
	if d.Blank != "" {
		y = p.blank(x, y+0.4, w, d.Blank, d.BlankUnit) + 0.6
	}
	return y
}

func (p *pen) decisionLine(l DecisionLine, x, y, w float64) float64 {
	const pt = 9.5
	base := y + leading(pt) - 0.4
	at := x
	if l.Tick {
		at = p.tick(x, base, 2.9) + 1.4
	}
	if l.Amount != "" {
		at = p.text(at, base, bold, pt, l.Amount) + 1.4
	}
	if l.What == "" {
		return base + 0.8
	}
	indent := x
	if l.Tick {
		indent += 4.3
	}
	first, rest := p.firstLine(plain, pt, l.What, x+w-at)
	p.text(at, base, plain, pt, first)
	if rest == "" {
		return base + 0.8
	}
	return p.para(indent, base+0.4, x+w-indent, plain, pt, rest) + 0.2
}

// weighing lists what is weighed out, in two columns: a box, the amount, which
// lot it comes out of, and a blank for what did.
func (p *pen) weighing(c Card, y float64) float64 {
	if len(c.Weigh) == 0 {
		return y
	}
	y = p.heading(y, "weigh out", "as it lies on the shelf")
	w := (p.right - p.left - stepColumns) / 2
	for row := range slices.Chunk(c.Weigh, 2) {
		foot := y
		for i, l := range row {
			foot = max(foot, p.weighLine(l, p.left+float64(i)*(w+stepColumns), y, w, c.MassUnit))
		}
		y = foot + 1
	}
	return y + 0.4
}

func (p *pen) weighLine(l WeighLine, x, y, w float64, unit string) float64 {
	const large, small, blankW = 12.0, 9.5, 24.0
	textW := w
	if l.Blank {
		textW -= blankW + 3
	}
	at := p.tick(x, y+0.6+rise(large)+0.2, 3.6) + 1.6
	foot := p.led(at, y+0.6, x+textW-at, large, 11, l.Amount, l.What)
	if l.Of != "" {
		foot = p.para(at, foot-0.2, x+textW-at, plain, small, l.Of)
	}
	if !l.Blank {
		return foot
	}
	foot = max(foot, y+blankHigh+0.6)
	end := x + w - p.width(plain, 9, unit) - 1
	p.line(x+w-blankW, foot, end, foot, midline)
	p.textRight(x+w, foot-0.6, plain, 9, unit)
	return foot
}

// firstLine returns the words of s that fit in w and the words left over.
func (p *pen) firstLine(f face, pt float64, s string, w float64) (first, rest string) {
	words := strings.Fields(s)
	for n := len(words); n > 0; n-- {
		if line := strings.Join(words[:n], " "); p.width(f, pt, line) <= w {
			return line, strings.Join(words[n:], " ")
		}
	}
	return "", s
}

// outcomes sets what to expect; where there is little room, as text.
func (p *pen) outcomes(c Card, spare bool, y float64) float64 {
	const heading, remark = "what to expect", "the band holds nine times in ten"
	if len(c.Outcomes) == 0 {
		return y
	}
	if !spare {
		return p.entries(c.Outcomes, p.heading(y, heading, remark), 6, 12) + 0.6
	}
	var said []string
	for _, e := range c.Outcomes {
		said = append(said, join(" ", e.Label, e.Value, prefix("(", e.Band)))
		if e.Band != "" {
			said[len(said)-1] += ")"
		}
	}
	p.line(p.left, y, p.right, y, hairline)
	const pt = 9.2
	x := p.label(p.left, y+0.6+rise(pt), heading) + 3
	return p.para(x, y+0.6, p.right-x, plain, pt, strings.Join(said, " · ")+"; "+remark) + 0.8
}

// quiet is the white border a code needs, in modules: ISO/IEC 18004 asks for
// four (from memory).
const quiet = 4

// qr draws s as a QR code into a square of the given side, border included.
func (p *pen) qr(x, y, side float64, s string) error {
	code, err := goqr.EncodeText(s, goqr.Medium)
	if err != nil {
		return err
	}
	n := code.Size()
	if p.dry {
		return nil
	}
	m := side / float64(n+2*quiet)
	for row := range n {
		for col := 0; col < n; col++ {
			if !code.Module(col, row) {
				continue
			}
			run := col
			for run < n && code.Module(run, row) {
				run++
			}
			// One run of dark modules is one rectangle, so that no white
			// seam shows between modules.
			p.fill(x+m*float64(col+quiet), y+m*float64(row+quiet), m*float64(run-col), m*1.01)
			col = run
		}
	}
	return nil
}
