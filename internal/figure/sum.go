package figure

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/floats"

	"vatside/internal/source"
)

// A basis counts an input that makes at least this share of the variance.
const countsFrom = 0.10

// Figure returns the column as a figure: value, band or decision, unit, basis
// and sum. Its name is what the column was called.
func (c Col[T]) Figure() Figure {
	bk, nd := c.bk, &c.bk.nodes[c.id]
	if bk.err != nil {
		return Figure{Name: nd.what, Unit: nd.unit}
	}
	f := Figure{Name: nd.what, Kind: Outcome, Value: nd.centre, Low: nd.centre, High: nd.centre, Unit: nd.unit}
	f.Basis = bk.basis(c.id)
	f.Sum = bk.sum(c.id)
	switch {
	case nd.decision:
		f.Kind = Decision
		if nd.expected >= 0 && bk.nodes[nd.expected].col != nil {
			lo, hi := bk.band(nd.expected)
			f.ExpectedLow, f.ExpectedHigh = &lo, &hi
		}
	case nd.col != nil:
		f.Low, f.High = bk.band(c.id)
	}
	return f
}

// AsDecision returns the figure marked as a decision: a number the maker is
// told to work to, though it follows from others.
func (c Col[T]) AsDecision() Figure {
	f := c.Figure()
	if f.Kind == Outcome {
		if f.Low != f.High {
			lo, hi := f.Low, f.High
			f.ExpectedLow, f.ExpectedHigh = &lo, &hi
		}
		f.Kind, f.Low, f.High = Decision, f.Value, f.Value
	}
	return f
}

// Percent turns a figure of a fraction into per cent, adding the line that
// does it.
func (f Figure) Percent() Figure { return f.times(100, "%") }

// times scales a figure into another unit with a line of its own.
func (f Figure) times(factor float64, unit string) Figure {
	line := Line{What: f.Name, Working: number(f.Value) + " × " + number(factor), Result: result(f.Value*factor, unit), Source: "definition", Grade: source.Standard.String()}
	f.Value, f.Low, f.High, f.Unit = f.Value*factor, f.Low*factor, f.High*factor, unit
	for _, p := range []**float64{&f.ExpectedLow, &f.ExpectedHigh} {
		if *p != nil {
			v := **p * factor
			*p = &v
		}
	}
	f.Sum = append(f.Sum[:len(f.Sum):len(f.Sum)], line)
	return f
}

func (bk *Book) band(id int) (lo, hi float64) {
	col := bk.nodes[id].col
	bk.scratch = append(bk.scratch[:0], col...)
	kl := int(math.Ceil(0.05*float64(bk.n))) - 1
	kh := int(math.Ceil(0.95*float64(bk.n))) - 1
	kl = max(kl, 0)
	lo = selectKth(bk.scratch, kl)
	hi = selectKth(bk.scratch[kl:], kh-kl)
	return lo, hi
}

// basis returns the worst grade among the inputs that make at least a tenth of
// the column's variance; with none uncertain, the worst in the chain.
func (bk *Book) basis(id int) source.Grade {
	nd := &bk.nodes[id]
	leaves := bk.leaves(id)
	if nd.col == nil && nd.decision {
		g := source.Standard
		for _, in := range nd.in {
			g = source.Worse(g, bk.basis(in))
		}
		return g
	}
	worst, uncertain := source.Standard, false
	if nd.col != nil {
		least := countsFrom * float64(bk.n) * variation(nd.col) // of a squared product
		for _, l := range leaves {
			if bk.nodes[l].col == nil || source.Worse(worst, bk.nodes[l].grade) == worst && uncertain {
				continue // nothing it could worsen
			}
			if dot := floats.Dot(bk.scores(l), nd.col); least > 0 && dot*dot >= least {
				worst, uncertain = source.Worse(worst, bk.nodes[l].grade), true
			}
		}
	}
	if uncertain {
		return worst
	}
	for _, l := range leaves {
		worst = source.Worse(worst, bk.nodes[l].grade)
	}
	return worst
}

// leaves returns the leaves that the column rests on, in order of entry.
func (bk *Book) leaves(id int) []int {
	var out []int
	for _, i := range bk.chain(id) {
		if bk.nodes[i].leaf {
			out = append(out, i)
		}
	}
	return out
}

// chain returns the column and all it rests on, in order of entry.
func (bk *Book) chain(id int) []int {
	seen := make([]bool, id+1)
	seen[id] = true
	count := 0
	for i := id; i >= 0; i-- { // inputs always stand before what uses them
		if !seen[i] {
			continue
		}
		count++
		for _, in := range bk.nodes[i].in {
			seen[in] = true
		}
	}
	out := make([]int, 0, count)
	for i, s := range seen {
		if s {
			out = append(out, i)
		}
	}
	return out
}

// scores returns a leaf's column standardised: its product with another column,
// squared, over the draws and that column's variation, is the share of the
// variance that goes with the leaf.
func (bk *Book) scores(leaf int) []float64 {
	nd := &bk.nodes[leaf]
	if nd.std == nil {
		nd.std = bk.Column()
		standardise(nd.std, nd.col)
	}
	return nd.std
}

