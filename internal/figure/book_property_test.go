package figure

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/testkit/arithmetic"
)

// normal enters a standard normal of its own, scaled and moved.
func normal(bk *Book, name string, centre, sd float64, g source.Grade) Col[measure.Number] {
	r, col := bk.Stream(name), bk.Column()
	for i := range col {
		col[i] = centre + sd*r.NormFloat64()
	}
	return Leaf(bk, name, measure.Number(centre), col, "memory", g, "")
}

func plus(a, b measure.Number) (measure.Number, error)  { return a + b, nil }
func times(a, b measure.Number) (measure.Number, error) { return a * b, nil }

// A stream's draws follow from seed and name alone: what else is in the book,
// and in which order, moves none.
func TestStreamsAreTheirOwn(t *testing.T) {
	t.Parallel()
	alone := normal(NewBook(200, 7), "depth", 20, 4, source.Memory)
	bk := NewBook(200, 7)
	bk.Latent("degree of beating")
	normal(bk, "moisture", 0.07, 0.01, source.Memory)
	beside := normal(bk, "depth", 20, 4, source.Memory)
	bk.Latent("another")
	other := normal(NewBook(200, 8), "depth", 20, 4, source.Memory)
	same := 0
	for i := range 200 {
		if alone.At(i) != beside.At(i) {
			t.Fatalf("draw %d moved from %v to %v when another belief was added", i, alone.At(i), beside.At(i))
		}
		if alone.At(i) == other.At(i) {
			same++
		}
	}
	if same > 0 {
		t.Errorf("%d draws are the same under another seed", same)
	}
	a, b := NewBook(200, 7).Latent("x"), NewBook(200, 7).Stream("latent x")
	if v := b.NormFloat64(); a[0] != v {
		t.Errorf("a latent starts with %v, its stream with %v", a[0], v)
	}
}

// Streams of different names are independent and standard normal: with 20,000
// draws a correlation beyond 0.03 or a mean beyond 0.03 is four standard errors.
func TestStreamsAreIndependent(t *testing.T) {
	t.Parallel()
	bk := NewBook(20000, 3)
	names := []string{"a", "b", "ab", "ba", "depth", "depth/western", "depth/western/a3"}
	cols := make([][]float64, len(names))
	for i, n := range names {
		cols[i] = bk.nodes[normal(bk, n, 0, 1, source.Memory).id].col
		if m, sd := stat.MeanStdDev(cols[i], nil); math.Abs(m) > 0.03 || math.Abs(sd-1) > 0.02 {
			t.Errorf("stream %s has mean %.4f and sd %.4f", n, m, sd)
		}
		for j := range i {
			if r := stat.Correlation(cols[i], cols[j], nil); math.Abs(r) > 0.03 {
				t.Errorf("streams %s and %s correlate %.3f", n, names[j], r)
			}
		}
	}
}

// A book that is given back lends its room to the next, which starts empty;
// figures taken from it stay, and it says so if it is used again.
func TestRelease(t *testing.T) {
	t.Parallel()
	var last Figure
	for i := range 5 {
		bk := NewBook(1000, 9)
		if c := bk.Column(); slices.Max(c) != 0 || slices.Min(c) != 0 {
			t.Fatal("a column is not empty")
		}
		f := Sum(bk, "sum", normal(bk, "a", 10, 1, source.Memory), normal(bk, "b", 5, 2, source.Memory)).Figure()
		bk.Release()
		if i > 0 && (f.Low != last.Low || f.High != last.High || len(f.Sum) != len(last.Sum)) {
			t.Fatalf("book %d gives %+v, the one before %+v", i, f, last)
		}
		if bk.Err() == nil {
			t.Fatal("a book given back goes on")
		}
		last = f
	}
}

