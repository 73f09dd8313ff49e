package part

import (
	"fmt"
	"math"
	"slices"
)

// Chart is values one after another, oldest first, with the limits that chance
// alone keeps to, where there are enough of them.
type Chart struct {
	Name   string
	Dots   []Dot
	Path   string  // through all of them
	Area   string  // about them, where they have bands
	Rows   []Marks // what happened between them, below
	Ticks  []Tick  // names along the foot, where the dots have none
	Lines  []Limit
	Said   []string // what is out of the way, in words
	Text   string   // the whole, for who cannot see it
	Width  int
	Height int
	Foot   int     // where the names below the dots stand
	step   float64 // from one value to the next
}

// Marks is one row of marks below the values.
type Marks struct {
	Y     int
	Name  string
	Spans []Stroke
}

// Stroke is one mark, from left to right.
type Stroke struct {
	X, Y, Width int
	Name        string
}

// Tick is a name at the foot.
type Tick struct {
	X    int
	Name string
}

// Dot is one value.
type Dot struct {
	X, Y       int
	Above      int // where its value stands; 0: there is no room for it and the name
	Href, Name string
	Value      string
	Out        bool // beyond the limits
	R          int  // how large it is
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
	Band       *Band  // what it may be; nil: as it is
}

// Band is from where to where.
type Band struct{ Low, High float64 }

func (b *Band) holds(v float64) bool { return b == nil || v >= b.Low && v <= b.High }

// The drawing's own units.
const (
	chartWidth  = 640
	chartHeight = 190
	chartTop    = 30
	chartFoot   = 150
	chartLeft   = 64  // room for half a label
	chartRight  = 440 // beyond it stand the names of the lines
	fewNames    = 7   // dots that have room for a name and a value
	fewDots     = 30  // dots that do not run into each other
	rowHeight   = 26  // of a row of marks
	markHeight  = 12
	markLeast   = 4 // as narrow as a mark may be
	fewTicks    = 6
)

// NewChart draws values; lines are the limits, by their values, with the names
// they carry. Two lines other than the middle one are the bounds beyond which
// a dot is out, as is one outside its own band.
func NewChart(name string, values []Plotted, low, mid, high *float64, say func(float64) string) Chart {
	c := Chart{Name: name, Width: chartWidth, Height: chartHeight, Foot: chartHeight - 12}
	if len(values) == 0 {
		return c
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		least, most = min(least, v.Value), max(most, v.Value)
		if v.Band != nil {
			least, most = min(least, v.Band.Low), max(most, v.Band.High)
		}
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
	c.step = float64(chartRight-chartLeft) / float64(max(1, len(values)-1))
	for i, v := range values {
		d := Dot{X: c.x(float64(i)), Y: y(v.Value), Href: v.Href, Name: v.Name, Value: v.Said, R: 5}
		if len(values) > fewDots && v.Href == "" {
			d.R = 2
		}
		if len(values) <= fewNames {
			d.Above = d.Y - 14
		}
		d.Out = low != nil && v.Value < *low || high != nil && v.Value > *high || !v.Band.holds(v.Value)
		if d.Out {
			d.R += 2
			c.Said = append(c.Said, fmt.Sprintf("%s lies outside: %s", v.Name, v.Said))
		}
		c.Dots = append(c.Dots, d)
		c.Path += fmt.Sprintf("%s%d %d", map[bool]string{true: "M", false: " L"}[i == 0], d.X, d.Y)
	}
	c.Area = c.area(values, y)
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

// x is where a value stands, by its place.
func (c *Chart) x(at float64) int { return chartLeft + int(math.Round(c.step*at)) }

// area runs along the upper ends of the bands and back along the lower ones.
func (c *Chart) area(values []Plotted, y func(float64) int) (path string) {
	for i, v := range values {
		if v.Band == nil {
			return ""
		}
		path += fmt.Sprintf("%s%d %d", map[bool]string{true: "M", false: " L"}[i == 0], c.x(float64(i)), y(v.Band.High))
	}
	for i, v := range slices.Backward(values) {
		path += fmt.Sprintf(" L%d %d", c.x(float64(i)), y(v.Band.Low))
	}
	return path + " Z"
}

// Stretch is a mark between values, by their places.
type Stretch struct {
	From, To float64
	Name     string
}

// Mark adds a row of marks below the values.
func (c *Chart) Mark(name string, list []Stretch) {
	if len(list) == 0 {
		return
	}
	row := Marks{Y: chartFoot + 22 + rowHeight*len(c.Rows), Name: name}
	for _, m := range list {
		from, to := c.x(m.From), c.x(m.To)
		wide := max(markLeast, to-from)
		row.Spans = append(row.Spans, Stroke{X: (from+to)/2 - wide/2, Y: row.Y - markHeight/2, Width: wide, Name: m.Name})
	}
	c.Rows = append(c.Rows, row)
	c.Height, c.Foot = row.Y+rowHeight+12, row.Y+rowHeight+4
}

// Number names some of the values along the foot, in round steps, where there
// are too many to name each.
func (c *Chart) Number() {
	if len(c.Dots) <= fewNames {
		return
	}
	step := 1
	for _, s := range []int{2, 5, 10, 20, 50, 100, 200} {
		if len(c.Dots)/step > fewTicks {
			step = s
		}
	}
	for i := step - 1; i < len(c.Dots); i += step {
		c.Ticks = append(c.Ticks, Tick{c.Dots[i].X, c.Dots[i].Name})
	}
}
