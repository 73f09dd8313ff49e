package studio

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"reflect"
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
	More      []Body // what was done and measured besides: of the kinds in besides
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
	nth := map[Kind]int{}
	for i, b := range c.More {
		nth[b.Kind()]++
		add(fmt.Sprintf("%s-%d", strings.ReplaceAll(string(b.Kind()), " ", "-"), nth[b.Kind()]), fmt.Sprintf("more[%d]", i), b)
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
	for i, b := range c.More {
		if !slices.Contains(besides, b.Kind()) {
			faults.Add(fault.Invalid(fmt.Sprintf("more[%d]", i), "%q has a place of its own", string(b.Kind())))
		}
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
	err := s.store.Write(ctx, func(tx Tx) error {
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
	if err == nil {
		s.tell(makingID)
	}
	return err
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

// reconcile returns the events that make the record of a making say what the
// typed card says. For every kind of line the card has anything to say of: if
// the record says the same already, nothing; else lines from an earlier typing
// are corrected, new ones added, and what the card does not carry is voided,
// remarks made elsewhere excepted. Of kinds the card leaves blank, only what
// an earlier typing put there is voided.
func reconcile(old []Event, entry CardEntry, now time.Time) []Event {
	r := reconciler{entry: entry, old: old, now: now, at: entry.At}
	if r.at.IsZero() {
		r.at = now
	}
	typed := map[Kind][]line{}
	for _, l := range entry.lines() {
		typed[l.body.Kind()] = append(typed[l.body.Kind()], l)
	}
	there := map[Kind][]Holding{}
	for _, h := range Holds(old) {
		there[h.Body.Kind()] = append(there[h.Body.Kind()], h)
	}
	for _, kind := range cardOrder {
		if !sameSaid(typed[kind], there[kind]) {
			r.kind(typed[kind], there[kind])
		}
	}
	return r.out
}

// cardOrder is the order of the work.
var cardOrder = slices.Concat([]Kind{KindFibre, KindTest, KindPost, KindRecharge, KindParting, KindStockLeft, KindDry, KindSize, KindGraded, KindStepTime},
	besides, []Kind{KindRemark, KindClosed})

// besides are the kinds that More carries.
var besides = []Kind{KindCaliper, KindDiagonals, KindSized, KindCobb, KindInk, KindSoaked, KindHand,
	KindSteeped, KindMoisture, KindAdded, KindPressed, KindDried, KindSpoilt, KindWater}

// sameSaid reports whether typed lines and record amount to the same, as when
// a post was counted sheet by sheet and the card has its total.
func sameSaid(typed []line, there []Holding) bool {
	var a, b State
	a = replayBodies(func(yield func(Body)) {
		for _, l := range typed {
			yield(l.body)
		}
	})
	b = replayBodies(func(yield func(Body)) {
		for _, h := range there {
			yield(h.Body)
		}
	})
	// Recharges given in total match any that add up to them.
	if len(a.Recharges) == 1 && a.Recharges[0].AfterSheet == nil && a.Recharges[0].Post == nil {
		b.Recharges = a.Recharges
	}
	a.Vat, b.Vat = nil, nil // told by the rest
	return reflect.DeepEqual(a, b)
}

// replayBodies adds bodies up without their times.
func replayBodies(each func(func(Body))) State {
	s := State{Minutes: map[string]float64{}}
	posts := map[int]*PostState{}
	each(func(b Body) { s.take(Holding{Body: b}, posts) })
	for _, p := range posts {
		s.Posts = append(s.Posts, *p)
	}
	slices.SortFunc(s.Posts, func(a, b PostState) int { return cmp.Compare(a.Post, b.Post) })
	return s
}

// reconciler collects the events of one typing.
type reconciler struct {
	entry CardEntry
	old   []Event
	now   time.Time
	at    time.Time
	out   []Event
}

// kind brings the lines of one kind in agreement.
func (r *reconciler) kind(typed []line, there []Holding) {
	kept := map[string]bool{}
	var open []line
	for _, l := range typed { // lines the record has word for word stay as they are
		i := slices.IndexFunc(there, func(h Holding) bool {
			return !kept[h.Event.ID] && reflect.DeepEqual(h.Body, l.body)
		})
		if i >= 0 {
			kept[there[i].Event.ID] = true
		} else {
			open = append(open, l)
		}
	}
	for _, l := range open {
		if root, ok := r.typedBefore(l); ok && !kept[root.ID] {
			kept[root.ID] = true
			r.correct(root.ID, func(id string, at time.Time) Event { return Correction(id, at, root.ID, l.body) })
			continue
		}
		id := cardPrefix + r.entry.FormID + "/" + l.slot
		if r.taken(id) {
			id = r.nextID()
		}
		r.out = append(r.out, NewEvent(id, r.at, l.body))
	}
	for _, h := range there {
		fromCard := formOf(h.Event.ID) != ""
		if kept[h.Event.ID] || !fromCard && (len(typed) == 0 || h.Body.Kind() == KindRemark) {
			continue
		}
		id := h.Event.ID
		r.correct(id, func(fix string, at time.Time) Event { return Void(fix, at, id) })
	}
}

// typedBefore returns the event an earlier typing made of the same line; it
// may have been voided since.
func (r *reconciler) typedBefore(l line) (Event, bool) {
	for _, e := range r.old {
		if e.Kind == l.body.Kind() && slotOf(e.ID) == l.slot {
			return e, true
		}
	}
	return Event{}, false
}

// correct appends a correction that stands after all there are of its target:
// a clock that was put back must not let an older correction win.
func (r *reconciler) correct(target string, fix func(id string, at time.Time) Event) {
	at := r.now
	for _, e := range r.old {
		if e.Corrects == target && !e.At.Before(at) {
			at = e.At.Add(time.Millisecond)
		}
	}
	r.out = append(r.out, fix(r.nextID(), at))
}

// nextID returns a fresh id below the form. A form that is sent twice finds
// the record saying what it says and asks for none.
func (r *reconciler) nextID() string {
	for n := 1; ; n++ {
		id := fmt.Sprintf("%s%s/~%d", cardPrefix, r.entry.FormID, n)
		if !r.taken(id) {
			return id
		}
	}
}

func (r *reconciler) taken(id string) bool {
	has := func(e Event) bool { return e.ID == id }
	return slices.ContainsFunc(r.old, has) || slices.ContainsFunc(r.out, has)
}
