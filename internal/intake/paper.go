package intake

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/studio"
)

// paperOf is a paper that is there, or one that a sheet brings.
type paperOf struct {
	studio.Paper
	there   bool
	batched bool
}

// revision is the one its makings are of.
func (p *paperOf) revision() int {
	if p.there {
		return p.Revision
	}
	return 1
}

// dryings are the words for ways of drying, besides the trade's own.
var dryings = []struct{ word, way string }{
	{"stack", "stack"}, {"restrain", "stack"}, {"fan", "stack"}, {"blotters and", "stack"}, {"exchange", "exchange"}, {"blotter", "exchange"}, {"blotting", "exchange"},
	{"board", "board"}, {"glass", "board"}, {"window", "board"}, {"wall", "board"}, {"panel", "board"}, {"plexi", "board"},
	{"loft", "loft"}, {"line", "loft"}, {"hung", "loft"}, {"hang", "loft"}, {"free", "free"}, {"unheld", "free"}, {"loose", "free"}, {"air", "free"},
}

func dryingOf(text string) (string, error) {
	t := strings.ToLower(text)
	if slices.Contains(fibre.Dryings(), t) {
		return t, nil
	}
	for _, d := range dryings {
		if strings.Contains(t, d.word) {
			return d.way, nil
		}
	}
	return "", fault.Invalid("", "ways of drying are %s", strings.Join(fibre.Dryings(), ", "))
}

// said is what a row says of its paper's design.
type said struct {
	name     string
	furnish  []plan.Part
	grammage float64
	hours    *float64
	drying   string
}

// paperSaid reads what a row says of a design.
func (l *line) paperSaid() (s said, err error) {
	s.name = strings.Join(strings.Fields(l.text("paper")), " ")
	if text, column := l.cell("furnish"); text != "" {
		_, _, heading := l.how("furnish", column)
		parts, notes, err := l.p.blend(text)
		if err != nil {
			return s, fault.Invalid("", "%s", cannot(l.Line, max(column, 0), heading, err))
		}
		s.furnish = parts
		for _, n := range notes {
			l.note(heading, n)
		}
	}
	if g, ok := l.quantity("grammage"); ok {
		s.grammage = g
	}
	if h, ok := l.quantity("beating"); ok {
		s.hours = &h
	}
	if text, column := l.cell("drying"); text != "" {
		_, _, heading := l.how("drying", column)
		if s.drying, err = dryingOf(text); err != nil {
			l.keep(heading, text, err)
		}
	}
	if s.name == "" && len(s.furnish) > 0 {
		s.name = furnishWords(s.furnish)
	}
	return s, nil
}

// blend is a furnish as it was read. A notebook names few, many times.
type blend struct {
	parts []plan.Part
	notes []string
	err   error
}

func (p *proposer) blend(text string) ([]plan.Part, []string, error) {
	b, ok := p.blends[text]
	if !ok {
		b.parts, b.notes, b.err = readFurnish(text, p.shelf, p.System)
		p.blends[text] = b
	}
	return slices.Clone(b.parts), b.notes, b.err
}

// furnishWords names a paper that has no name by what it is made of.
func furnishWords(parts []plan.Part) string {
	words := make([]string, len(parts))
	for i, p := range parts {
		words[i] = p.Fibre
		if len(parts) > 1 {
			words[i] += fmt.Sprintf(" %.3g %%", p.SharePct)
		}
	}
	return strings.Join(words, ", ")
}

