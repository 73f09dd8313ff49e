package intake

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"vatside/internal/belief"
	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/studio"
)

// slot is one line of a making's record: its place names its event.
type slot struct {
	name string
	body studio.Body
}

// past is what a row tells of a making.
type past struct {
	day                  time.Time
	paper                *paperOf
	design               plan.Paper
	sheet                plan.Sheet
	formedLong, formedSh float64
	good                 int // wished for
	slots                []slot
	saysDry, saysLost    bool
	saysKissed           bool
	saysWay              bool // how it was beaten and dried is known
}

// making reads one past making.
func (p *proposer) making(ctx context.Context, l *line) error {
	m := past{}
	var err error
	if m.day, err = l.day("date"); err != nil {
		return l.refuse(err)
	}
	if m.day.Year() < 2000 {
		return l.refuse(fault.Invalid("", "the record begins with the year 2000; %s is before it", m.day.Format(time.DateOnly)))
	}
	if err = p.designOf(l, &m); err != nil {
		return l.refuse(err)
	}
	l.Name = m.day.Format("2 Jan 2006") + ", " + m.paper.Name
	p.record(l, &m)
	number := l.text("number")
	texts := l.remarks()
	if number != "" {
		texts = append(texts, "Own number: "+number)
	}
	for _, n := range l.Notes {
		texts = append(texts, n+".")
	}
	if len(texts) > 0 {
		m.slots = append(m.slots, slot{"remark", studio.Remark{Text: strings.Join(texts, "\n")}})
	}
	m.slots = append(m.slots, slot{"closed", studio.Closed{}})
	id := p.idOf("making", m.day.Format(time.DateOnly), source.Plain(m.paper.Name), source.Plain(number))
	events := eventsOf(id, m)
	for _, e := range events {
		if err := studio.CheckRecord(e); err != nil {
			return l.refuse(fault.Invalid("", "%s: %s", e.Kind, fault.All(err)[0].Text))
		}
	}
	if p.there[id] {
		return p.again(ctx, l, id, events)
	}
	return p.add(l, id, m, events)
}

// add puts a new making into the batch, with the wish it answered.
func (p *proposer) add(l *line, id string, m past, events []studio.Event) error {
	brief := studio.Brief{ID: id, PaperID: m.paper.ID, PaperRevision: m.paper.revision(), GoodSheets: m.good, Sheet: m.sheet, ConfidencePct: 90,
		Settled: true, Created: m.day, Remarks: "From " + p.File + ", row " + fmt.Sprint(l.Line) + "."}
	if err := studio.CheckRecord(brief); err != nil {
		return l.refuse(err)
	}
	if !m.paper.there && !m.paper.batched {
		if err := studio.CheckRecord(m.paper.Paper); err != nil {
			return l.refuse(err)
		}
	}
	if who := l.text("customer"); who != "" {
		person, err := p.personOf(who)
		if err != nil {
			return l.refuse(err)
		}
		brief.PersonID = person
		l.say("for %s", who)
	}
	if !m.paper.there && !m.paper.batched {
		m.paper.batched = true
		p.batch.Papers = append(p.batch.Papers, m.paper.Paper)
		l.say("with the new paper %s", m.paper.Name)
	}
	req := plan.Request{Paper: m.design, Sheet: m.sheet, GoodSheets: &m.good, TestSheets: new(int)}
	if m.formedLong > 0 {
		req.Studio.Moulds = []plan.Mould{{LongMM: m.formedLong, ShortMM: m.formedSh}}
	}
	made := studio.Making{ID: id, BriefID: id, PaperID: m.paper.ID, PaperRevision: m.paper.revision(), PaperName: m.paper.Name,
		Request: req, Plan: p.planOf(req, m), Created: m.day}
	p.batch.Briefs = append(p.batch.Briefs, brief)
	p.batch.Makings = append(p.batch.Makings, studio.PastMaking{Making: made, Events: events})
	l.Does = Adds
	return nil
}

// eventsOf are the events of a making's record, in the order of the work. They
// stand on the day that was written, a second apart.
func eventsOf(id string, m past) []studio.Event {
	list := make([]studio.Event, len(m.slots))
	for i, s := range m.slots {
		list[i] = studio.NewEvent(id+"/"+s.name, m.day.Add(time.Duration(i)*time.Second), s.body)
		list[i].MakingID = id
	}
	return list
}

