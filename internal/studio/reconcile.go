package studio

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"time"
)

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
var cardOrder = []Kind{KindFibre, KindTest, KindPost, KindRecharge, KindParting, KindStockLeft, KindDry, KindSize, KindGraded, KindStepTime, KindRemark, KindClosed}

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
