package paperwork

import (
	"cmp"
	"strconv"
)

// stepType is the type that steps are set in: the size of names and of text.
type stepType struct{ name, text float64 }

var (
	roomySteps = stepType{11, 9.2}
	closeSteps = stepType{9.6, 8}
)

// Measures of a step, in mm.
const (
	stepIndent  = 9.5 // from its edge to its name
	stepBlank   = 15  // the cell for the minutes it took
	stepColumns = 7   // between the two columns of steps
	stepTick    = 3.2
	tickPitch   = 5.2 // from box to box
	mostTicks   = 45  // boxes of one line; more are a stroke each
)

// step sets one step over width w: a box to tick, its number and name, its
// times, a cell for the minutes it took, then what to do in it, and its
// cautions where the act is.
func (p *pen) step(n int, s Step, x, y, w float64, t stepType) float64 {
	p.line(x, y, x+w, y, hairline)
	base := y + 1.1 + rise(t.name)
	p.tick(x, base+0.3, stepTick)
	p.textRight(x+stepIndent-1.6, base, plain, t.name*0.92, strconv.Itoa(n))
	at, cellX, textW := x+stepIndent, x+w-stepBlank, w-stepIndent
	foot := p.named(s, at, y+1.1, cellX-2-at, t)
	note := s.Note
	if len(p.wrap(plain, t.text, note, cellX-2-at)) == 1 {
		foot, note = p.para(at, foot-0.2, cellX-2-at, plain, t.text, note), ""
	}
	cell := max(foot+0.6, y+blankHigh+0.3)
	p.line(cellX, y, cellX, cell, hairline)
	p.textRight(x+w, cell-0.8, plain, t.text, "min")
	if note != "" || len(s.Lines)+len(s.Cautions) > 0 {
		p.line(cellX, cell, x+w, cell, hairline)
		foot = cell
	}
	for _, l := range s.Lines {
		foot = p.stepLine(l, at, foot+0.5, textW, t)
	}
	foot = p.para(at, foot+0.2, textW, plain, t.text, note)
	for _, caution := range s.Cautions {
		foot = p.warned(caution, at, foot, textW, t.text)
	}
	return max(foot+1, cell)
}

// named sets a step's name and, behind it where they fit, its times.
func (p *pen) named(s Step, x, y, w float64, t stepType) float64 {
	foot := p.para(x, y, w, bold, t.name, s.Name)
	times := s.times()
	if end := p.width(bold, t.name, s.Name) + 2.4; end+p.width(plain, t.text, times) <= w {
		p.text(x+end, y+rise(t.name), plain, t.text, times)
		return foot
	}
	return p.para(x, foot-0.2, w, plain, t.text, times)
}

// times says in one line what a step takes.
func (s Step) times() string {
	return join(" · ", s.HandsOn, prefix("wait ", s.Wait), prefix("go on within ", s.KeepBy))
}

// warned sets a caution behind its sign.
func (p *pen) warned(text string, x, y, w, pt float64) float64 {
	p.alert(x, y+rise(pt), 2.6)
	return p.para(x+3.6, y, w-3.6, bold, pt, text)
}

// stepLine sets one thing to do: its amount, what it is of, a box for each time,
// and under it how.
func (p *pen) stepLine(l StepLine, x, y, w float64, t stepType) float64 {
	indent := x
	if l.Ticks == 1 {
		p.tick(x, y+rise(t.name)+0.3, stepTick)
		indent += stepTick + 1.4
	}
	small := t.text + 0.6
	boxes := float64(l.Ticks)*tickPitch + 1
	if end := indent + p.width(bold, t.name, l.Amount) + 1.4 + p.width(plain, small, l.What) + 2; l.Ticks > 1 && end+boxes <= x+w {
		p.ticks(l.Ticks, end, y+rise(t.name)+0.3-stepTick, boxes)
		l.Ticks = 0
	}
	y = p.led(indent, y, x+w-indent, t.name, small, l.Amount, l.What)
	if l.Ticks > 1 {
		y = p.ticks(min(l.Ticks, mostTicks), indent, y+0.8, x+w-indent)
	}
	if l.How != "" {
		y = p.para(indent, y, x+w-indent, plain, t.text, l.How)
	}
	for _, text := range l.Against {
		y = p.warned(text, indent, y, x+w-indent, t.text)
	}
	return y
}

