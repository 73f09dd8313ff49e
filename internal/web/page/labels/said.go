package labels

import (
	"fmt"
	"io"
	"slices"
	"strings"
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
	if a.kind == swatches {
		link = "" // it goes out of the studio, where the address leads nowhere
	}
	l := paperwork.Label{Tag: t.m.Tag, Link: link, Paper: t.m.PaperName, Furnish: part.WriteFurnish(t.m.Request.Paper.Furnish), Date: t.made().Format("2 January 2006")}
	l.Lines = t.short()
	return paperwork.WriteLabels(w, slices.Repeat([]paperwork.Label{l}, a.count), cut(a.kind), a.paper, t.now)
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
	if d.BeatingHours != nil {
		list = append(list, "beaten "+part.Hours(*d.BeatingHours))
	}
	list = append(list, "dried "+drying(d.Drying))
	if d.SurfaceSize != "" {
		list = append(list, "sized with "+d.SurfaceSize)
	} else {
		list = append(list, "waterleaf")
	}
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

// provenance says what the paper is.
func (t told) provenance() paperwork.Statement {
	d := t.m.Request.Paper
	s := paperwork.Statement{Kind: "Handmade paper", Studio: t.studio, Paper: t.m.PaperName, Tag: t.m.Tag, Day: t.made()}
	add := func(what, value string) {
		if value != "" {
			s.Lines = append(s.Lines, paperwork.StatedLine{What: what, Value: value})
		}
	}
	add("Made of", part.WriteFurnish(d.Furnish))
	var added []string
	for _, a := range d.Additives {
		added = append(added, a.Kind)
	}
	add("With", strings.Join(added, ", "))
	if d.BeatingHours != nil {
		add("Beaten", part.Hours(*d.BeatingHours))
	}
	forming := map[string]string{"several dips": "in several dips", "poured": "poured"}[d.Forming]
	if forming == "" {
		forming = "sheet by sheet at the vat"
	}
	add("Formed", forming)
	add("Dried", drying(d.Drying))
	add("Surface", map[bool]string{true: "waterleaf: it has no size on it", false: "sized with " + d.SurfaceSize}[d.SurfaceSize == ""])
	add("Weight", t.grammage())
	add("Size", t.s.SizeLine(t.size()))
	add("Finish", d.Finish)
	if t.st.Grades.Good > 0 {
		add("Edition", fmt.Sprintf("%d good sheets of %d pulled", t.st.Grades.Good, t.st.Pulled))
	}
	s.Notes = []string{"No two sheets are alike; the tag above finds this making in the studio's records, so that the paper can be made again."}
	return s
}

func (t told) size() (long, short float64) {
	if n := float64(len(t.st.Sizes)); n > 0 {
		for _, z := range t.st.Sizes {
			long, short = long+z.LongMM/n, short+z.ShortMM/n
		}
		return long, short
	}
	return t.m.Request.Sheet.LongMM, t.m.Request.Sheet.ShortMM
}