// gather finds for each new paper what any row says of it: one row may name
// the fibre, another the weight.
func (p *proposer) gather(from int) {
	above := slices.Clone(p.above)
	for _, row := range p.Sheet.Rows[from:] {
		l := &line{p: p, row: p.ditto(row)}
		s, err := l.paperSaid()
		key := source.Plain(s.name)
		if err != nil || key == "" || p.papers[key] != nil && p.papers[key].there {
			continue
		}
		one := p.papers[key]
		if one == nil {
			one = &paperOf{}
			one.Name, one.Note = s.name, "Taken in with the makings of "+p.File+"."
			one.Design = plan.Paper{Name: s.name, Forming: "western"}
			p.papers[key] = one
		}
		if s.grammage == 0 {
			s.grammage = l.grammageFound()
		}
		long, short, ok := l.size("dry", "dry long", "dry short")
		if !ok {
			long, short, ok = l.size("formed", "", "")
		}
		d := &one.Design
		if len(d.Furnish) == 0 {
			d.Furnish = s.furnish
		}
		if d.GrammageConditioned == 0 {
			d.GrammageConditioned = s.grammage
		}
		if d.BeatingHours == nil {
			d.BeatingHours = s.hours
		}
		if d.Drying == "" {
			d.Drying = s.drying
		}
		if one.Sheet.LongMM == 0 && ok {
			one.Sheet = plan.Sheet{LongMM: long, ShortMM: short, Edges: "deckle"}
		}
	}
	p.above = above
}

// grammageFound is what a sheet's weight and size come to; 0: not known.
func (l *line) grammageFound() float64 {
	g, ok := l.quantity("each")
	if !ok {
		all, okAll := l.quantity("all")
		n, okN := l.count("good")
		if g, ok = all/float64(max(n, 1)), okAll && okN && n > 0; !ok {
			return 0
		}
	}
	long, short, ok := l.size("dry", "dry long", "dry short")
	if !ok || long*short == 0 {
		return 0
	}
	return g / (long * short / 1e6)
}

// designOf finds the paper of a making, and what was wanted of this one.
func (p *proposer) designOf(l *line, m *past) error {
	s, err := l.paperSaid()
	if err != nil {
		return err
	}
	if s.name == "" {
		return fault.Invalid("", "the row names neither a paper nor a fibre")
	}
	one := p.papers[source.Plain(s.name)]
	if one == nil || !one.there && len(one.Design.Furnish) == 0 {
		return fault.Invalid("", "no row says what %s is made of, and no paper here is called so; say it below, for all rows that do not", s.name)
	}
	if !one.there && one.ID == "" {
		if one.Design.GrammageConditioned <= 0 {
			return fault.Invalid("", "no row says how heavy %s is, in g/m² or by weight and size of a sheet; say it below, for all rows that do not", s.name)
		}
		if one.Sheet.LongMM == 0 {
			one.Sheet = p.kit.DefaultSheet
		}
		one.ID = p.idOf("paper", source.Plain(s.name))
	}
	m.paper, m.design, m.sheet = one, one.Design, one.Sheet
	if len(s.furnish) > 0 {
		m.design.Furnish = s.furnish
	}
	if s.grammage > 0 {
		m.design.GrammageConditioned = s.grammage
	}
	if s.hours != nil {
		m.design.BeatingHours = s.hours
	}
	if s.drying != "" {
		m.design.Drying = s.drying
	}
	m.saysWay = (s.hours != nil || one.there && one.Design.BeatingHours != nil) && (s.drying != "" || one.there && one.Design.Drying != "")
	l.designSaid(s)
	if long, short, ok := (&line{p: p, row: l.row}).size("dry", "dry long", "dry short"); ok {
		m.sheet = plan.Sheet{LongMM: long, ShortMM: short, Edges: "deckle"}
	}
	if long, short, ok := l.size("formed", "", ""); ok {
		m.formedLong, m.formedSh = long, short
		l.say("formed %s", measure.ShowSize(measure.Length(long), measure.Length(short), p.System))
	}
	return nil
}

func (l *line) designSaid(s said) {
	if len(s.furnish) > 0 {
		l.say("%s", furnishWords(s.furnish))
	}
	if s.grammage > 0 {
		l.say("%.4g g/m²", s.grammage)
	}
	if s.hours != nil {
		l.say("beaten %.3g h", *s.hours)
	}
	if s.drying != "" {
		l.say("dried: %s", s.drying)
	}
}

