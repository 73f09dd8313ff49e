package making

import (
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
	holds := map[string]string{}
	for _, h := range studio.Holds(events) {
		holds[h.Event.ID] = said(s, steps, h.Body)
	}
	byTime := func(a, b studio.Event) int { return a.At.Compare(b.At) }
	slices.SortStableFunc(plain, byTime)
	var list []Entry
	for _, e := range plain {
		entry := Entry{When: clock(e.At, now), Said: holds[e.ID]}
		before := read(e.Kind, e)
		chain := slices.Clone(fixes[e.ID])
		slices.SortStableFunc(chain, byTime)
		for _, c := range chain {
			after := read(e.Kind, c)
			entry.Fixes = append(entry.Fixes, Fix{Said: before, When: clock(c.At, now), Back: after == ""})
			before = after
		}
		entry.Fixes = slices.DeleteFunc(entry.Fixes, func(f Fix) bool { return f.Said == "" })
		list = append(list, entry)
	}
	return list
}

func clock(t, now time.Time) string {
	day := part.Since(t, now)
	hour := t.In(now.Location()).Format("15:04")
	if day == hour {
		return hour
	}
	return day + ", " + hour
}