// led sets an amount in bold and after it what it is of, wrapped under both.
func (p *pen) led(x, y, w, large, small float64, amount, what string) float64 {
	base := y + rise(large)
	end := p.text(x, base, bold, large, amount) + 1.4
	if amount == "" {
		end = x
	}
	first, rest := p.firstLine(plain, small, what, x+w-end)
	p.text(end, base, plain, small, first)
	y += leading(large)
	if rest == "" {
		return y
	}
	return p.para(x, y, w, plain, small, rest)
}

// ticks sets so many boxes in rows.
func (p *pen) ticks(n int, x, y, w float64) float64 {
	perRow := max(1, int((w+tickPitch-stepTick)/tickPitch))
	for i := range n {
		p.tick(x+float64(i%perRow)*tickPitch, y+stepTick+float64(i/perRow)*tickPitch, stepTick)
	}
	return y + float64((n+perRow-1)/perRow)*tickPitch - 0.6
}

// stepParts lists the steps in two columns, after the parts before them;
// parted, as many at a time as a page has room for.
func (p *pen) stepParts(c Card, before []part, s setting) []part {
	if len(c.Steps) == 0 {
		return nil
	}
	head := p.measured(func(y float64) float64 {
		return p.heading(y, "steps in order", "time by hand, then the wait, and by when the next step must begin; write the minutes it took")
	})
	head.glue, head.fresh = true, true
	list := []part{head}
	t, steps := roomySteps, c.Steps
	if s.steps {
		t = closeSteps
	}
	if !s.long {
		steps = gravest(steps)
	}
	room := p.room() - runningHead
	left := room
	if s.parted {
		left = p.leftAfter(before) - head.high
	}
	for at := 0; at < len(steps); left = room {
		band := func(n int) part {
			from := at + 1
			some := steps[at : at+n]
			return p.measured(func(y float64) float64 { return p.twoColumns(from, some, y, t) })
		}
		n := len(steps) - at
		for s.parted && n > 1 && band(n).high > left {
			n--
		}
		list = append(list, band(n))
		at += n
	}
	return list
}

// twoColumns sets steps in two columns, broken where the longer is shortest.
func (p *pen) twoColumns(number int, steps []Step, y float64, t stepType) float64 {
	w := (p.right - p.left - stepColumns) / 2
	highs, total := make([]float64, len(steps)), 0.0
	for i, s := range steps {
		highs[i] = p.measured(func(y float64) float64 { return p.step(number+i, s, p.left, y, w, t) }).high
		total += highs[i]
	}
	breakAt, best, sum := len(steps), total, 0.0
	for i, high := range highs {
		sum += high
		if longer := max(sum, total-sum); longer < best {
			breakAt, best = i+1, longer
		}
	}
	at, foot := y, y
	for i, s := range steps {
		x := p.left
		if i >= breakAt {
			x += w + stepColumns
		}
		if i == breakAt {
			at = y
		}
		at = p.step(number+i, s, x, at, w, t)
		foot = max(foot, at)
	}
	return foot
}

// place is one blank of the record: its label, its unit, and its share of the
// row's width.
type place struct {
	name, unit string
	share      float64
}

// recordRows are the blanks for what is counted and measured, in the order in
// which the record asks for it and in its words.
func recordRows(c Card) [][]place {
	length, mass := cmp.Or(c.LengthUnit, "mm"), c.MassUnit
	rows := [][]place{
		{{"pulled on", "", 1.1}, {"stock left", cmp.Or(c.StockUnit, "L"), 1}, {"dry, long", length, 1}, {"dry, short", length, 1}, {"they weigh, dry", mass, 1}, {"room humidity", "% RH", 1}},
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
	row := []place{{"beaten until now", "h", 1}, {"the test says", "", 1}, {"the roll", "", 1.8}, {"water of the test", cmp.Or(c.TempUnit, "°C"), 1}, {"load", "", 0.6}}
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
