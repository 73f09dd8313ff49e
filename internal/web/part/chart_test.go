package part

import (
	"strconv"
	"testing"
)

// Every dot has its name for who cannot see it; written beside it are names and
// values only where there is room.
func TestChartNames(t *testing.T) {
	t.Parallel()
	for _, n := range []int{fewNames, fewNames + 1} {
		var values []Plotted
		for i := range n {
			values = append(values, Plotted{Name: "K" + strconv.Itoa(i), Value: float64(i)})
		}
		c := NewChart("Grammage", values, nil, nil, nil, func(float64) string { return "" })
		for i, d := range c.Dots {
			if d.Name != values[i].Name || d.Above > 0 != (n <= fewNames) {
				t.Errorf("dot %d of %d: %+v", i, n, d)
			}
		}
	}
}

// A value outside its own band is out, and stands within the drawing with it;
// marks lie below the values, one row to a kind; long runs are numbered in round
// steps.
func TestChartOfARun(t *testing.T) {
	t.Parallel()
	var values []Plotted
	for i := range 60 {
		values = append(values, Plotted{Name: strconv.Itoa(i + 1), Value: float64(i % 3), Band: &Band{Low: -5, High: 5}})
	}
	values[40].Band = &Band{Low: 3, High: 4}
	c := NewChart("Run", values, nil, nil, nil, func(float64) string { return "" })
	c.Mark("weighed", []Stretch{{From: 0, To: 2, Name: "three"}, {From: 30, To: 30, Name: "one"}})
	c.Mark("nothing", nil)
	c.Mark("posts", []Stretch{{From: 0, To: 59}})
	c.Number()
	for i, d := range c.Dots {
		if d.Out != (i == 40) || d.Y < chartTop || d.Y > chartFoot {
			t.Errorf("dot %d: %+v", i+1, d)
		}
	}
	if len(c.Rows) != 2 || c.Rows[1].Y <= c.Rows[0].Y || c.Rows[0].Y <= chartFoot || c.Height <= c.Rows[1].Y || c.Rows[0].Spans[1].Width < markLeast || c.Rows[0].Spans[0].X != c.Dots[0].X {
		t.Errorf("rows: %+v in a height of %d", c.Rows, c.Height)
	}
	if n := len(c.Ticks); n < 3 || n > fewTicks || c.Ticks[0].Name != "10" || c.Ticks[0].X != c.Dots[9].X {
		t.Errorf("ticks: %+v", c.Ticks)
	}
}
