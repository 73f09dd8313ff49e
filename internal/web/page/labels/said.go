package labels

import (
	"io"
	"slices"
	"time"

	"vatside/internal/paperwork"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// told is a making with its records, to be told to others.
type told struct {
	m      studio.Making
	st     studio.State
	s      part.Speech
	studio string
	now    time.Time
}

func (t told) write(w io.Writer, a asked, link string) error {
	switch a.kind {
	case provenance:
		return t.provenance().WritePDF(w, a.paper)
	case certificate:
		return t.certificate().WritePDF(w, a.paper)
	}
	return writeLabels(w, slices.Repeat([]paperwork.Label{t.label(a.kind, link)}, a.count), a, t.studio, t.now)
}

// writeLabels writes labels for cutting, or the page that swatches are glued
// to, which takes each but once.
func writeLabels(w io.Writer, list []paperwork.Label, a asked, studio string, now time.Time) error {
	if a.kind == swatchPage {
		once := slices.CompactFunc(list, func(a, b paperwork.Label) bool { return a.Tag == b.Tag })
		return paperwork.WriteSwatches(w, once, studio, a.paper, now)
	}
	return paperwork.WriteLabels(w, list, cut(a.kind), a.paper, now)
}

// label says in short of which making a sheet is.
func (t told) label(kind, link string) paperwork.Label {
	if kind == swatches {
		link = "" // it goes out of the studio, where the address leads nowhere
	}
	return paperwork.Label{Tag: t.m.Tag, Link: link, Paper: t.m.PaperName, Furnish: part.WriteFurnish(t.m.Request.Paper.Furnish),
		Date: t.made().Format("2 January 2006"), Lines: t.short()}
}

// made is the day of the first sheet, else that of the card.
func (t told) made() time.Time {
	if t.st.First.IsZero() {
		return t.m.Created.In(t.now.Location())
	}
	return t.st.First.In(t.now.Location())
}

// short is the paper in short pieces.
func (t told) short() []string {
	d := t.m.Request.Paper
	list := []string{t.grammage()}
	if hours := t.beaten(); hours != "" {
		list = append(list, "beaten "+hours)
	}
	list = append(list, "dried "+drying(d.Drying), t.surface())
	if d.Finish != "" {
		list = append(list, d.Finish)
	}
	return list
}

// grammage is as weighed, else as meant.
func (t told) grammage() string {
	if g, ok := studio.Grammage(t.m, t.st); ok {
		return t.s.One(float64(g), "g/m²")
	}
	return "meant for " + t.s.One(t.m.Request.Paper.GrammageConditioned, "g/m²")
}

// asPlanned marks what is told from the card because nobody measured it.
const asPlanned = " as planned"

// beaten is how long it was beaten when it was last looked at, else as planned.
func (t told) beaten() string {
	hours := 0.0
	for _, b := range t.st.Beats {
		hours = max(hours, b.Hours)
	}
	switch planned := t.m.Request.Paper.BeatingHours; {
	case hours > 0:
		return t.s.One(hours, "h")
	case planned != nil:
		return t.s.One(*planned, "h") + asPlanned
	}
	return ""
}

// surface says the size on it or in it.
func (t told) surface() string {
	d := t.m.Request.Paper
	switch {
	case d.SurfaceSize != "":
		return "sized with " + d.SurfaceSize
	case part.Waterleaf(d, len(t.st.Sized) > 0):
		return "waterleaf"
	}
	return "sized"
}

// drying says how the sheets were held.
func drying(key string) string {
	switch key {
	case "board":
		return "on a board"
	case "loft":
		return "hung"
	case "free":
		return "unheld"
	case "exchange":
		return "between changed blotters"
	}
	return "in a stack"
}

// size is as measured, else as wanted.
func (t told) size() (long, short float64) {
	return t.st.Size(t.m.Request.Sheet)
}
