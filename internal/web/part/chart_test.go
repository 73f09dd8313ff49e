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
