package paperwork

import (
	"slices"
	"strconv"
)

// Sizes of the rule in mm: what must be read from two metres. Figures stand
// ruleFigure high or higher, words ruleWord; split fractions carry figures of
// ruleFraction each.
const (
	ruleFigure   = 15.0
	ruleFraction = 9.0
	ruleWord     = 6.4
)

func pointsForCap(mm float64) float64 { return mm / capHeight / mmPerPoint }

// rule sets the recharge rule, the largest thing on the page.
func (p *pen) rule(c Card, tight bool, y float64) float64 {
	if len(c.Rule) == 0 {
		return y
	}
	p.line(p.left, y, p.right, y, midline)
	p.label(p.left, y+3.9, "at the vat")
	scale := 1.15
	if tight {
		scale = 1
	}
	for scale > 0.3 && p.ruleWidth(c.Rule, scale) > p.right-p.left {
		scale -= 0.02
	}
	half := ruleFigure*scale/2 + 0.6
	if slices.ContainsFunc(c.Rule, func(r RulePart) bool { return r.Quarters > 0 }) {
		half = ruleFraction + 1.2 // split fractions stand 20 mm high around the middle of the figures
	}
	mid := y + 5.4 + half
	x := p.left
	x += max(0, p.right-p.left-p.ruleWidth(c.Rule, scale)) / 2
	for _, part := range c.Rule {
		x = p.rulePart(part, x, mid, scale, true)
	}
	y = mid + half + 1.8
	for i, note := range c.RuleNote {
		f, pt := plain, 10.5
		if i == 0 {
			f, pt = bold, 11.5 // the exact amount
		}
		for _, line := range p.wrap(f, pt, note, p.right-p.left) {
			y += leading(pt)
			p.textMid((p.left+p.right)/2, y-1.2, f, pt, line)
		}
	}
	return y + 1.6
}

func (p *pen) ruleWidth(parts []RulePart, scale float64) float64 {
	x := 0.0
	for _, part := range parts {
		x = p.rulePart(part, x, 0, scale, false)
	}
	return x
}

// rulePart sets one piece of the rule around the middle line mid and returns
// the x after it. Only words shrink when the line is too long: figures keep
// their height.
func (p *pen) rulePart(part RulePart, x, mid, scale float64, show bool) float64 {
	was := p.dry
	p.dry = p.dry || !show
	defer func() { p.dry = was }()
	if !part.Number {
		pt := pointsForCap(ruleWord * scale * scale)
		return p.text(x, mid+ruleFigure*0.5*scale, plain, pt, part.Word) + 3.2*scale
	}
	figure := max(ruleFigure*scale, ruleFraction)
	if part.Whole > 0 || part.Quarters == 0 {
		x = p.text(x, mid+figure/2, bold, pointsForCap(figure), strconv.Itoa(part.Whole)) + 1.4
	}
	if part.Quarters > 0 {
		x = p.splitFraction(part.Quarters, x, mid)
	}
	return x + 2.6*scale
}

// splitFraction sets quarters as figures over a bar, each ruleFraction high.
func (p *pen) splitFraction(quarters int, x, mid float64) float64 {
	over, under := strconv.Itoa(quarters), "4"
	if quarters == 2 {
		over, under = "1", "2"
	}
	pt := pointsForCap(ruleFraction)
	w := max(p.width(bold, pt, over), p.width(bold, pt, under))
	p.textMid(x+w/2, mid-1.3, bold, pt, over)
	p.textMid(x+w/2, mid+1.3+ruleFraction, bold, pt, under)
	p.fill(x, mid-0.45, w, 0.9)
	return x + w
}

// shortTable is the most rows that stand in one column beside the blanks.
const shortTable = 6

