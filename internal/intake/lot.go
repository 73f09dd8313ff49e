package intake

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/studio"
)

// lot reads a row of a list of what lies on the shelf.
func (p *proposer) lot(ctx context.Context, l *line) error {
	what, name := l.text("what"), l.text("name")
	if what == "" {
		what = name
	}
	if what == "" {
		return l.refuse(fault.Invalid("", "the row names no fibre or additive"))
	}
	if f, ok := p.shelf.Get(what); ok {
		what = f.Name
	}
	row := studio.Lot{Name: name, What: what, Form: studio.AsBought}
	if err := p.lotSaid(l, &row); err != nil {
		return l.refuse(err)
	}
	row.ID = p.idOf("lot", source.Plain(name), source.Plain(what), string(row.Form), l.text("since"))
	old, there := p.lots["id "+row.ID]
	if !there && name != "" {
		old, there = p.lots[source.Plain(name)]
	}
	if there && old.Finished() {
		return l.refuse(fault.Invalid("", "%s are finished sheets, which are counted on their own page", old.Name))
	}
	if there { // what the row does not say stays as it is
		if l.text("what") == "" {
			row.What = old.What
		}
		if l.text("form") == "" {
			row.Form = old.Form
		}
		l.Name = old.Name
		if p.rows[old.ID] {
			return l.refuse(fault.Invalid("", "%s stands in the sheet twice; the first row is taken", old.Name))
		}
	}
	grams, said, err := l.amount(&row)
	if err != nil {
		return l.refuse(err)
	}
	if there {
		return p.lotAgain(ctx, l, old, row, grams, said)
	}
	if row.Since == "" {
		row.Since = p.Now.Format(time.DateOnly)
	}
	row.Name = p.freeName(row)
	l.Name = row.Name
	if err := studio.CheckRecord(row); err != nil {
		return l.refuse(err)
	}
	l.Does, p.rows[row.ID] = Adds, true
	p.lots[source.Plain(row.Name)] = row
	p.batch.Lots = append(p.batch.Lots, row)
	if grams > 0 {
		l.say("%.5g g of %s", grams, what)
		p.batch.Moves = append(p.batch.Moves, studio.Movement{ID: row.ID + "/in", LotID: row.ID, Kind: studio.Received, MassG: grams, At: p.Now, Note: p.noted()})
	} else {
		l.say("%s, without an amount", what)
	}
	return nil
}

// noted is what stands at a movement that the sheet brings.
func (p *proposer) noted() string { return strings.TrimSpace("from " + p.File) }

// lotSaid reads what a row says of a lot besides its amount.
func (p *proposer) lotSaid(l *line, row *studio.Lot) error {
	form := strings.ToLower(l.text("form"))
	switch {
	case strings.Contains(form, "stock"), strings.Contains(form, "wet"), strings.Contains(form, "beaten"):
		row.Form = studio.WetStock
	case strings.Contains(form, "scrap"), strings.Contains(form, "broke"), strings.Contains(form, "trim"):
		row.Form = studio.Scraps
	}
	if m, ok := l.quantity("moisture"); ok {
		row.MoisturePct = &m
	}
	if v, ok := l.price(); ok {
		row.PriceKg = &v
		row.Currency = p.kit.Currency
	}
	for key, to := range map[string]*string{"since": &row.Since, "keep by": &row.KeepBy} {
		if l.text(key) == "" {
			continue
		}
		d, err := l.day(key)
		if err != nil {
			return err
		}
		*to = d.Format(time.DateOnly)
	}
	row.Note = strings.Join(l.remarks(), "\n")
	return nil
}

// amount reads how much there is, as people write it.
func (l *line) amount(row *studio.Lot) (grams float64, said bool, err error) {
	text, column := l.cell("amount")
	if text == "" {
		return 0, false, nil
	}
	unit, st, heading := l.how("amount", column)
	if g, note, err := st.number(measure.OfMass, text, unit, l.p.System); err == nil {
		l.note(heading, note)
		return g, true, nil
	}
	t, _ := roughly(text)
	grams, moisture, err := studio.ReadLotAmount("", t, l.p.System, row.What, row.Form)
	if err != nil {
		return 0, false, fault.Invalid("", "%s", cannot(l.Line, max(column, 0), heading, err))
	}
	if moisture != nil {
		row.MoisturePct = moisture
	}
	return grams, true, nil
}

