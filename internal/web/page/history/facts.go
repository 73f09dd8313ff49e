package history

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// facts say a making in short lines, the same for every one; "–" where it was
// not written down.
func facts(s part.Speech, t told, zone *time.Location) [][2]string {
	d, g, st := t.m.Request.Paper, t.m.Progress.Gist, t.s
	if len(st.Dry) == 0 {
		g.GrammageG = nil // as wanted, which is no fact
	}
	list := [][2]string{
		{"Begun", t.m.Created.In(zone).Format("2 January 2006")},
		{"Paper", fmt.Sprintf("%s, revision %d", t.m.PaperName, t.m.PaperRevision)},
		{"Furnish", furnish(d.Furnish)},
		{"Fibre weighed out", some(s, st.FibreG, "g")},
		{"Soaked", each(st.Steeped, func(b studio.Steeped) string { return s.One(b.Hours, "h") })},
		{"Beaten, at the last look", longest(s, st)},
		{"Put in", each(st.Added, func(b studio.Added) string { return b.What + " " + some(s, max(b.Grams, b.ML), unitOf(b)) })},
		{"Pulled", count(st.Pulled)},
		{"Kissed off", count(st.KissedOff)},
		{"Couched", count(st.Couched)},
		{"Pressed", each(st.Pressed, func(b studio.Pressed) string { return s.One(b.Minutes, "min") })},
		{"Dried in", each(st.Dried, func(b studio.Dried) string { return s.One(b.Hours, "h") + " " + b.Where })},
		{"Good", count(st.Grades.Good)},
		{"Spoilt", each(st.Spoilt, func(b studio.Spoilt) string { return strconv.Itoa(b.Sheets) + " " + b.Why })},
		{"Water used", each(st.Water, func(b studio.WaterUsed) string { return s.One(b.Litres, "L") })},
	}
	if l, w := g.LongMM, g.ShortMM; l != nil && w != nil && len(st.Sizes) > 0 {
		list = append(list, [2]string{"Dry size", s.SizeLine(*l, *w)})
	} else {
		list = append(list, [2]string{"Dry size", "–"})
	}
	for _, c := range charted {
		text := "–"
		if v := c.of(g); v != nil {
			text = say(s, *v, c.unit)
		}
		list = append(list, [2]string{c.name, text})
	}
	return list
}

func furnish(parts []plan.Part) string { return part.WriteFurnish(parts) }

func some(s part.Speech, v float64, unit string) string {
	if v == 0 {
		return "–"
	}
	return s.One(v, unit)
}

func unitOf(b studio.Added) string {
	if b.Grams > 0 {
		return "g"
	}
	return "mL"
}

func count(n int) string {
	if n == 0 {
		return "–"
	}
	return strconv.Itoa(n)
}

// each says all entries of a kind in one line.
func each[B any](list []B, say func(B) string) string {
	if len(list) == 0 {
		return "–"
	}
	var out []string
	for _, b := range list {
		out = append(out, strings.TrimSpace(say(b)))
	}
	return strings.Join(slices.Compact(out), ", ")
}

// longest is the latest look at any load.
func longest(s part.Speech, st studio.State) string {
	h := 0.0
	for _, b := range st.Beats {
		h = max(h, b.Hours)
	}
	if h == 0 {
		return "–"
	}
	return s.One(h, "h")
}