// A latent is one column, whoever names it.
func TestLatentIsShared(t *testing.T) {
	t.Parallel()
	bk := NewBook(100, 1)
	a, b := bk.Latent("degree of beating"), bk.Latent("degree of beating")
	if &a[0] != &b[0] {
		t.Error("two who name one latent got two columns")
	}
	if c := bk.Latent("room"); slices.Equal(a, c) {
		t.Error("two latents are one")
	}
}

// Columns handed out never overlap, also across slabs.
func TestColumnsAreApart(t *testing.T) {
	t.Parallel()
	bk := NewBook(13, 1)
	cols := make([][]float64, 200)
	for i := range cols {
		cols[i] = bk.Column()
		if len(cols[i]) != 13 || cap(cols[i]) != 13 {
			t.Fatalf("column %d holds %d of %d", i, len(cols[i]), cap(cols[i]))
		}
		for j := range cols[i] {
			if cols[i][j] != 0 {
				t.Fatalf("column %d is not empty", i)
			}
			cols[i][j] = float64(i)
		}
	}
	for i, c := range cols {
		for _, v := range c {
			if v != float64(i) {
				t.Fatalf("column %d was overwritten", i)
			}
		}
	}
}

// Map evaluates the same formula at the centre and in every draw; of certain
// inputs there is no column.
func TestMapsEvaluateEachDraw(t *testing.T) {
	t.Parallel()
	bk := NewBook(50, 2)
	a, b := normal(bk, "a", 3, 1, source.Memory), Given(bk, "b", measure.Number(2), "brief", source.Standard)
	sum3 := func(x, y, z measure.Number) (measure.Number, error) { return x + 2*y + 3*z, nil }
	sum4 := func(x, y, z, w measure.Number) (measure.Number, error) { return x + 2*y + 3*z + 4*w, nil }
	one := Map1(bk, "double", "{0} × 2", func(x measure.Number) (measure.Number, error) { return 2 * x, nil }, a)
	two := Map2(bk, "product", "{0} × {1}", times, a, b)
	three := Map3(bk, "three", "{0} + 2 × {1} + 3 × {2}", sum3, a, b, one)
	four := Map4(bk, "four", "{0} + 2 × {1} + 3 × {2} + 4 × {3}", sum4, a, b, one, two)
	all := Sum(bk, "all", a, b, one, two, three, four)
	for i := range 50 {
		x := a.At(i)
		w3 := x + 4 + 6*x
		w4 := x + 4 + 6*x + 8*x
		if one.At(i) != 2*x || two.At(i) != 2*x || math.Abs(float64(three.At(i)-w3)) > 1e-12 || math.Abs(float64(four.At(i)-w4)) > 1e-12 {
			t.Fatalf("draw %d of %v gives %v, %v, %v, %v", i, x, one.At(i), two.At(i), three.At(i), four.At(i))
		}
		if math.Abs(float64(all.At(i)-(x+2+2*x+2*x+w3+w4))) > 1e-9 {
			t.Fatalf("the sum of draw %d is %v", i, all.At(i))
		}
	}
	if one.Centre() != 6 || two.Centre() != 6 || three.Centre() != 25 || four.Centre() != 49 || all.Centre() != 91 {
		t.Errorf("centres %v %v %v %v %v, want 6 6 25 49 91", one.Centre(), two.Centre(), three.Centre(), four.Centre(), all.Centre())
	}
	if c := Map2(bk, "certain", "{0} + {1}", plus, b, b); !c.Certain() || a.Certain() || c.At(49) != 4 {
		t.Error("certainty is not passed on")
	}
}