// variation is the sum of squared deviations from the mean, 0 if it is nothing
// beside the numbers themselves.
func variation(col []float64) float64 {
	mean := floats.Sum(col) / float64(len(col))
	ss := 0.0
	for _, v := range col {
		ss += (v - mean) * (v - mean)
	}
	if ss <= 1e-18*float64(len(col))*mean*mean {
		return 0
	}
	return ss
}

// Scores are the draws of a leaf on a scale of its own, standardised, and in
// classes of a quarter of a standard deviation: with both, a bent relation is
// seen as well as a straight one. The zero Scores go with nothing.
type Scores struct {
	line  []float64
	class []uint8
}

// classes are those from −2.5 to 2.5 standard deviations, the ends open.
const classes = 20

// Scores returns the scores of a leaf on the scale that to takes it to.
func (bk *Book) Scores(leaf Column, to func(float64) float64) Scores {
	_, id := leaf.ref()
	col := bk.nodes[id].col
	if col == nil {
		return Scores{}
	}
	s := Scores{bk.Column(), make([]uint8, len(col))}
	for i, v := range col {
		s.line[i] = to(v)
	}
	standardise(s.line, s.line)
	for i, z := range s.line {
		s.class[i] = uint8(min(max(4*z+classes/2, 0), classes-1))
	}
	return s
}

// Share returns the shares of the outcome's variance that go with the leaf's
// scores along a line, and what goes with them besides, along any bend: 0
// where either is certain.
func (bk *Book) Share(s Scores, outcome Column) (line, bend float64) {
	_, id := outcome.ref()
	col := bk.nodes[id].col
	if col == nil || s.line == nil {
		return 0, 0
	}
	n := float64(len(col))
	mean, slope := floats.Sum(col)/n, floats.Dot(col, s.line)/n
	var sum, count [classes]float64
	all, rest := 0.0, 0.0
	for i, v := range col {
		left := v - mean - slope*s.line[i]
		sum[s.class[i]] += left
		count[s.class[i]]++
		all += (v - mean) * (v - mean)
		rest += left * left
	}
	if all <= 1e-18*n*mean*mean {
		return 0, 0
	}
	between, filled := 0.0, 0.0
	for c := range sum {
		if count[c] > 0 {
			between += sum[c] * sum[c] / count[c]
			filled++
		}
	}
	line = slope * slope * n / all
	if n > filled { // classes gather some variance by chance alone
		bend = max(0, between-(rest-between)*(filled-1)/(n-filled)) / all
	}
	return line, bend
}

// standardise fills out with col less its mean, over its standard deviation;
// with noughts if it has none.
func standardise(out, col []float64) {
	n := float64(len(col))
	mean := floats.Sum(col) / n
	sd := math.Sqrt(variation(col) / n)
	for i, v := range col {
		out[i] = 0
		if sd > 0 {
			out[i] = (v - mean) / sd
		}
	}
}

func (bk *Book) sum(id int) []Line {
	chain := bk.chain(id)
	lines := make([]Line, 0, len(chain))
	for _, i := range chain {
		nd := &bk.nodes[i]
		if nd.line == nil {
			nd.line = &Line{What: nd.what, Working: bk.working(nd), Result: result(nd.centre, nd.unit), Source: nd.source, Note: nd.note}
			if nd.leaf {
				nd.line.Grade = nd.grade.String()
			} else {
				nd.line.Source = "derived"
			}
		}
		lines = append(lines, *nd.line)
	}
	return lines
}

// working fills a node's template with the numbers.
func (bk *Book) working(nd *node) string {
	if !strings.Contains(nd.template, "{") {
		return nd.template
	}
	var b strings.Builder
	t := nd.template
	for {
		open := strings.IndexByte(t, '{')
		if open < 0 {
			b.WriteString(t)
			return b.String()
		}
		b.WriteString(t[:open])
		switch k := t[open+1]; {
		case k >= '0' && k <= '9':
			end := open + strings.IndexByte(t[open:], '}')
			at, _ := strconv.Atoi(t[open+1 : end])
			b.WriteString(number(bk.nodes[nd.in[at]].centre))
		default:
			b.WriteString(number(nd.extra[k-'a']))
		}
		t = t[open+strings.IndexByte(t[open:], '}')+1:]
	}
}

// number prints a value for a working: seven significant digits, no exponent,
// negative numbers in brackets.
func number(v float64) string {
	if v < 0 {
		return "(−" + number(-v) + ")"
	}
	if v == 0 {
		return "0"
	}
	digits := max(0, 6-int(math.Floor(math.Log10(v))))
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// result prints a line's result: five significant digits and the unit.
func result(v float64, unit string) string {
	s := "0"
	if a := math.Abs(v); a > 0 {
		digits := max(0, 4-int(math.Floor(math.Log10(a))))
		s = strconv.FormatFloat(v, 'f', digits, 64)
		if strings.Contains(s, ".") {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		s = strings.Replace(s, "-", "−", 1)
	}
	if unit != "" {
		s += " " + unit
	}
	return s
}

func itoa(i int) string { return strconv.Itoa(i) }
