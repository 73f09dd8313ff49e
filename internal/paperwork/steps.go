package paperwork

import "strconv"

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
