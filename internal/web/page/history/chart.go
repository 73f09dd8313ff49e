package history

import (
	"fmt"
	"slices"

	"vatside/internal/measure"
	"vatside/internal/num"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// chart draws one figure; none where fewer than two makings have it.
func chart(s part.Speech, name, unit string, list []studio.Making, of func(studio.Gist) *float64) []part.Chart {
	var dots []part.Plotted
	var values []float64
	for _, m := range list {
		if v := of(m.Progress.Gist); v != nil {
			dots = append(dots, part.Plotted{Name: m.Tag, Href: "/makings/" + m.ID, Value: *v, Said: say(s, *v, unit)})
			values = append(values, *v)
		}
	}
	if len(values) < 2 {
		return nil
	}
	c, err := num.NewIndividuals(values)
	if err != nil || len(values) < fewest {
		return []part.Chart{part.NewChart(name, dots, nil, nil, nil, func(v float64) string { return say(s, v, unit) })}
	}
	low := max(0, c.Low) // none of them can be less than nothing
	out := part.NewChart(name, dots, &low, &c.Centre, &c.High, func(v float64) string { return say(s, v, unit) })
	for i := range values[1:] {
		if by := values[i+1] - values[i]; max(by, -by) > c.RangeMost {
			out.Said = append(out.Said, fmt.Sprintf("From %s to %s is a larger step than chance makes: %s", dots[i].Name, dots[i+1].Name, say(s, max(by, -by), unit)))
		}
	}
	return []part.Chart{out}
}

// say says a figure in the reader's units.
func say(s part.Speech, v float64, unit string) string {
	if unit == "mm" {
		n, u := measure.ShowCaliper(measure.Length(v), s.System)
		return n + "\u00a0" + u
	}
	return s.One(v, unit)
}

// table is the same in numbers.
func table(s part.Speech, list []studio.Making) part.Table {
	t := part.Table{Columns: []part.Column{{Label: "Making"}}}
	for _, c := range charted {
		t.Columns = append(t.Columns, part.Column{Label: c.name, Number: true})
	}
	for _, m := range slices.Backward(list) {
		cells := []string{m.Tag}
		for _, c := range charted {
			text := "–"
			if v := c.of(m.Progress.Gist); v != nil {
				text = say(s, *v, c.unit)
			}
			cells = append(cells, text)
		}
		t.Rows = append(t.Rows, part.Row{Cells: cells})
	}
	return t
}
