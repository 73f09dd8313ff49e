package design

import (
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// starting is the paper to begin from for a use; the first where there is none.
func starting(use string) studio.Starting {
	list := studio.StartingPapers()
	for _, s := range list {
		if s.Use == use {
			return s
		}
	}
	return list[0]
}

// began is a starting paper before it is kept.
func began(s studio.Starting) studio.Paper {
	return studio.Paper{Name: s.Title, Design: s.Design, Sheet: s.Sheet, Note: s.Why}
}

// begin names where the values come from, and the other uses on offer.
func (d *Data) begin(from studio.Starting) {
	d.Use, d.Why, d.Action = from.Use, from.Why, address(studio.Paper{ID: d.ID})
	for _, s := range studio.StartingPapers() {
		if d.ID == "" && s.Use != from.Use {
			d.Uses = append(d.Uses, part.Link{Href: "/papers/design?from=" + s.Use, Text: s.Title})
		}
	}
}
