package part

import (
	"strconv"
	"strings"

	"vatside/internal/figure"
	"vatside/internal/source"
)

// Sum is the arithmetic behind a figure.
type Sum struct {
	Lines []SumLine
}

// SumLine is one line of it. Working is empty where the line is a number put
// in, not one worked out.
type SumLine struct {
	What, Working, Result, Source, Note string
}

// SumOf sets the lines of a figure's sum, each source by its title.
func SumOf(f figure.Figure) Sum {
	var s Sum
	for _, l := range f.Sum {
		line := SumLine{What: Upper(l.What), Working: l.Working, Result: l.Result, Source: sourceOf(l), Note: Upper(l.Note)}
		if _, err := strconv.ParseFloat(l.Working, 64); err == nil {
			line.Working = "" // "3 = 3 sheets" says nothing twice
		}
		s.Lines = append(s.Lines, line)
	}
	return s
}

// sourceOf says where a line comes from and how well that is founded, each
// once.
func sourceOf(l figure.Line) string {
	from := l.Source
	if src, ok := source.Get(from); ok {
		from = src.Title
	}
	switch {
	case strings.EqualFold(from, "derived"):
		return "" // the line's own arithmetic is its ground
	case from == "":
		return Upper(l.Grade)
	case l.Grade == "" || l.Grade == source.Standard.String() || strings.Contains(strings.ToLower(from), l.Grade):
		return Upper(from)
	}
	return Upper(from) + " (" + l.Grade + ")"
}
