package figure

import (
	"math"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// A draw of a tail in which a formula does not hold stays in the tail: the
// quantile of one in a hundred does not move. More than one in five hundred fails
// the book.
func TestBeyondStaysInTheTail(t *testing.T) {
	t.Parallel()
	up := func(most float64) (Col[measure.Number], *Book) {
		bk := NewBook(2000, 4)
		a, b := normal(bk, "a", 100, 10, source.Memory), normal(bk, "b", 0, 0.1, source.Memory)
		return Map2(bk, "up", "{0} + {1}", func(x, y measure.Number) (measure.Number, error) {
			if float64(x) > most {
				return 0, fault.OutOfRange("", "too much")
			}
			return x + y, nil
		}, a, b), bk
	}
	all, whole := up(math.Inf(1))
	most := whole.Quantile(all, 0.9985) // three of 2,000 beyond
	got, bk := up(most)
	if bk.Err() != nil {
		t.Fatal(bk.Err())
	}
	moved := 0
	for i := range 2000 {
		if got.At(i) == all.At(i) {
			continue
		}
		if moved++; float64(got.At(i)) < whole.Quantile(all, 0.99) {
			t.Errorf("a draw of the tail is %g, the middle %g", got.At(i), got.Centre())
		}
	}
	if moved == 0 || moved > 4 || bk.Quantile(got, 0.99) != whole.Quantile(all, 0.99) {
		t.Errorf("%d draws moved; the highest in a hundred starts at %g, without a limit at %g", moved, bk.Quantile(got, 0.99), whole.Quantile(all, 0.99))
	}
	if _, bk := up(whole.Quantile(all, 0.99)); fault.KindOf(bk.Err()) != fault.KindOutOfRange {
		t.Errorf("one in a hundred beyond gives %v", bk.Err())
	}
	one := NewBook(1, 4)
	calls := 0
	Map1(one, "none holds", "{0}", func(x measure.Number) (measure.Number, error) {
		if calls++; calls > 1 {
			return 0, fault.OutOfRange("", "too much")
		}
		return x, nil
	}, normal(one, "a", 1, 1, source.Memory))
	if one.Err() == nil {
		t.Error("a book none of whose draws hold is taken")
	}
}

// Nine draws in ten lie within the band, its middle in the middle, each side as
// far as it reaches.
func TestDrawn(t *testing.T) {
	t.Parallel()
	bk := NewBook(20000, 1)
	col := bk.Drawn("x", source.Value{Low: 2, Mid: 3, High: 9})
	below, above, lower := 0, 0, 0
	for _, v := range col {
		switch {
		case v < 2:
			below++
		case v > 9:
			above++
		}
		if v < 3 {
			lower++
		}
	}
	n := float64(len(col)) // 5, 5 and 50 in 100, to five standard deviations of a count
	for what, got := range map[string][2]float64{"below the band": {float64(below), 0.05}, "above it": {float64(above), 0.05}, "under its middle": {float64(lower), 0.5}} {
		if off := math.Abs(got[0] - n*got[1]); off > 5*math.Sqrt(n*got[1]*(1-got[1])) {
			t.Errorf("%s lie %.0f of %.0f", what, got[0], n)
		}
	}
	if bk.Drawn("y", source.Value{Low: 3, Mid: 3, High: 3}) != nil {
		t.Error("what is certain was drawn")
	}
}