// record reads what was counted, weighed and measured.
func (p *proposer) record(l *line, m *past) {
	add := func(name string, b studio.Body) { m.slots = append(m.slots, slot{name, b}) }
	if g, ok := l.quantity("fibre weighed"); ok && g > 0 {
		add("fibre", studio.FibreWeighed{Grams: g})
		l.say("%.4g g of fibre", g)
	}
	pulled, okPulled := l.count("pulled")
	kissed, okKissed := l.count("kissed")
	if okPulled && pulled > 0 {
		add("post", studio.Post{Post: 1, Pulled: pulled, KissedOff: kissed})
		l.say("%d pulled", pulled)
		m.saysKissed = okKissed && kissed <= pulled
	}
	if left, ok := l.quantity("stock left"); ok {
		add("left", studio.StockLeft{Litres: left})
		l.say("%.3g L of stock left", left)
	}
	rh, _ := l.quantity("humidity")
	good, okGood := l.count("good")
	if g, ok := l.quantity("each"); ok && g > 0 {
		add("each", studio.WeighedDry{Sheets: 1, Grams: g, RHPct: rh})
		l.say("a sheet %.4g g", g)
	} else if g, ok := l.quantity("all"); ok && g > 0 && okGood && good > 0 {
		add("all", studio.WeighedDry{Sheets: good, Grams: g, RHPct: rh})
		l.say("all %.4g g", g)
	}
	if long, short, ok := l.size("dry", "dry long", "dry short"); ok {
		add("size", studio.DrySize{LongMM: long, ShortMM: short})
		l.say("dry %s", measure.ShowSize(measure.Length(long), measure.Length(short), p.System))
		m.saysDry = true
	}
	if t, ok := l.quantity("caliper"); ok && t > 0 {
		add("caliper", studio.Caliper{ThicknessMM: []float64{t}})
		l.say("%.3g mm thick", t)
	}
	grades := studio.Graded{Good: good}
	grades.Retree, _ = l.count("retree")
	grades.Broken, _ = l.count("broken")
	grades.Broke, _ = l.count("broke")
	if grades != (studio.Graded{}) {
		add("graded", grades)
		m.saysLost = okGood && okPulled && pulled-kissed >= good+grades.Retree+grades.Broken+grades.Broke
	}
	if okGood {
		l.say("%d good", good)
	}
	wanted, _ := l.count("wanted")
	for _, n := range []int{wanted, good, pulled, 1} { // what was wished for, as far as is known
		if m.good == 0 {
			m.good = n
		}
	}
}

// planOf is the plan of a past making: what the row itself says, and of what it
// may teach, nothing else. Numbers that only a plan could have set against the
// record stay out, so that nothing is learned from what was never reckoned.
func (p *proposer) planOf(req plan.Request, m past) plan.Plan {
	pl := plan.Plan{Figures: map[string]figure.Figure{}, Warnings: []plan.Warning{{Code: studio.CameIn,
		Text: "This making was taken in from " + p.File + ". No plan was made for it here: all there is of it is what was written down."}}}
	held := true
	for _, z := range m.slots {
		if d, ok := z.body.(studio.DrySize); ok && (d.LongMM > m.formedLong || d.ShortMM > m.formedSh) {
			held = false // larger than it was formed: one of the two is not what it says
		}
	}
	if m.formedLong > 0 {
		pl.Figures["formed_long_mm"] = written(m.formedLong, "mm")
		pl.Figures["formed_short_mm"] = written(m.formedSh, "mm")
	}
	for _, t := range p.teachesOf(req) {
		teaches := false
		switch t.Key {
		case "kissed_off_pct":
			teaches = m.saysKissed
		case "lost_later_pct":
			teaches = m.saysLost
		case "shrink_long_pct", "shrink_short_pct":
			teaches = m.saysWay && m.saysDry && held && m.formedLong > 0
		case "density_g_cm3":
			teaches = m.saysWay && m.saysDry
		}
		if teaches {
			pl.RestsOn = append(pl.RestsOn, t)
		}
	}
	return pl
}

func written(v float64, unit string) figure.Figure {
	return figure.Figure{Kind: figure.Decision, Value: v, Low: v, High: v, Unit: unit, Basis: source.Practice,
		Sum: []figure.Line{{What: "as it was written down", Working: fmt.Sprintf("%g", v), Result: fmt.Sprintf("%g %s", v, unit)}}}
}

// teaches is what the makings of a design rest on.
type teaches []plan.Prior

func (p *proposer) teachesOf(req plan.Request) teaches {
	key, err := json.Marshal(req.Paper)
	if err != nil {
		return nil
	}
	if list, ok := p.keys[string(key)]; ok {
		return list
	}
	var list teaches
	beliefs, err := plan.Beliefs(req, belief.Known{})
	known := plan.KnownKeys()
	for i, b := range beliefs {
		if i < len(known) && slices.Contains([]string{"kissed_off_pct", "lost_later_pct", "shrink_long_pct", "shrink_short_pct", "density_g_cm3"}, known[i]) {
			list = append(list, plan.Prior{Key: known[i], Name: b.Name, Value: b.Centre(), Source: b.Source, Grade: b.Grade, State: "handbook", Belief: b.Key})
		}
	}
	if err == nil { // a request that cannot be planned may be one row's fault
		p.keys[string(key)] = list
	}
	return list
}

// again compares a row with the making it brought before. What the record has
// had at any time is not said again: a correction made here stands.
func (p *proposer) again(ctx context.Context, l *line, id string, events []studio.Event) error {
	old, err := p.past.Events(ctx, id)
	if err != nil {
		return err
	}
	l.Does, l.Says = Skips, nil
	for _, e := range events {
		had, same, fixes := false, false, 0
		for _, o := range old {
			if o.ID == e.ID || o.Corrects == e.ID {
				had = true
				same = same || bytes.Equal(o.Body, e.Body)
			}
			if strings.HasPrefix(o.ID, e.ID+"/") {
				fixes++
			}
		}
		if same {
			continue
		}
		l.say("%s: %s", e.Kind, words(e.Body))
		if had {
			e = studio.Event{ID: fmt.Sprintf("%s/%d", e.ID, fixes+1), MakingID: id, Kind: studio.KindCorrection, Body: e.Body, At: p.Now.UTC().Truncate(time.Millisecond), Corrects: e.ID}
		}
		l.Does = Changes
		p.batch.Events = append(p.batch.Events, e)
	}
	return nil
}

// words says an entry's body in short: its keys and what they hold.
func words(body json.RawMessage) string {
	s := strings.NewReplacer(`"`, "", "{", "", "}", "", "[", "", "]", "", "_", " ", ":", " ", ",", ", ").Replace(string(body))
	if r := []rune(s); len(r) > 120 {
		s = string(r[:120]) + "…"
	}
	return s
}
