package making

import (
	"fmt"
	"slices"
	"time"

	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// Entry is one thing that was written down, with what was later put right.
type Entry struct {
	When  string
	Said  string // as it holds now; "" where it was taken back
	Fixes []Fix  // what stood before, the first writing first
	// Folded are entries alike, written at the same time, that Said sums up.
	Folded []Entry

	body studio.Body // as it holds; nil where it was taken back
}

// Fix is what an entry said before it was put right.
type Fix struct {
	Said string
	When string // of the correction
	Back bool   // it was taken back
}

// history lists what was written down in the maker's order. A correction
// stands with what it corrects, so that the first writing stays readable.
func history(s part.Speech, m studio.Making, events []studio.Event, now time.Time) []Entry {
	steps := map[string]string{}
	for _, st := range m.Plan.Steps {
		steps[st.Key] = st.Name
	}
	read := func(kind studio.Kind, e studio.Event) string {
		body, err := studio.ReadBody(kind, e.Body)
		if err != nil {
			return ""
		}
		return said(s, steps, body)
	}
	fixes := map[string][]studio.Event{}
	var plain []studio.Event
	for _, e := range events {
		if e.Kind == studio.KindCorrection {
			fixes[e.Corrects] = append(fixes[e.Corrects], e)
		} else {
			plain = append(plain, e)
		}
	}
	holds := map[string]studio.Body{}
	for _, h := range studio.Holds(events) {
		holds[h.Event.ID] = h.Body
	}
	byTime := func(a, b studio.Event) int { return a.At.Compare(b.At) }
	slices.SortStableFunc(plain, byTime)
	var list []Entry
	for _, e := range plain {
		entry := Entry{When: part.Moment(e.At, now), body: holds[e.ID]}
		if entry.body != nil {
			entry.Said = said(s, steps, entry.body)
		}
		before := read(e.Kind, e)
		chain := slices.Clone(fixes[e.ID])
		slices.SortStableFunc(chain, byTime)
		for _, c := range chain {
			after := read(e.Kind, c)
			entry.Fixes = append(entry.Fixes, Fix{Said: before, When: part.Moment(c.At, now), Back: after == ""})
			before = after
		}
		entry.Fixes = slices.DeleteFunc(entry.Fixes, func(f Fix) bool { return f.Said == "" })
		list = append(list, entry)
	}
	return fold(s, list)
}

// fewest is how many entries alike are folded into one; ours: three can be
// read at a glance.
const fewest = 4

// fold sums runs of recharges, and of minutes by step, up in one entry each:
// there are dozens to a making, and they are looked at one by one only when
// something is wrong. What was put right stays in sight.
func fold(s part.Speech, list []Entry) []Entry {
	var out []Entry
	for i := 0; i < len(list); {
		end := i + 1
		for end < len(list) && alike(list[i], list[end]) {
			end++
		}
		run := list[i:end]
		if len(run) >= fewest {
			out = append(out, Entry{When: list[i].When, Said: summed(s, run), Folded: run})
		} else {
			out = append(out, run...)
		}
		i = end
	}
	return out
}

func alike(a, b Entry) bool {
	if a.body == nil || b.body == nil || len(a.Fixes)+len(b.Fixes) > 0 || a.When != b.When || a.body.Kind() != b.body.Kind() {
		return false
	}
	return a.body.Kind() == studio.KindRecharge || a.body.Kind() == studio.KindStepTime
}

// summed says a run of entries alike in one line.
func summed(s part.Speech, run []Entry) string {
	times, ml, minutes := 0, 0.0, 0.0
	for _, e := range run {
		switch b := e.body.(type) {
		case studio.Recharge:
			times, ml = times+max(b.Times, 1), ml+b.StockML
		case studio.StepTime:
			minutes += b.Minutes
		}
	}
	if times > 0 {
		return fmt.Sprintf("%d recharges, %s of stock in all", times, s.One(ml, "mL"))
	}
	return fmt.Sprintf("Time by hand of %d steps, %s in all", len(run), s.One(minutes, "min"))
}