var moneyWords = regexp.MustCompile(`(?i)[$€£¥]|\b(?:eur|usd|gbp|chf|cad|aud)\b|(?:/|\bper\b|\ba\b)?\s*\b(kg|lb|lbs|g|oz)\b`)

// price reads money for a mass, as money for a kilogram.
func (l *line) price() (perKg float64, ok bool) {
	text, column := l.cell("price")
	if text == "" {
		return 0, false
	}
	unit, st, heading := l.how("price", column)
	if m := moneyWords.FindAllStringSubmatch(text, -1); len(m) > 0 {
		for _, one := range m {
			if one[1] != "" {
				unit = strings.ToLower(one[1])
			}
		}
	}
	bareText := strings.Trim(moneyWords.ReplaceAllString(text, " "), " /")
	v, note, err := st.number(measure.OfNumber, bareText, "", l.p.System)
	if err != nil {
		l.keep(heading, text, err)
		return 0, false
	}
	l.note(heading, note)
	mass, err := measure.Parse(measure.OfMass, "1 "+unit, l.p.System)
	if err != nil || mass <= 0 {
		mass = 1000
	}
	return math.Round(v/mass*1000*100) / 100, true
}

// freeName is the name of a lot: the one given, or what it is and since when,
// told apart from others.
func (p *proposer) freeName(row studio.Lot) string {
	name := row.Name
	if name == "" {
		name = row.What
		if row.Form != studio.AsBought {
			name += " " + string(row.Form)
		}
		if day, err := time.Parse(time.DateOnly, row.Since); err == nil {
			name += day.Format(", 2 Jan 2006")
		}
	}
	wanted := name
	for n := 2; ; n++ {
		if _, taken := p.lots[source.Plain(name)]; !taken {
			return name
		}
		name = fmt.Sprintf("%s (%d)", wanted, n)
	}
}

// lotAgain compares a row with a lot that is there. The amount is counted anew
// where the row says another than it said before.
func (p *proposer) lotAgain(ctx context.Context, l *line, old, row studio.Lot, grams float64, said bool) error {
	l.Does = Skips
	now := old
	now.Form, now.What = row.Form, row.What
	if row.MoisturePct != nil {
		now.MoisturePct = row.MoisturePct
	}
	if row.PriceKg != nil {
		now.PriceKg, now.Currency = row.PriceKg, row.Currency
	}
	for _, pair := range []struct{ to, from *string }{{&now.Since, &row.Since}, {&now.KeepBy, &row.KeepBy}, {&now.Note, &row.Note}} {
		if *pair.from != "" {
			*pair.to = *pair.from
		}
	}
	if err := studio.CheckRecord(now); err != nil {
		return l.refuse(err)
	}
	p.rows[old.ID] = true
	if lotSays := sayLot(old, now); len(lotSays) > 0 {
		l.Does, l.Says = Changes, lotSays
		p.batch.Lots = append(p.batch.Lots, now)
	}
	if !said || sameMass(grams, old.AmountG) {
		return nil
	}
	known, err := p.saidBefore(ctx, old.ID, grams)
	switch {
	case err != nil:
		return err
	case known:
		l.note("How much", fmt.Sprintf("%.5g g stood here before; the %.5g g that are left of them stay", grams, old.AmountG))
		return nil
	}
	l.Does = Changes
	l.say("counted: %.5g g instead of %.5g g", grams, old.AmountG)
	p.batch.Moves = append(p.batch.Moves, studio.Movement{ID: fmt.Sprintf("%s/counted/%s", old.ID, newID()), LotID: old.ID, Kind: studio.Counted,
		MassG: grams - old.AmountG, At: p.Now, Note: p.noted()})
	return nil
}

// saidBefore reports whether an amount is no news: it is what the same sheet
// counted last or, where that sheet counted nothing, what lay there at any
// time. What was used since is not given back by taking a sheet in again.
func (p *proposer) saidBefore(ctx context.Context, lotID string, grams float64) (bool, error) {
	_, moved, err := p.past.Lot(ctx, lotID)
	if err != nil {
		return false, err
	}
	there, lay, counted, last := 0.0, false, false, 0.0
	for _, m := range moved {
		there += m.MassG
		lay = lay || sameMass(there, grams)
		if m.Kind == studio.Counted && m.Note == p.noted() {
			counted, last = true, there
		}
	}
	if counted {
		return sameMass(last, grams), nil
	}
	return lay, nil
}