// An error sticks: it is the first that is told, no later formula runs, and
// figures carry no number.
func TestErrorSticks(t *testing.T) {
	t.Parallel()
	first, second := errors.New("first"), errors.New("second")
	bk := NewBook(10, 1)
	a := normal(bk, "a", 1, 1, source.Memory)
	bad := Map1(bk, "bad", "{0}", func(measure.Number) (measure.Number, error) { return 0, first }, a)
	ran := false
	after := Map1(bk, "after", "{0}", func(measure.Number) (measure.Number, error) { ran = true; return 5, second }, bad)
	bk.Fail(second)
	enough := Enough(bk, "enough", 0.95, 1, after)
	if !errors.Is(bk.Err(), first) || ran {
		t.Errorf("the book tells %v, and a later formula ran: %v", bk.Err(), ran)
	}
	if f := enough.Figure(); f.Value != 0 || len(f.Sum) != 0 || f.Name != "enough" {
		t.Errorf("a figure of a failed book holds %+v", f)
	}
	draws := NewBook(10, 1)
	n := 0
	Map1(draws, "fails in a draw", "{0}", func(x measure.Number) (measure.Number, error) {
		if n++; n > 5 {
			return 0, first
		}
		return x, nil
	}, normal(draws, "a", 1, 1, source.Memory))
	if !errors.Is(draws.Err(), first) || n != 6 {
		t.Errorf("an error in draw 5 gave %v after %d calls", draws.Err(), n)
	}
}

// The basis is the worst grade among inputs with a tenth of the variance or
// more. The sum of independent normals has variance shares sd² over the total.
func TestBasis(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		sd            [3]float64 // of a measured, a handbook and a memory input
		certainMemory bool
		want          source.Grade
	}{
		{"all three alike", [3]float64{1, 1, 1}, false, source.Memory},
		{"memory has 2 % only", [3]float64{7, 7, 1.4}, false, source.Handbook},
		{"memory and handbook have 4 % each", [3]float64{1, 0.2, 0.2}, false, source.Measured},
		{"memory has 12 %", [3]float64{0.6633, 0.6633, 0.3464}, false, source.Memory},
		{"memory has 8 %", [3]float64{0.6782, 0.6782, 0.2828}, false, source.Handbook},
		{"memory has 17 %", [3]float64{2, 1, 1}, false, source.Memory},
		{"a certain memory input makes no variance", [3]float64{1, 1, 0}, true, source.Handbook},
		{"only memory is uncertain", [3]float64{0, 0, 1}, false, source.Memory},
		{"nothing uncertain: the worst in the chain", [3]float64{0, 0, 0}, true, source.Memory},
	} {
		bk := NewBook(20000, 5) // a share of a tenth then has a standard error of 0.4 points
		grades := [3]source.Grade{source.Measured, source.Handbook, source.Memory}
		var in []Col[measure.Number]
		for i, sd := range c.sd {
			name := grades[i].String()
			if sd == 0 {
				in = append(in, Given(bk, name, measure.Number(10), "memory", grades[i]))
			} else {
				in = append(in, normal(bk, name, 10, sd, grades[i]))
			}
		}
		if f := Sum(bk, c.name, in...).Figure(); f.Basis != c.want {
			t.Errorf("%s: basis %s, want %s", c.name, f.Basis, c.want)
		}
	}
}

// The basis looks through lines between: a product passes variance on, and
// only inputs of the figure itself count, not others of the book.
func TestBasisLooksThrough(t *testing.T) {
	t.Parallel()
	bk := NewBook(4000, 6)
	a := normal(bk, "a", 10, 1, source.Handbook)
	stranger := normal(bk, "stranger", 10, 50, source.Memory)
	mid := Map2(bk, "mid", "{0} × {1}", times, a, Given(bk, "three", measure.Number(3), "brief", source.Standard))
	last := Map2(bk, "last", "{0} + {1}", plus, mid, Given(bk, "one", measure.Number(1), "definition", source.Standard))
	if f := last.Figure(); f.Basis != source.Handbook {
		t.Errorf("basis %s, want handbook", f.Basis)
	}
	_ = stranger
	if f := Choose(bk, "decided", "{0}", nil, mid.Centre(), mid, mid).Figure(); f.Basis != source.Handbook {
		t.Errorf("a decision on a handbook number rests on %s", f.Basis)
	}
}

// goes is the share of an outcome's variance that goes with a leaf.
func goes(bk *Book, leaf, outcome Col[measure.Number]) float64 {
	line, _ := bk.Share(bk.Scores(leaf, func(v float64) float64 { return v }), outcome)
	return line
}

