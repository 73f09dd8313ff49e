package part

import (
	"fmt"
	"math"
)

// Chart is values one after another, oldest first, with the limits that chance
// alone keeps to, where there are enough of them.
type Chart struct {
	Name   string
	Dots   []Dot
	Path   string // through all of them
	Lines  []Limit
	Said   []string // what is out of the way, in words
	Text   string   // the whole, for who cannot see it
	Width  int
	Height int
	Foot   int // where the names below the dots stand
}

// Dot is one value.
type Dot struct {
	X, Y       int
	Above      int // where its value stands; 0: there is no room for it and the name
	Href, Name string
	Value      string
	Out        bool // beyond the limits
}

// Limit is a line across.
type Limit struct {
	Y    int
	Name string
	Mid  bool
}

// Plotted is what a chart is made of.
type Plotted struct {
	Name, Href string
	Value      float64
	Said       string // the value in the reader's units
}

// The drawing's own units.
const (
	chartWidth  = 640
	chartHeight = 190
	chartTop    = 30
	chartFoot   = 150
	chartLeft   = 64  // room for half a label
	chartRight  = 520 // beyond it stand the names of the lines
	fewNames    = 7   // dots that have room for a name and a value
)

// NewChart draws values; lines are the limits, by their values, with the names
// they carry. Two lines other than the middle one are the bounds beyond which
// a dot is out.
func NewChart(name string, values []Plotted, low, mid, high *float64, say func(float64) string) Chart {
	c := Chart{Name: name, Width: chartWidth, Height: chartHeight, Foot: chartHeight - 12}
	if len(values) == 0 {
		return c
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		least, most = min(least, v.Value), max(most, v.Value)
	}
	for _, l := range []*float64{low, mid, high} {
		if l != nil {
			least, most = min(least, *l), max(most, *l)
		}
	}
	if most == least {
		least, most = least-1, most+1
	}
	y := func(v float64) int {
		return chartFoot - int(math.Round((v-least)/(most-least)*float64(chartFoot-chartTop)))
	}
	step := float64(chartRight-chartLeft) / float64(max(1, len(values)-1))
	for i, v := range values {
		d := Dot{X: chartLeft + int(math.Round(step*float64(i))), Y: y(v.Value), Href: v.Href, Name: v.Name, Value: v.Said}
		if len(values) <= fewNames {
			d.Above = d.Y - 14
		}
		d.Out = low != nil && v.Value < *low || high != nil && v.Value > *high
		if d.Out {
			c.Said = append(c.Said, fmt.Sprintf("%s lies outside: %s", v.Name, v.Said))
		}
		c.Dots = append(c.Dots, d)
		c.Path += fmt.Sprintf("%s%d %d", map[bool]string{true: "M", false: " L"}[i == 0], d.X, d.Y)
	}
	for _, l := range []struct {
		at   *float64
		name string
	}{{high, "at most"}, {mid, "middle"}, {low, "at least"}} {
		if l.at != nil {
			c.Lines = append(c.Lines, Limit{Y: y(*l.at), Name: l.name + " " + say(*l.at), Mid: l.at == mid})
		}
	}
	c.Text = fmt.Sprintf("%s of %d makings, from %s to %s", name, len(values), say(values[0].Value), say(values[len(values)-1].Value))
	return c
}