// tests sets the table for the test sheets, with the blanks beside it, or,
// where it is long, in three columns with the blanks under it.
func (p *pen) tests(c Card, tight bool, y float64) float64 {
	if len(c.Tests.Rows) == 0 {
		return y
	}
	y = p.heading(y, c.Tests.Heading, c.Tests.Note)
	if len(c.Tests.Rows) > shortTable {
		foot := p.testRows(c.Tests.Rows, tight, y, p.right-p.left, 3) + 1.2
		const gap = 8.0
		w := (p.right - p.left - 2*gap) / 3
		p.blank(p.left, foot, w, "they weighed", c.Tests.Unit)
		p.blank(p.left+w+gap, foot, w, "room humidity", "% RH")
		return p.blank(p.left+2*(w+gap), foot, w, "how many sheets", "") + 1.4
	}
	const side = 56.0
	foot := p.testRows(c.Tests.Rows, tight, y, p.right-p.left-side-8, 1)
	x := p.right - side
	at := p.blank(x, y-0.4, side, "they weighed", c.Tests.Unit)
	half := (side - 6) / 2
	p.blank(x, at+1, half, "room humidity", "% RH")
	end := p.blank(x+half+6, at+1, half, "how many sheets", "")
	return max(foot, end) + 1.4
}

// testRows sets the rows in columns, down the first and on to the next.
func (p *pen) testRows(rows []TestRow, tight bool, y, w float64, columns int) float64 {
	const gap = 6.0
	each := (len(rows) + columns - 1) / columns
	cw := (w - gap*float64(columns-1)) / float64(columns)
	foot, column := y, 0
	for part := range slices.Chunk(rows, each) {
		at, x := y, p.left+float64(column)*(cw+gap)
		for i, row := range part {
			if i > 0 {
				p.line(x, at, x+cw, at, hairline)
			}
			at = p.testRow(row, tight, x, at, cw)
		}
		foot = max(foot, at)
		column++
	}
	return foot
}

func (p *pen) testRow(row TestRow, tight bool, x, y, w float64) float64 {
	pt, small, high := 11.5, 9.0, 6.8
	if w < 90 {
		pt, small, high = 9, 8, 5.6
	}
	if tight {
		high *= 0.94
	}
	base := y + high*0.74
	doX := x + w*0.4
	p.text(x, base, bold, p.fit(bold, pt, 6, row.Range, w*0.4-1), row.Range)
	exactW := 0.0
	if row.Exact != "" {
		exactW = p.width(plain, small, row.Exact) + 1.6
	}
	size := p.fit(bold, pt, pt*0.8, row.Do, w*0.6-exactW)
	end := p.text(doX, base, bold, size, row.Do)
	if end+exactW > x+w+0.1 {
		return p.para(doX, base+0.4, w*0.6, plain, small, row.Exact) + 1
	}
	p.text(end+1.6, base, plain, small, row.Exact)
	return y + high
}

// rechargeHeading starts the recharge table.
func (p *pen) rechargeHeading(y float64) float64 {
	return p.heading(y, "recharges", "tick each, or strike its sheet in the tally; the number is the sheet that comes next")
}

// recharge sets one act and the boxes of the sheets it comes before.
func (p *pen) recharge(g RechargeGroup, y float64) float64 {
	const actW, boxW, boxH = 62.0, 11.4, 6.2
	at := y + 4.6
	if g.RunDown {
		p.hollowWedge(p.left+1.5, at, 3)
	} else {
		p.wedge(p.left+1.5, at, 3)
	}
	end := p.text(p.left+4.6, at, bold, p.fit(bold, 11.5, 8, g.Act, actW-5), g.Act)
	if g.Exact != "" {
		if end+2+p.width(plain, 9, g.Exact) <= p.left+actW {
			p.text(end+1.6, at, plain, 9, g.Exact)
		} else {
			at = p.para(p.left+4.6, at+0.2, actW-5, plain, 9, g.Exact) - 0.6
		}
	}
	left := at + 1
	if g.WaterOff != "" {
		left = p.para(p.left+4.6, at+0.6, actW-6, plain, 9, g.WaterOff)
	}
	x0 := p.left + actW + 2
	if g.Every != "" {
		right := p.para(x0, y+0.9, p.right-x0, plain, 11, g.Every)
		return max(left, right) + 1.6
	}
	perRow := int((p.right - x0) / boxW)
	row := y + 0.6
	for i, n := range g.Before {
		if i > 0 && i%perRow == 0 {
			row += boxH + 0.6
		}
		x := x0 + float64(i%perRow)*boxW
		p.text(p.tick(x, row+4.6, 3.4)+0.9, row+4.3, plain, 9.5, strconv.Itoa(n))
	}
	return max(left, row+boxH-0.6) + 1
}