func sameMass(a, b float64) bool { return math.Abs(a-b) <= 1e-6 }

func sayLot(old, now studio.Lot) []string {
	var list []string
	add := func(what, was, is string) {
		if was != is {
			list = append(list, fmt.Sprintf("%s: %s instead of %s", what, orNothing(is), orNothing(was)))
		}
	}
	number := func(v *float64, unit string) string {
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%.6g %s", *v, unit)
	}
	add("what", old.What, now.What)
	add("how it lies", string(old.Form), string(now.Form))
	add("water", number(old.MoisturePct, "%"), number(now.MoisturePct, "%"))
	add("price a kg", number(old.PriceKg, old.Currency), number(now.PriceKg, now.Currency))
	add("since", old.Since, now.Since)
	add("use by", old.KeepBy, now.KeepBy)
	add("note", old.Note, now.Note)
	return list
}

// person reads a row of a list of customers.
func (p *proposer) person(_ context.Context, l *line) error {
	name := l.text("name")
	if name == "" {
		name = strings.TrimSpace(l.text("first") + " " + l.text("last"))
	}
	name = strings.Join(strings.Fields(name), " ")
	if name == "" {
		return l.refuse(fault.Invalid("", "the row has no name"))
	}
	l.Name = name
	var contact []string
	for _, i := range p.Matching.of("contact") {
		if c := l.row.at(i); !nothing(c) {
			contact = append(contact, c)
		}
	}
	contact = append(contact, l.remarks()...)
	key := source.Plain(name)
	old, there := p.people[key]
	if !there {
		one := studio.Person{ID: newID(), Name: name, Contact: strings.Join(contact, "\n")}
		if err := studio.CheckRecord(one); err != nil {
			return l.refuse(err)
		}
		p.people[key], l.Does = one, Adds
		p.batch.People = append(p.batch.People, one)
		return nil
	}
	now := old
	for _, c := range contact {
		if !strings.Contains(now.Contact, c) {
			now.Contact = strings.TrimSpace(now.Contact + "\n" + c)
			l.say("also %s", c)
		}
	}
	if now == old {
		l.Does = Skips
		return nil
	}
	if err := studio.CheckRecord(now); err != nil {
		return l.refuse(err)
	}
	l.Does, p.people[key] = Changes, now
	for i, b := range p.batch.People {
		if b.ID == now.ID {
			p.batch.People[i] = now
			return nil
		}
	}
	p.batch.People = append(p.batch.People, now)
	return nil
}

// personOf is the id of a customer by name; a new one is added.
func (p *proposer) personOf(name string) (string, error) {
	name = strings.Join(strings.Fields(name), " ")
	key := source.Plain(name)
	if old, ok := p.people[key]; ok {
		return old.ID, nil
	}
	one := studio.Person{ID: newID(), Name: name}
	if err := studio.CheckRecord(one); err != nil {
		return "", err
	}
	p.people[key] = one
	p.batch.People = append(p.batch.People, one)
	return one.ID, nil
}

// fibre reads a row of a list of the studio's own fibres.
func (p *proposer) fibre(_ context.Context, l *line) error {
	one := fibre.Own{Name: l.text("name"), Like: l.text("like"), Note: strings.Join(l.remarks(), "\n")}
	l.Name = one.Name
	own := p.kit.Kit.Fibres
	for _, b := range p.batch.Fibres {
		if strings.EqualFold(b.Name, one.Name) {
			return l.refuse(fault.Invalid("", "%s stands in the sheet twice; the first row is taken", one.Name))
		}
	}
	for _, o := range own {
		if !strings.EqualFold(o.Name, one.Name) {
			continue
		}
		if one.Note == "" {
			one.Note = o.Note
		}
		if o.Like == one.Like && o.Note == one.Note {
			l.Does = Skips
			return nil
		}
		l.Does = Changes
		l.say("like %s instead of %s", one.Like, o.Like)
		one.Name, one.Kind, one.Values, one.Hours = o.Name, o.Kind, o.Values, o.Hours
	}
	if _, err := fibre.NewShelf([]fibre.Own{one}); err != nil {
		return l.refuse(err)
	}
	if l.Does == "" {
		l.Does = Adds
		l.say("like %s", one.Like)
	}
	p.batch.Fibres = append(p.batch.Fibres, one)
	return nil
}
