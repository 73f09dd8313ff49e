package intake

import (
	"fmt"
	"strings"

	"vatside/internal/intake"
	"vatside/internal/measure"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// most rows of a group that a page shows; what cannot be read is the maker's
// work and shown longer.
const (
	mostShown   = 25
	mostRefused = 200
)

// Group is the rows that do the same.
type Group struct {
	Title, Count, Lead string
	Rows               []Line
	More               string
	Open               bool
}

// Line is what becomes of one row.
type Line struct {
	Row, Name, Says string
	Notes           []string
	Why             string
}

// groups are the rows by what they do, what cannot be read last.
func groups(p intake.Proposal) []Group {
	var list []Group
	for _, g := range []struct {
		does        intake.Does
		title, lead string
	}{
		{intake.Adds, "Will be added", ""},
		{intake.Changes, "Will be changed", "These are in the studio already, and the sheet says otherwise."},
		{intake.Skips, "There already", "Nothing happens to these."},
		{intake.Cannot, "Cannot be read", "These are passed over. Put them right in the sheet and take it in again: what is there already is not added twice."},
	} {
		rows := p.Of(g.does)
		if len(rows) == 0 {
			continue
		}
		out := Group{Title: g.title, Count: whole(len(rows)), Lead: g.lead, Open: g.does != intake.Skips}
		most := mostShown
		if g.does == intake.Cannot {
			most = mostRefused
		}
		for _, r := range rows[:min(most, len(rows))] {
			line := Line{Row: "row " + whole(r.Line), Name: r.Name, Says: strings.Join(r.Says, ", "), Notes: r.Notes, Why: sentence(r.Why)}
			if line.Name == "" {
				line.Name, line.Row = part.Upper(line.Row), ""
			}
			out.Rows = append(out.Rows, line)
		}
		if n := len(rows) - most; n > 0 {
			out.More = "and " + whole(n) + " more"
		}
		list = append(list, out)
	}
	return list
}

func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return part.Upper(s) + "."
}

// singular is one of what a sheet holds.
func singular(k intake.Kind) string { return strings.TrimSuffix(string(k), "s") }

// inShort says how many rows do what.
func inShort(list []Group) string {
	var all []string
	for _, g := range list {
		all = append(all, g.Count+" "+strings.ToLower(g.Title))
	}
	return strings.Join(all, ", ")
}

// whole is a whole number as people read it.
func whole(n int) string {
	text, _ := measure.Show(float64(n), "sheets", measure.Metric)
	return text
}

// counted is what an import did.
func counted(i studio.Import) string {
	var list []string
	one := singular(intake.Kind(i.Kind))
	if i.Added > 0 {
		list = append(list, part.Many(i.Added, one)+" added")
	}
	if i.Changed > 0 {
		list = append(list, part.Many(i.Changed, one)+" changed")
	}
	return strings.Join(list, ", ")
}

// samples are the first things a column says.
func samples(rows []intake.Cells, column int) string {
	var list []string
	for _, row := range rows {
		if column >= len(row.Cells) {
			continue
		}
		c := strings.Join(strings.Fields(row.Cells[column]), " ")
		if c == "" {
			continue
		}
		if r := []rune(c); len(r) > 30 {
			c = string(r[:30]) + "…"
		}
		if list = append(list, fmt.Sprintf("“%s”", c)); len(list) == 3 {
			break
		}
	}
	return strings.Join(list, ", ")
}