// The share of variance that goes with a leaf is its own over the total.
func TestShareOfVariance(t *testing.T) {
	t.Parallel()
	bk := NewBook(50000, 9)
	a, b := normal(bk, "a", 0, 3, source.Memory), normal(bk, "b", 0, 1, source.Memory)
	s := Sum(bk, "s", a, b)
	if got := goes(bk, a, s); math.Abs(got-0.9) > 0.01 {
		t.Errorf("9 of 10 parts of the variance came out as %.3f", got)
	}
	if got := goes(bk, b, s); math.Abs(got-0.1) > 0.01 {
		t.Errorf("1 of 10 parts of the variance came out as %.3f", got)
	}
	// y = z + z² of a standard normal: variance 1 and 2
	y := Map1(bk, "y", "{0} + {0} × {0}", func(z measure.Number) (measure.Number, error) { return z + z*z, nil }, b)
	line, bend := bk.Share(bk.Scores(b, func(v float64) float64 { return v }), y)
	if math.Abs(line-1.0/3) > 0.02 || math.Abs(bend-2.0/3) > 0.05 { // the open classes at the ends blur the bend a little
		t.Errorf("line and bend hold %.3f and %.3f, want a third and two thirds", line, bend)
	}
	// on its own scale a bent relation is straight
	e := Map1(bk, "e", "{0}", func(z measure.Number) (measure.Number, error) { return measure.Number(math.Exp(float64(z) / 4)), nil }, b)
	back := Map1(bk, "back", "{0}", func(z measure.Number) (measure.Number, error) { return measure.Number(math.Log(float64(z))), nil }, e)
	if line, bend := bk.Share(bk.Scores(e, math.Log), back); math.Abs(line-1) > 1e-9 || bend > 1e-9 {
		t.Errorf("on its own scale line and bend hold %.3f and %.3f", line, bend)
	}
	certain := Given(bk, "certain", measure.Number(1), "brief", source.Standard)
	if line, bend := bk.Share(bk.Scores(certain, math.Log), y); line != 0 || bend != 0 {
		t.Errorf("a certain number holds %.3f and %.3f", line, bend)
	}
}

// Quantiles and bands are order statistics of the draws: against a plain sort,
// for any numbers.
func TestQuantileIsOrderStatistic(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 1, 300).Draw(t, "v")
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		bk := NewBook(len(v), 1)
		c := Leaf(bk, "v", measure.Number(0), slices.Clone(v), "memory", source.Memory, "")
		sorted := slices.Sorted(slices.Values(v))
		at := func(p float64) float64 {
			return sorted[min(max(int(math.Ceil(p*float64(len(v))))-1, 0), len(v)-1)]
		}
		if got := bk.Quantile(c, p); got != at(p) {
			t.Fatalf("quantile %g is %g, want %g of %v", p, got, at(p), sorted)
		}
		f := c.Figure()
		if low, high := bk.Band(c); f.Low != at(0.05) || f.High != at(0.95) || low != f.Low || high != f.High {
			t.Fatalf("band %g–%g, want %g–%g", f.Low, f.High, at(0.05), at(0.95))
		}
		if !slices.Equal(bk.nodes[c.id].col, v) {
			t.Fatal("looking for a quantile moved the draws")
		}
		if got := bk.Spread(c); math.Abs(got-stat.PopStdDev(v, nil)) > 1e-9*(1+got) {
			t.Fatalf("spread %g, want %g", got, stat.PopStdDev(v, nil))
		}
	})
}

