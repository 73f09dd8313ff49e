package paperwork

import "strconv"

// Columns of the steps, as shares of the width.
type stepColumns struct {
	name, hands, wait, keep, blank float64 // right or left edges, from x
}

// stepHeading names the columns of the steps over a width.
func (p *pen) stepHeading(x, y, w float64) float64 {
	col := columnsOf(w)
	p.label(x, y+2.8, "step")
	p.label(x+col.hands, y+2.8, "hands on")
	p.label(x+col.wait, y+2.8, "then wait")
	p.label(x+col.keep, y+2.8, "keep by")
	p.label(x+col.blank, y+2.8, "took, min")
	return y + 3.8
}

func columnsOf(w float64) stepColumns {
	if w > 120 {
		return stepColumns{name: 11.5, hands: w - 92, wait: w - 68, keep: w - 41, blank: w - 19}
	}
	return stepColumns{name: 9.5, hands: w - 60, wait: w - 43.5, keep: w - 27, blank: w - 14.5}
}

// step sets one step over width w: a box to tick, its number and name, its
// times, a blank for the minutes it took, and its cautions where the act is.
func (p *pen) step(n int, s Step, x, y, w float64) float64 {
	col := columnsOf(w)
	size, small := 10.5, 8.2
	if w <= 120 {
		size, small = 9, 7.4
	}
	p.line(x, y, x+w, y, hairline)
	base := y + 1.1 + rise(size)
	p.tick(x, base+0.3, 3.2)
	p.textRight(x+col.name-1.6, base, plain, size*0.92, strconv.Itoa(n))
	nameW := col.hands - col.name - 1.5
	foot := p.para(x+col.name, y+1.1, nameW, bold, size, s.Name)
	cell := func(from, to float64, f face, pt float64, text string) {
		if text == "" {
			return
		}
		foot = max(foot, p.para(x+from, base-rise(pt), to-from-1, f, pt, text))
	}
	cell(col.hands, col.wait, plain, size*0.92, s.HandsOn)
	cell(col.wait, col.keep, plain, size*0.92, s.Wait)
	cell(col.keep, col.blank, bold, size*0.92, s.KeepBy)
	textW := col.blank - col.name - 3
	if s.Note != "" {
		foot = p.para(x+col.name, foot-0.2, textW, plain, small, s.Note)
	}
	for _, caution := range s.Cautions {
		p.alert(x+col.name, foot+rise(small), 2.6)
		foot = p.para(x+col.name+3.6, foot, textW-3.6, bold, small, caution)
	}
	foot = max(foot+1, y+blankHigh+0.3)
	p.line(x+col.blank-2, y, x+col.blank-2, foot, hairline) // the cell is the blank
	return foot
}

// record sets the blanks for what is counted and measured at the end.
func (p *pen) record(c Card, y float64) float64 {
	y = p.heading(y, "write down", "sizes of one fair sheet; ten dry sheets weighed together in the room’s air")
	rows := [][][2]string{
		{{"pulled on", ""}, {"stock left", ""}, {"dry, long", lengthUnit(c)}, {"dry, short", lengthUnit(c)}, {"ten weigh, dry", c.MassUnit}},
		{{"good", ""}, {"retree", ""}, {"broken", ""}, {"broke", ""}, {"room humidity", "% RH"}},
	}
	const gap = 6.0
	for _, names := range rows {
		w := (p.right - p.left - gap*float64(len(names)-1)) / float64(len(names))
		foot := y
		for i, b := range names {
			foot = p.blank(p.left+float64(i)*(w+gap), y, w, b[0], b[1])
		}
		y = foot + 1.4
	}
	return y + 0.2
}

// lengthUnit is the unit of the blanks for the dry size.
func lengthUnit(c Card) string {
	if c.LengthUnit != "" {
		return c.LengthUnit
	}
	return "mm"
}

// remarks sets lines to write on down to the foot, at least so many.
func (p *pen) remarks(least int, y, foot float64) float64 {
	p.label(p.left, y+3, "remarks")
	at := y + 4
	room := max(foot-3.4-at, float64(least)*blankHigh)
	lines := max(least, int(room/blankHigh+0.001))
	for range lines {
		at += room / float64(lines)
		p.line(p.left, at, p.right, at, hairline)
	}
	return at + 2.4
}

// cautions sets those that belong to no step, with the plan's notes.
func (p *pen) cautions(c Card, y float64) float64 {
	if len(c.Cautions)+len(c.Notes) == 0 {
		return y
	}
	y = p.heading(y, "mind", "")
	const pt, indent = 9.0, 4.2
	for _, s := range c.Cautions {
		p.alert(p.left, y+rise(pt), 2.8)
		y = p.para(p.left+indent, y, p.right-p.left-indent, bold, pt, s)
	}
	for _, s := range c.Notes {
		p.text(p.left+0.6, y+rise(pt), plain, pt, "–")
		y = p.para(p.left+indent, y, p.right-p.left-indent, plain, pt, s)
	}
	return y + 1
}

// restsOn sets the line that says what the numbers rest on.
func (p *pen) restsOn(c Card, y float64) float64 {
	if c.RestsOn == "" {
		return y
	}
	p.line(p.left, y, p.right, y, hairline)
	x := p.label(p.left, y+0.4+rise(8.4), "rests on") + 2
	return p.para(x, y+0.4, p.right-x, plain, 8.4, c.RestsOn) + 0.8
}
