package run

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"vatside/internal/watch"
	"vatside/internal/web/part"
)

// sheets draws what each sheet weighs, with what happened between them.
func sheets(s part.Speech, p watch.Past, words map[string]string) part.Chart {
	say := func(v float64) string { return s.One(v, "g/m²") }
	var values []part.Plotted
	for _, w := range p.Sheets {
		values = append(values, part.Plotted{Name: strconv.Itoa(w.N), Value: float64(w.Value), Said: say(float64(w.Value)), Band: &part.Band{Low: float64(w.Low), High: float64(w.High)}})
	}
	wanted := float64(p.Wanted)
	low, high := wanted*(1-p.Tolerance), wanted*(1+p.Tolerance)
	c := part.NewChart("What each sheet weighs", values, &low, &wanted, &high, say)
	c.Said = nil // the share within says it
	c.Text = fmt.Sprintf("What %s weigh, from %s to %s; the table below says each", part.Many(len(values), "sheet"), values[0].Said, values[len(values)-1].Said)
	c.Number()
	var weighed, poured, posts []part.Stretch
	for _, w := range slices.Concat(p.Weighings, p.Strange) {
		weighed = append(weighed, part.Stretch{From: float64(w.First - 1), To: float64(w.Last - 1), Name: words[w.EventID]})
	}
	is := map[string]bool{}
	for _, w := range slices.Concat(p.Weighings, p.Strange) {
		is[w.EventID] = true
	}
	for _, m := range p.Marks {
		if !is[m.EventID] { // between two sheets
			poured = append(poured, part.Stretch{From: float64(m.After) - 0.5, To: float64(m.After) - 0.5, Name: words[m.EventID]})
		}
	}
	for from := 0; from < len(p.Posts); {
		to := from
		for to < len(p.Posts) && p.Posts[to] == p.Posts[from] {
			to++
		}
		posts = append(posts, part.Stretch{From: float64(from) - 0.3, To: float64(to-1) + 0.3, Name: fmt.Sprintf("Post %d: sheets %d–%d", p.Posts[from], from+1, to)})
		from = to
	}
	c.Mark("weighed", weighed)
	c.Mark("poured", poured)
	c.Mark("posts", posts)
	return named(c, "wanted "+say(wanted))
}

// weights is the same in numbers; what happened after a sheet stands below it.
func weights(s part.Speech, p watch.Past, words map[string]string) part.Table {
	t := part.Table{Caption: "What each sheet weighs", Columns: []part.Column{{Label: "Sheet"}, {Label: "Post", Number: true}, {Label: "Weighs", Number: true}, {Label: "Nine times in ten", Number: true}}}
	after := map[int][]string{}
	for _, m := range p.Marks {
		if text := words[m.EventID]; text != "" {
			after[m.After] = append(after[m.After], text)
		}
	}
	if first := after[0]; len(first) > 0 {
		t.Rows = append(t.Rows, part.Row{Cells: []string{"–", "", "", ""}, Note: strings.Join(first, "; ")})
	}
	for i, w := range p.Sheets {
		t.Rows = append(t.Rows, part.Row{
			Cells: []string{strconv.Itoa(w.N), strconv.Itoa(p.Posts[i]), s.One(float64(w.Value), "g/m²"), s.Span(float64(w.Low), float64(w.High), "g/m²")},
			Note:  strings.Join(after[w.N], "; "), Apart: i > 0 && p.Posts[i] != p.Posts[i-1],
		})
	}
	return t
}

// single draws each weighing over what was expected of it just before, in what
// is usual of such a weighing: the first knows little of the vat, and in parts
// of a weight it would dwarf the others.
func single(p watch.Past) part.Chart {
	var values []part.Plotted
	for _, w := range p.Weighings {
		values = append(values, part.Plotted{Name: which(w), Value: w.Apart, Said: percent(w.Off), Band: &part.Band{Low: -watch.MostApart, High: watch.MostApart}})
	}
	return ofWeighings("Each weighing, over what was expected before it", values)
}

// averages draws the weighings gathered, the newest counting most.
func averages(p watch.Past) part.Chart {
	var values []part.Plotted
	for i, w := range p.Weighings {
		v := p.Averages.Averages[i]
		values = append(values, part.Plotted{Name: which(w), Value: v, Said: swings(v), Band: &part.Band{Low: p.Averages.Low[i], High: p.Averages.High[i]}})
	}
	return ofWeighings("The weighings gathered, the newest counting most", values)
}

func ofWeighings(name string, values []part.Plotted) part.Chart {
	c := part.NewChart(name, values, nil, new(0.0), nil, swings)
	c.Said = nil // told above
	c.Text = fmt.Sprintf("%s: %s, from %s to %s; the table below says each", name, part.Many(len(values), "weighing"), values[0].Said, values[len(values)-1].Said)
	c.Number()
	return named(c, "as expected")
}

func named(c part.Chart, middle string) part.Chart {
	for i, l := range c.Lines {
		if l.Mid {
			c.Lines[i].Name = middle
		}
	}
	return c
}

// swings says an average in usual swings of a weighing.
func swings(v float64) string { return strings.Replace(fmt.Sprintf("%+.2f", v), "-", "−", 1) }

// weighings is both in numbers.
func weighings(s part.Speech, p watch.Past, words map[string]string) part.Table {
	t := part.Table{Caption: "The weighings", Columns: []part.Column{{Label: "Sheets"}, {Label: "Off", Number: true}, {Label: "By chance within", Number: true}, {Label: "Gathered", Number: true}}}
	for i, w := range p.Weighings {
		low, high := w.Limits()
		t.Rows = append(t.Rows, part.Row{Note: words[w.EventID], Cells: []string{which(w), percent(w.Off), percent(low) + " to " + percent(high), swings(p.Averages.Averages[i])}})
	}
	for _, w := range p.Strange {
		t.Rows = append(t.Rows, part.Row{Note: words[w.EventID] + ": set aside", Cells: []string{which(w), percent(w.Off), "", ""}})
	}
	return t
}