// Enough suffices in the share of draws that was asked, is no larger than it
// must be, is a multiple of its step and never less than the centre.
func TestEnough(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 1000), 20, 200).Draw(t, "v")
		conf := rapid.Float64Range(0.5, 0.999).Draw(t, "conf")
		step := rapid.SampledFrom([]float64{0, 1, 5, 25}).Draw(t, "step")
		bk := NewBook(len(v), 1)
		centre := v[0]
		need := Leaf(bk, "need", measure.Mass(centre), slices.Clone(v), "memory", source.Memory, "")
		got := float64(Enough(bk, "enough", conf, step, need).Centre())
		suffices := func(amount float64) int {
			n := 0
			for _, x := range v {
				if x <= amount+1e-6 {
					n++
				}
			}
			return n
		}
		want := int(math.Ceil(conf * float64(len(v))))
		if suffices(got) < want || got < centre-1e-6 {
			t.Fatalf("%g suffices in %d draws of %d, want %d; centre %g", got, suffices(got), len(v), want, centre)
		}
		if step > 0 && math.Abs(got/step-math.Round(got/step)) > 1e-9 {
			t.Fatalf("%g is no multiple of %g", got, step)
		}
		if less := got - math.Max(step, 1e-3); less >= centre && suffices(less-1e-5) >= want+1 {
			t.Fatalf("%g would do as well as %g", less, got)
		}
	})
	bk := NewBook(10, 1)
	if v := Enough(bk, "sure", 0.99, 0, Given(bk, "need", measure.Mass(42), "brief", source.Standard)).Centre(); v != 42 {
		t.Errorf("enough of a certain 42 is %v", v)
	}
}

// A decision has no band of its own; what will be used is beside it.
func TestDecisionFigure(t *testing.T) {
	t.Parallel()
	bk := NewBook(1000, 4)
	need := normal(bk, "need", 100, 10, source.Handbook)
	f := Enough(bk, "weigh out", 0.95, 1, need).Figure()
	if f.Kind != Decision || f.Low != f.Value || f.High != f.Value || f.ExpectedLow == nil || f.ExpectedHigh == nil {
		t.Fatalf("a decision reads %+v", f)
	}
	band := need.Figure()
	if *f.ExpectedLow != band.Low || *f.ExpectedHigh != band.High || band.Kind != Outcome {
		t.Errorf("expected %g–%g, needed %g–%g", *f.ExpectedLow, *f.ExpectedHigh, band.Low, band.High)
	}
	a := need.AsDecision()
	if a.Kind != Decision || a.Low != a.Value || *a.ExpectedLow != band.Low || *a.ExpectedHigh != band.High || a.Certain() {
		t.Errorf("an outcome marked as decision reads %+v", a)
	}
	p := a.Percent()
	if p.Unit != "%" || math.Abs(p.Value-100*a.Value) > 1e-9 || math.Abs(*p.ExpectedLow-100*band.Low) > 1e-9 || *a.ExpectedLow != band.Low || len(p.Sum) != len(a.Sum)+1 {
		t.Errorf("in per cent it reads %+v", p)
	}
	if c := Given(bk, "given", measure.Number(3), "brief", source.Standard).Figure(); !c.Certain() || c.Basis != source.Standard {
		t.Errorf("a given number reads %+v", c)
	}
}