// paper reads a row of a list of papers.
func (p *proposer) paper(_ context.Context, l *line) error {
	s, err := l.paperSaid()
	if err != nil {
		return l.refuse(err)
	}
	if s.name == "" {
		return l.refuse(fault.Invalid("", "the row names no paper"))
	}
	l.Name = s.name
	key := source.Plain(s.name)
	if p.seen["paper "+key]++; p.seen["paper "+key] > 1 {
		return l.refuse(fault.Invalid("", "%s stands in the sheet twice; the first row is taken", s.name))
	}
	one := studio.Paper{Name: s.name, Design: plan.Paper{Name: s.name, Forming: "western"}, Sheet: p.kit.DefaultSheet}
	old, there := p.papers[key]
	if there {
		one = old.Paper
	} else {
		one.ID = p.idOf("paper", key)
	}
	p.fillPaper(l, s, &one)
	if err := studio.CheckRecord(one); err != nil {
		return l.refuse(err)
	}
	switch {
	case !there:
		l.Does = Adds
		l.designSaid(s)
	case reflect.DeepEqual(one, old.Paper):
		l.Does = Skips
		return nil
	default:
		l.Does = Changes
		l.Says = differing(old.Paper, one)
		one.Change = "Taken in from " + p.File + "."
	}
	p.batch.Papers = append(p.batch.Papers, one)
	return nil
}

// fillPaper writes what a row says into a paper; the rest stays.
func (p *proposer) fillPaper(l *line, s said, one *studio.Paper) {
	d := &one.Design
	if len(s.furnish) > 0 && !sameFurnish(d.Furnish, s.furnish) {
		d.Furnish = s.furnish
	}
	if s.grammage > 0 {
		d.GrammageConditioned = s.grammage
	}
	if s.hours != nil && (d.BeatingHours == nil || *d.BeatingHours != *s.hours) {
		d.BeatingHours = s.hours
	}
	if s.drying != "" {
		d.Drying = s.drying
	}
	for key, to := range map[string]*string{"use": &d.Use, "surface size": &d.SurfaceSize, "finish": &d.Finish} {
		if t := l.text(key); t != "" {
			*to = t
		}
	}
	if t := strings.ToLower(l.text("forming")); t == "western" || t == "several dips" || t == "poured" {
		d.Forming = t
	}
	if long, short, ok := l.size("dry", "dry long", "dry short"); ok {
		one.Sheet.LongMM, one.Sheet.ShortMM = long, short
	}
	if list := l.remarks(); len(list) > 0 {
		one.Note = strings.Join(list, "\n")
	}
}

// sameFurnish reports whether two furnishes name the same fibres in the same
// shares; the rest of a part is not a sheet's to say.
func sameFurnish(a, b []plan.Part) bool {
	return slices.EqualFunc(a, b, func(x, y plan.Part) bool { return x.Fibre == y.Fibre && x.SharePct == y.SharePct })
}

// differing says what a row changes in a paper.
func differing(old, now studio.Paper) []string {
	var list []string
	add := func(what, was, is string) {
		if was != is {
			list = append(list, fmt.Sprintf("%s: %s instead of %s", what, orNothing(is), orNothing(was)))
		}
	}
	hours := func(h *float64) string {
		if h == nil {
			return ""
		}
		return fmt.Sprintf("%.3g h", *h)
	}
	add("fibres", furnishWords(old.Design.Furnish), furnishWords(now.Design.Furnish))
	add("grammage", fmt.Sprintf("%.4g g/m²", old.Design.GrammageConditioned), fmt.Sprintf("%.4g g/m²", now.Design.GrammageConditioned))
	add("beaten", hours(old.Design.BeatingHours), hours(now.Design.BeatingHours))
	add("drying", old.Design.Drying, now.Design.Drying)
	add("use", old.Design.Use, now.Design.Use)
	add("surface size", old.Design.SurfaceSize, now.Design.SurfaceSize)
	add("finish", old.Design.Finish, now.Design.Finish)
	add("size", fmt.Sprintf("%.4g × %.4g mm", old.Sheet.LongMM, old.Sheet.ShortMM), fmt.Sprintf("%.4g × %.4g mm", now.Sheet.LongMM, now.Sheet.ShortMM))
	add("remarks", old.Note, now.Note)
	return list
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}
