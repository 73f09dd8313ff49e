package part

import (
	"html/template"

	"vatside/internal/figure"
)

// Figure is a figure as the reader sees it: said in their units, its band in
// words, what it rests on, and where its sum is.
type Figure struct {
	Key     string
	Name    string
	Number  string
	Unit    string
	Band    string
	RestsOn string
	SumHref string
	Bar     *Bar
	Large   bool
}

// NewFigure sets a figure in the reader's words. sumHref is the page of its
// sum; "" where there is none.
func NewFigure(key string, f figure.Figure, s Speech, sumHref string) Figure {
	number, unit := s.Show(f.Value, f.Unit)
	v := Figure{Key: key, Name: FigureName(key, f.Name), Number: number, Unit: unit, RestsOn: RestsOn(f.Basis)}
	if len(f.Sum) > 0 {
		v.SumHref = sumHref
	}
	switch {
	case f.Kind == figure.Decision && f.ExpectedLow != nil && f.ExpectedHigh != nil:
		if span := s.Span(*f.ExpectedLow, *f.ExpectedHigh, f.Unit); span != s.One(f.Value, f.Unit) {
			v.Band = "you will probably use " + span
		}
	case f.Kind == figure.Outcome && f.Low != f.High:
		if span := s.Span(f.Low, f.High, f.Unit); span != s.One(f.Value, f.Unit) {
			v.Band = "nine times in ten " + span
			v.Bar = NewBar(f.Value, f.Low, f.High, v.Band)
		}
	}
	return v
}

// Bar is a band drawn as a thin line: the whole width is from nothing, or from
// well below the band, to well above it, so that a wide band looks wide.
type Bar struct {
	Low, Width, Mark int // in hundredths of the whole width, of 200
	Text             string
}

const barWidth = 200 // units of the drawing's own box

// NewBar draws a band around a value; nil where nothing can be drawn.
func NewBar(value, low, high float64, text string) *Bar {
	if !(high > low) || !(value >= low && value <= high) {
		return nil
	}
	// Twice the distance to the farther end on either side of the value, but
	// at least half the value: a band of a few per cent must look narrow.
	reach := max(2*(value-low), 2*(high-value), value/2)
	from := value - reach
	at := func(x float64) int { return int(barWidth*(x-from)/(2*reach) + 0.5) }
	return &Bar{Low: at(low), Width: max(at(high)-at(low), 2), Mark: at(value), Text: text}
}

// Funcs are the functions templates may call.
var Funcs = template.FuncMap{
	"add":   func(a, b int) int { return a + b },
	"upper": Upper,
}
