package paperwork

// place is one blank of the record: its label, its unit, and its share of the
// row's width.
type place struct {
	name, unit string
	share      float64
}

// recordRows are the blanks for what is counted and measured, in the order in
// which the record asks for it and in its words.
func recordRows(c Card) [][]place {
	length, mass := or(c.LengthUnit, "mm"), c.MassUnit
	rows := [][]place{
		{{"pulled on", "", 1.1}, {"stock left", or(c.StockUnit, "L"), 1}, {"dry, long", length, 1}, {"dry, short", length, 1}, {"they weigh, dry", mass, 1}, {"room humidity", "% RH", 1}},
		{{"dry sheets weighed", "", 1.3}, {"good", "", 1}, {"retree", "", 1}, {"broken", "", 1}, {"broke", "", 1}, {"caliper: readings", length, 2.2}},
	}
	measured := []place{{"diagonals: one", length, 1}, {"the other", length, 1}, {"long side", length, 1}, {"short side", length, 1}}
	if c.Sized {
		rows = append(rows, append(measured, place{"sized: before, dry", mass, 1.1}, place{"drained, wet", mass, 1}, place{"bath", "%", 0.8}))
		return append(rows, []place{{"ink strip: 1 soaks through to 6 beads", "", 2}, {"the hand says: handle", "", 1.3}, {"rattle", "", 1}, {"tooth", "", 1}, {"and", "", 1.4}})
	}
	return append(rows, append(measured, place{"the hand says: handle", "", 1.5}, place{"rattle", "", 0.9}, place{"tooth", "", 0.9}))
}

// record sets the blanks for what is counted and measured at the end.
func (p *pen) record(c Card, y float64) float64 {
	y = p.heading(y, "write down", "sizes of one fair sheet; ten dry sheets weighed together in the room’s air")
	for _, row := range recordRows(c) {
		y = p.places(row, y) + 1.4
	}
	return y + 0.2
}

// places sets blanks beside one another and returns the y under them.
func (p *pen) places(row []place, y float64) float64 {
	const gap = 5.0
	sum, x, foot := 0.0, p.left, y
	for _, b := range row {
		sum += b.share
	}
	whole := p.right - p.left - gap*float64(len(row)-1)
	for _, b := range row {
		w := whole * b.share / sum
		foot = max(foot, p.blank(x, y, w, b.name, b.unit))
		x += w + gap
	}
	return foot
}

// readings sets the blanks for what is read at the beater, so many times at
// most; what is beaten within the hour is read once.
func (p *pen) readings(c Card, times int, y float64) float64 {
	times = min(times, c.Readings)
	if times == 0 {
		return y
	}
	y = p.heading(y, "at the beater", "the test is read in seconds, °SR or mL CSF: ring one; read on the way and where you stop")
	row := []place{{"beaten until now", "h", 1}, {"the test says", "", 1}, {"the roll", "", 1.8}, {"water of the test", or(c.TempUnit, "°C"), 1}, {"load", "", 0.6}}
	for i := range times {
		if i > 0 {
			y -= 2.8 // the first row has the labels
		}
		y = p.places(row, y)
		for j := range row {
			row[j].name = ""
		}
	}
	return y + 1.4
}

// or is s, or usual where there is none.
func or(s, usual string) string {
	if s == "" {
		return usual
	}
	return s
}

// remarks sets lines to write on down to the foot, at least so many.
func (p *pen) remarks(least int, y, foot float64) float64 {
	p.label(p.left, y+3, "remarks")
	at := y + 1 // the label stands on the first line
	room := max(foot-3.4-at, float64(least)*blankHigh)
	lines := max(least, int(room/blankHigh+0.001))
	for range lines {
		at += room / float64(lines)
		p.line(p.left, at, p.right, at, hairline)
	}
	return at + 2.4
}

// cautions sets those that belong to no step, with what the plan has to say.
func (p *pen) cautions(c Card, notes []string, y float64) float64 {
	if len(c.Cautions)+len(notes) == 0 {
		return y
	}
	const pt = 9.0
	p.line(p.left, y, p.right, y, hairline)
	y += 0.8
	x := p.label(p.left, y+rise(pt), "mind") + 3
	indent := x + 4.2
	for _, s := range c.Cautions {
		p.alert(x, y+rise(pt), 2.8)
		y = p.para(indent, y, p.right-indent, bold, pt, s)
	}
	for _, s := range notes {
		p.text(x+0.6, y+rise(pt), plain, pt, "–")
		y = p.para(indent, y, p.right-indent, plain, pt, s)
	}
	return y + 0.6
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
