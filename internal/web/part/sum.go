package part

import (
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
		line := SumLine{What: Upper(l.What), Working: l.Working, Result: l.Result, Source: sourceOf(l), Note: l.Note}
		if strings.Trim(l.Working, "0123456789.,-−e+\u202f ") == "" {
			line.Working = ""
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
	case from == "derived":
		return ""
	case l.Grade == "" || strings.EqualFold(from, l.Grade):
		return Upper(from)
	case from == "":
		return Upper(l.Grade)
	}
	return Upper(from) + " (" + l.Grade + ")"
}
