package vat

import (
	"time"

	"vatside/internal/studio"
	"vatside/internal/watch"
	"vatside/internal/web/part"
)

// Bounds of a view; ours: a device that was away for a whole run still finds its
// entries among those the view rests on.
const (
	mostHas   = 800
	mostNoted = 12
)

func viewOf(s part.Speech, m studio.Making, events []studio.Event, now time.Time) View {
	n := watch.From(m, events)
	v := View{
		Making: m.ID, Couched: n.Couched, Kissed: n.KissedOff, Spoilt: n.Spoilt, Wanted: n.Wanted, Post: n.Post, InPost: n.InPost, Holds: n.PostHolds,
		Closed: n.Closed, Why: n.Why, Words: n.Words, Has: []string{}, Ahead: []Weight{}, Acts: []Act{}, Asks: []Ask{}, Noted: noted(s, events, now),
	}
	v.Litre, v.Volume = volume(s)
	if !n.Weighed {
		v.Tests = n.Tests
		if n.Why == "" && n.Couched < n.Tests {
			v.Words = "The first " + part.Many(n.Tests, "sheet") + " are test sheets: they are weighed together."
		}
	}
	for _, e := range events[max(0, len(events)-mostHas):] {
		v.Seq = max(v.Seq, e.Seq)
		v.Has = append(v.Has, e.ID)
	}
	if n.Why == "" {
		v.Level = s.One(float64(n.Vat.Water), "L") + ", " + s.One(float64(n.Vat.Fibre)/float64(n.Vat.Water), "g/L")
	}
	if n.Last != nil {
		v.Last = weight(s, *n.Last)
	}
	for _, a := range n.Ahead {
		v.Ahead = append(v.Ahead, *weight(s, a))
	}
	for _, a := range n.Acts {
		v.Acts = append(v.Acts, actOf(s, m, n, a))
	}
	holds := map[string]studio.Body{}
	for _, h := range studio.Holds(events) {
		holds[h.Event.ID] = h.Body
	}
	for _, a := range n.Asks {
		v.Asks = append(v.Asks, doubted(s, a, holds[a.EventID]))
	}
	if n.Missed != nil {
		v.Missed = missed(s, *n.Missed)
	}
	return v
}

// litresInGallon is the US gallon, 231 cubic inches of 25.4 mm: exact.
const litresInGallon = 3.785411784

// volume is the unit that volumes are typed in, and what it holds in litres.
func volume(s part.Speech) (litres float64, unit string) {
	if s.US() {
		return litresInGallon, "gal"
	}
	return 1, "L"
}

func weight(s part.Speech, w watch.Sheet) *Weight {
	return &Weight{w.N, s.One(float64(w.Value), "g/m²"), s.Span(float64(w.Low), float64(w.High), "g/m²")}
}
