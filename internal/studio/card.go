package studio

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"vatside/internal/fault"
)

// CardEntry is a making card typed back: what is written on the paper, as one
// form. What was left blank stays nil or empty. The form may show what is
// recorded already: lines that say the same as the record add nothing.
type CardEntry struct {
	FormID    string    // made by the client once for each form it shows
	At        time.Time // when the making was; zero: now
	Posts     []Post
	Recharges []Recharge // by post, by sheet, or one line in total
	Parting   []WeighedAtParting
	Tests     []TestWeighed
	Dry       []WeighedDry
	Sizes     []DrySize
	Grades    *Graded
	Minutes   map[string]float64 // hands-on, by the plan's step
	StockLeft *StockLeft
	Fibre     *FibreWeighed
	Remarks   []string
	Close     bool // nothing more will come
}

// line is one line of a card: its place, which names its event, and what it
// says.
type line struct {
	slot  string // such as post-2 or dry-1
	field string // of the form, for faults
	body  Body
}

// lines returns the lines of the card in the order of the work.
func (c CardEntry) lines() []line {
	var list []line
	add := func(slot, field string, body Body) { list = append(list, line{slot, field, body}) }
	if c.Fibre != nil {
		add("fibre", "fibre", *c.Fibre)
	}
	for i, b := range c.Tests {
		add(fmt.Sprintf("test-%d", i+1), fmt.Sprintf("tests[%d]", i), b)
	}
	for i, b := range c.Posts {
		add(fmt.Sprintf("post-%d", b.Post), fmt.Sprintf("posts[%d]", i), b)
	}
	for i, b := range c.Recharges {
		add(fmt.Sprintf("recharge-%d", i+1), fmt.Sprintf("recharges[%d]", i), b)
	}
	for i, b := range c.Parting {
		add(fmt.Sprintf("parting-%d", i+1), fmt.Sprintf("parting[%d]", i), b)
	}
	if c.StockLeft != nil {
		add("stock-left", "stock_left", *c.StockLeft)
	}
	for i, b := range c.Dry {
		add(fmt.Sprintf("dry-%d", i+1), fmt.Sprintf("dry[%d]", i), b)
	}
	for i, b := range c.Sizes {
		add(fmt.Sprintf("size-%d", i+1), fmt.Sprintf("sizes[%d]", i), b)
	}
	if c.Grades != nil {
		add("grades", "grades", *c.Grades)
	}
	for _, step := range slices.Sorted(maps.Keys(c.Minutes)) {
		add("minutes-"+step, "minutes["+step+"]", StepTime{Step: step, Minutes: c.Minutes[step]})
	}
	for i, text := range c.Remarks {
		add(fmt.Sprintf("remark-%d", i+1), fmt.Sprintf("remarks[%d]", i), Remark{Text: text})
	}
	if c.Close {
		add("closed", "close", Closed{})
	}
	return list
}

func (c CardEntry) check() error {
	var faults fault.List
	if c.FormID == "" || strings.Contains(c.FormID, "/") {
		faults.Add(fault.Invalid("form_id", "the form carries an id without a slash"))
	}
	checkText(&faults, "form_id", c.FormID, 60)
	if !c.At.IsZero() {
		checkTime(&faults, "at", c.At)
	}
	slots := map[string]bool{}
	for _, l := range c.lines() {
		var own fault.List
		l.body.check(&own)
		faults.Add(under(l.field, own.OrNil()))
		if slots[l.slot] {
			faults.Add(fault.Invalid(l.field, "this line is on the card twice"))
		}
		slots[l.slot] = true
	}
	return faults.OrNil()
}

// FinishCard turns a typed card into events, in one transaction. The same form
// sent twice is stored once; typed in again with other numbers, it makes
// corrections. Faults: Invalid, OutOfRange, with the form's field; NotFound;
// Conflict when the card was typed in again elsewhere since this form was sent.
func (s *Service) FinishCard(ctx context.Context, makingID string, entry CardEntry) error {
	if err := entry.check(); err != nil {
		return err
	}
	return s.store.Write(ctx, func(tx Tx) error {
		list, err := tx.Makings(ctx, MakingFilter{ID: makingID})
		m, err := one(list, err, "there is no such making")
		if err != nil {
			return err
		}
		old, err := tx.Events(ctx, makingID)
		if err != nil {
			return err
		}
		if staleForm(entry.FormID, old) {
			return fault.Conflict("this card was typed in again since this form was sent; open the card anew")
		}
		events := reconcile(old, entry, s.now())
		_, err = s.add(ctx, tx, m, old, events)
		return err
	})
}

// cardPrefix begins the id of every event a card made: card/form/slot, and of
// corrections card/form/~n.
const cardPrefix = "card/"

// formOf returns the form that made an event; "" if no card did.
func formOf(id string) string {
	rest, ok := strings.CutPrefix(id, cardPrefix)
	if !ok {
		return ""
	}
	form, _, _ := strings.Cut(rest, "/")
	return form
}

// slotOf returns the card line an event stands for; "" if no card made it.
func slotOf(id string) string {
	parts := strings.SplitN(id, "/", 3)
	if len(parts) != 3 || parts[0]+"/" != cardPrefix {
		return ""
	}
	return parts[2]
}

// staleForm reports whether another form of the card came after this one.
func staleForm(form string, events []Event) bool {
	mine := false
	for _, e := range events {
		switch f := formOf(e.ID); {
		case f == form:
			mine = true
		case f != "" && mine:
			return true
		}
	}
	return false
}
