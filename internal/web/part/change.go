package part

import (
	"vatside/internal/figure"
	"vatside/internal/plan"
)

// Change is one figure of a plan as it was and as it is now.
type Change struct {
	Key     string
	Name    string
	Was     string
	WasSpan string
	Now     string
	NowSpan string
	Pair    *Pair
}

// asked are the figures that say what a plan asks for, in the order of the
// work.
var asked = []string{"fibre_air_dry_g", "sheets_to_pull", "formed_long_mm", "formed_short_mm", "vat_consistency_g_l", "drying_hours", "hands_on_hours"}

// Changes compares what two plans of the same brief ask for; what reads alike
// is left out.
func Changes(was, now plan.Plan, s Speech) []Change {
	var list []Change
	for _, key := range asked {
		a, okA := was.Figures[key]
		b, okB := now.Figures[key]
		if !okA || !okB {
			continue
		}
		from, to := spanOf(a), spanOf(b)
		c := Change{
			Key: key, Name: FigureName(key, b.Name), Was: s.One(a.Value, a.Unit), Now: s.One(b.Value, b.Unit),
			WasSpan: s.Span(from.Low, from.High, a.Unit), NowSpan: s.Span(to.Low, to.High, b.Unit),
		}
		if c.Was == c.Now && c.WasSpan == c.NowSpan {
			continue
		}
		if from.Low == from.High && to.Low == to.High {
			c.WasSpan, c.NowSpan = "", ""
		}
		c.Pair = NewPair(from, to, "before "+c.WasSpan+", now "+c.NowSpan)
		list = append(list, c)
	}
	return list
}

// spanOf is the band of a figure: of a decision, what will probably be used.
func spanOf(f figure.Figure) Span {
	if f.ExpectedLow != nil && f.ExpectedHigh != nil {
		return Span{f.Value, *f.ExpectedLow, *f.ExpectedHigh}
	}
	return Span{f.Value, f.Low, f.High}
}

// Span is a value with its band.
type Span struct {
	Value, Low, High float64
}

// Pair is two bands drawn under one another on one scale: as it was, and as it
// is now.
type Pair struct {
	Was, Now Bar
	Text     string
}

// NewPair draws two bands; nil where neither has a width.
func NewPair(was, now Span, text string) *Pair {
	if was.Low == was.High && now.Low == now.High {
		return nil
	}
	low := min(was.Low, now.Low, was.Value, now.Value)
	high := max(was.High, now.High, was.Value, now.Value)
	if !(high > low) {
		return nil
	}
	at := func(x float64) int { return int((barWidth-2)*(x-low)/(high-low) + 0.5) }
	bar := func(s Span) Bar {
		return Bar{Low: at(s.Low), Width: max(at(s.High)-at(s.Low), 2), Mark: at(s.Value)}
	}
	return &Pair{Was: bar(was), Now: bar(now), Text: text}
}
