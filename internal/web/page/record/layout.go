package record

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"vatside/internal/measure"
	"vatside/internal/paperwork"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

// mostRows bounds the posts of one form; ours: an edition of weeks.
const mostRows = 200

// layout is what the printed card of a making has blanks for.
type layout struct {
	posts     []paperwork.Post // as planned
	rows      int              // posts on the form
	tests     int              // test sheets of the card; 0: none
	testRows  int
	dryRows   int
	sizeRows  int
	steps     []plan.Step
	recharges []plan.Recharge // those that pour stock
	recorded  []studio.Recharge
	weighed   []studio.TestWeighed      // as recorded: it says more than the card asks
	parted    []studio.WeighedAtParting // as recorded
	jugML     float64
	besides   []studio.Body // measured besides, as recorded
	lots      []studio.Lot  // of the shelf, that the card weighs out of or that are recorded
}

// moreSizes are the further sheets there is room for behind the first.
const moreSizes = 2

// together is how many sheets are weighed together, as the card has it.
const together = 10

// usualTests is how many test sheets a plan has that does not say.
const usualTests = 3

func layOut(m studio.Making, st studio.State, shelf []studio.Lot) layout {
	card := paperwork.FromPlan(paperwork.Making{}, m.Request, m.Plan, measure.Metric)
	l := layout{posts: card.Posts, steps: m.Plan.Steps, besides: st.Besides(), lots: lotsOf(m, st, shelf), weighed: st.Tests, parted: st.Parting}
	l.rows = max(len(l.posts), 1)
	for _, p := range st.Posts {
		l.rows = max(l.rows, min(p.Post, mostRows))
	}
	for _, p := range st.Parting {
		l.rows = max(l.rows, min(p.Post, mostRows))
	}
	l.tests = usualTests
	if m.Request.TestSheets != nil {
		l.tests = *m.Request.TestSheets
	}
	l.testRows, l.dryRows, l.sizeRows = max(1, len(st.Tests)), max(1, len(st.Dry)), max(1, len(st.Sizes))+moreSizes
	if l.tests == 0 {
		l.testRows = len(st.Tests)
	}
	for _, r := range st.Recharges {
		l.recorded = append(l.recorded, r.Recharge)
	}
	for _, r := range m.Plan.Vat.Recharges {
		if r.StockML > 0 {
			l.recharges = append(l.recharges, r)
			if r.Jugs > 0 {
				l.jugML = r.StockML / r.Jugs
			}
		}
	}
	return l
}

// addRows takes over how many posts the form was sent with.
func (l *layout) addRows(f *page.Form) {
	if n, err := strconv.Atoi(f.Get("rows")); err == nil {
		l.rows = max(l.rows, min(n, mostRows))
	}
}

// planned is how many sheets the card has for a post, counted from 1; 0 where
// it has none.
func (l layout) planned(post int) int {
	if post > len(l.posts) {
		return 0
	}
	p := l.posts[post-1]
	return p.Last - p.First + 1
}

// poured is what the card's recharges come to when so many sheets were
// couched; 0 couched: all of them.
func (l layout) poured(couched int) (times int, ml float64) {
	for _, r := range l.recharges {
		if couched == 0 || r.BeforeSheet <= couched {
			times, ml = times+1, ml+r.StockML
		}
	}
	return times, ml
}

// name of a field of a row.
func name(what string, row int, field string) string {
	return fmt.Sprintf("%s-%d-%s", what, row, field)
}

// last is the number of the last thing recorded, as a form carries it.
func last(events []studio.Event) string {
	if len(events) == 0 {
		return "0"
	}
	newest := slices.MaxFunc(events, func(a, b studio.Event) int { return int(a.Seq - b.Seq) })
	return strconv.FormatInt(newest.Seq, 10)
}

// day is the day of the first thing recorded, else today.
func day(first, now time.Time) string {
	if first.IsZero() {
		first = now
	}
	return first.In(now.Location()).Format(time.DateOnly)
}

// lotsOf are the lots of the shelf that a making takes from: those of its card,
// and those recorded.
func lotsOf(m studio.Making, st studio.State, shelf []studio.Lot) []studio.Lot {
	return slices.DeleteFunc(slices.Clone(shelf), func(l studio.Lot) bool {
		planned := slices.ContainsFunc(m.Plan.Weigh, func(w plan.Weigh) bool { return !w.Additive && w.Lot == l.Name })
		return !planned && st.FibreLots[l.ID] == 0
	})
}
