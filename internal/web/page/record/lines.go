package record

import (
	"fmt"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/studio"
)

// posts reads the tally and returns how many sheets were couched in all.
func (r reader) posts(e *studio.CardEntry) (couched int) {
	asCard := r.f.Get("posts") == "card"
	weighedTogether := r.count("parting-sheets", 1)
	for _, b := range r.l.parted {
		if b.Post == 0 { // has no line on the card
			e.Parting = append(e.Parting, b)
		}
	}
	for i := 1; i <= r.l.rows; i++ {
		at := name("post", i, "couched")
		sheets, kissed := r.count(at, 0), r.count(name("post", i, "kissed"), 0)
		if sheets == nil && r.f.Get(at) == "" && asCard && r.l.planned(i) > 0 {
			n := r.l.planned(i)
			sheets = &n
		}
		if sheets == nil && kissed != nil && *kissed > 0 && r.f.Get(at) == "" {
			r.f.Refuse(fault.Invalid(at, "say how many sheets of post %d were couched, or tick that blank posts are as the card says", i))
			continue
		}
		p := studio.Post{Post: i}
		if kissed != nil {
			p.KissedOff = *kissed
		}
		if sheets != nil {
			p.Pulled = *sheets + p.KissedOff
			couched += *sheets
		}
		if p.Pulled > 0 {
			r.at[fmt.Sprintf("posts[%d]", len(e.Posts))] = at
			r.at[fmt.Sprintf("posts[%d].kissed_off", len(e.Posts))] = name("post", i, "kissed")
			e.Posts = append(e.Posts, p)
		}
		r.parting(e, i, sheets, weighedTogether)
	}
	return couched
}

// parting reads the weight of one post at parting; a post that has fewer
// sheets than are weighed together was weighed whole.
func (r reader) parting(e *studio.CardEntry, post int, couched, together *int) {
	at := name("post", post, "grams")
	if r.untouched(at) && r.untouched("parting-sheets") {
		for _, b := range r.l.parted { // any number of them, of any sheets
			if b.Post == post {
				e.Parting = append(e.Parting, b)
			}
		}
		return
	}
	g := r.quantity(at, measure.OfMass)
	if g == nil {
		return
	}
	if together == nil {
		if r.f.Get("parting-sheets") == "" {
			r.f.Refuse(fault.Invalid("parting-sheets", "say how many sheets were weighed together at parting"))
		}
		return
	}
	n := *together
	if couched != nil && *couched > 0 {
		n = min(n, *couched)
	}
	r.at[fmt.Sprintf("parting[%d]", len(e.Parting))] = at
	e.Parting = append(e.Parting, studio.WeighedAtParting{Post: post, Sheets: n, Grams: *g})
}

// untouched reports whether a blank says what it was filled with.
func (r reader) untouched(at string) bool {
	return strings.TrimSpace(r.f.Get(at)) == strings.TrimSpace(r.was.Get(at))
}

func (r reader) sizes(e *studio.CardEntry) {
	for i := 1; i <= r.l.sizeRows; i++ {
		long, short := name("size", i, "long"), name("size", i, "short")
		a, b := r.quantity(long, measure.OfLength), r.quantity(short, measure.OfLength)
		switch {
		case a != nil && b != nil:
			r.at[fmt.Sprintf("sizes[%d].long_mm", len(e.Sizes))], r.at[fmt.Sprintf("sizes[%d].short_mm", len(e.Sizes))] = long, short
			e.Sizes = append(e.Sizes, studio.DrySize{LongMM: *a, ShortMM: *b})
		case a != nil && r.f.Get(short) == "":
			r.f.Refuse(fault.Invalid(short, "write the short side too, or leave both blank"))
		case b != nil && r.f.Get(long) == "":
			r.f.Refuse(fault.Invalid(long, "write the long side too, or leave both blank"))
		}
	}
}

func (r reader) grades(e *studio.CardEntry) {
	var g studio.Graded
	said := false
	for field, to := range map[string]*int{"good": &g.Good, "retree": &g.Retree, "broken": &g.Broken, "broke": &g.Broke} {
		if n := r.count(field, 0); n != nil {
			*to, said = *n, true
		}
	}
	if said {
		e.Grades = &g
	}
}