// Every line of a sum stands after what it uses, each once, and its working
// comes to its result, whatever the size of the numbers.
func TestSumsReEvaluate(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		bk := NewBook(2, 1)
		size := rapid.Float64Range(-9, 9)
		value := func(name string) measure.Number {
			v := math.Pow(10, size.Draw(t, name))
			if rapid.Bool().Draw(t, "negative") {
				v = -v
			}
			return measure.Number(v)
		}
		cols := []Col[measure.Number]{Given(bk, "first", value("v"), "brief", source.Standard), Given(bk, "second", value("v"), "brief", source.Standard)}
		for range rapid.IntRange(1, 8).Draw(t, "lines") {
			a := rapid.SampledFrom(cols).Draw(t, "a")
			b := rapid.SampledFrom(cols).Draw(t, "b")
			switch rapid.IntRange(0, 3).Draw(t, "op") {
			case 0:
				cols = append(cols, Map2(bk, "sum", "{0} + {1}", plus, a, b))
			case 1:
				cols = append(cols, Map2(bk, "ratio", "{0} / {1}", func(a, b measure.Number) (measure.Number, error) { return a / b, nil }, a, cols[0]))
			case 2:
				cols = append(cols, Choose(bk, "chosen", "{0} + {a}", []float64{float64(b.Centre() - a.Centre())}, b.Centre(), nil, a))
			default:
				cols = append(cols, Map2(bk, "difference", "{0} − {1}", func(a, b measure.Number) (measure.Number, error) { return a - b, nil }, a, b))
			}
		}
		last := cols[len(cols)-1]
		if math.Abs(float64(last.Centre())) > 1e15 || (last.Centre() != 0 && math.Abs(float64(last.Centre())) < 1e-15) {
			t.Skip("beyond what a studio weighs")
		}
		chain := bk.chain(last.id)
		if !slices.IsSorted(chain) || chain[len(chain)-1] != last.id {
			t.Fatalf("the chain %v is out of order", chain)
		}
		for _, id := range chain {
			for _, in := range bk.nodes[id].in {
				if at, found := slices.BinarySearch(chain, in); !found || chain[at] >= id {
					t.Fatalf("line %d uses %d, which does not stand before it in %v", id, in, chain)
				}
			}
		}
		for _, l := range last.Figure().Sum {
			if strings.ContainsAny(l.Working, "{}e") {
				t.Fatalf("unfilled or with an exponent: %q", l.Working)
			}
			if err := arithmetic.Agree(l.Working, l.Result); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// Numbers print as people write them.
func TestNumbersPrint(t *testing.T) {
	t.Parallel()
	for v, want := range map[float64]string{0: "0", 63: "63", 437.5: "437.5", 0.1: "0.1", -2.5: "(−2.5)", 1.0 / 3: "0.3333333", 2e6 / 3: "666666.7", 2e9 / 3: "666666667", 1e-6 / 3: "0.0000003333333", 1000000: "1000000", 0.99999999: "1"} {
		if got := number(v); got != want {
			t.Errorf("%v prints as %s, want %s", v, got, want)
		}
	}
	for v, want := range map[float64]string{0: "0 g", 721.4999: "721.5 g", -3.21: "−3.21 g", 366.56789: "366.57 g", 123456.7: "123457 g", 0.000123456: "0.00012346 g", 99999.96: "100000 g"} {
		if got := result(v, "g"); got != want {
			t.Errorf("%v results in %s, want %s", v, got, want)
		}
	}
	if got := result(1.5, ""); got != "1.5" {
		t.Errorf("without a unit it reads %q", got)
	}
}

// FuzzNumber: any finite number of a studio's size prints so that it reads
// back within half a unit of its seventh digit.
func FuzzNumber(f *testing.F) {
	for _, v := range []float64{0, 1, -1, 9.9999995, 0.00999999995, 1e-12, 123456789} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, v float64) {
		if math.IsNaN(v) || math.Abs(v) > 1e15 || v != 0 && math.Abs(v) < 1e-15 {
			t.Skip("beyond what a studio weighs")
		}
		got, err := arithmetic.Eval(number(v))
		if err != nil || math.Abs(got.Is-v) > arithmetic.Half(v, 7)*1.000001 {
			t.Errorf("%v prints as %s", v, number(v))
		}
	})
}

// A book of 80 lines on 16 beliefs, 2,000 draws.
func BenchmarkBook80(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		bk := NewBook(2000, 1)
		cols := make([]Col[measure.Number], 0, 80)
		for i := range 16 {
			cols = append(cols, normal(bk, string(rune('a'+i)), 10, 1, source.Memory))
		}
		for i := range 64 {
			cols = append(cols, Map2(bk, "line", "{0} + {1}", plus, cols[i], cols[i+1]))
		}
		if f := cols[79].Figure(); f.Value == 0 {
			b.Fatal("empty")
		}
		bk.Release()
	}
}
