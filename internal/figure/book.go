package figure

import (
	"errors"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Book composes plain formulas over seeded draws. Each line is a column: its
// centre, and one value for each draw unless nothing uncertain entered it. An
// error sticks to the book and every later line is skipped.
//
// A Book belongs to one goroutine.
type Book struct {
	n       int
	seed    uint64
	nodes   []node
	err     error
	slab    []float64 // what is left of the last slab
	slabs   []*[]float64
	latents map[string][]float64
	scratch []float64
}

// slabs are lent to books and given back by Release: a book of many lines
// wants a megabyte or two, and asking the system for it anew each time costs
// more than the arithmetic.
var slabs = sync.Pool{New: func() any { s := make([]float64, slabSize); return &s }}

// slabSize is room for 48 columns of 2,000 draws.
const slabSize = 48 * 2000

// errReleased sticks to a book that was given back.
var errReleased = errors.New("figure: the book was released")

// Release gives the book's columns back. Figures taken from it stay; the book
// itself must not be used again.
func (bk *Book) Release() {
	for i := range bk.nodes {
		bk.nodes[i].col, bk.nodes[i].std = nil, nil
	}
	for _, s := range bk.slabs {
		slabs.Put(s)
	}
	bk.slab, bk.slabs, bk.latents, bk.err = nil, nil, nil, errReleased
}

// node is one line of a book. The template refers to its inputs as {0}…{3} and
// to its extra numbers as {a}, {b}.
type node struct {
	what, template, unit string
	in                   []int
	extra                []float64
	centre               float64
	col                  []float64 // nil: the same in every draw
	leaf, decision       bool
	expected             int // of a decision: the column that says what will be used, or -1
	source, note         string
	grade                source.Grade
	std                  []float64 // of a leaf, standardised; made when first asked for
	line                 *Line     // as printed; made when first asked for
}

// Col is one line of a book, typed by the quantity it holds.
type Col[T measure.Quantity] struct {
	bk *Book
	id int
}

// Line is any column, whatever it holds: used where only its number matters.
type Column interface{ ref() (*Book, int) }

func (c Col[T]) ref() (*Book, int) { return c.bk, c.id }

// NewBook returns an empty book of n draws, n ≥ 1, whose random streams follow
// from the seed.
func NewBook(n int, seed uint64) *Book {
	lines := 256 // of a plan
	if n == 1 {
		lines = 16 // of a sum without doubt
	}
	return &Book{n: n, seed: seed, nodes: make([]node, 0, lines), latents: map[string][]float64{}}
}

// Err returns the first error met, or nil.
func (bk *Book) Err() error { return bk.err }

// Draws returns how many draws the book holds.
func (bk *Book) Draws() int { return bk.n }

// Fail makes err stick to the book, unless one sticks already.
func (bk *Book) Fail(err error) {
	if bk.err == nil {
		bk.err = err
	}
}

// Stream returns the random stream of that name: the same for the same seed
// and name, whatever other streams there are.
func (bk *Book) Stream(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(bk.seed, h.Sum64()))
}

// Column returns an empty column for a leaf to fill.
func (bk *Book) Column() []float64 {
	if len(bk.slab) < bk.n {
		if bk.n > slabSize {
			return make([]float64, bk.n)
		}
		s := slabs.Get().(*[]float64)
		bk.slabs = append(bk.slabs, s)
		bk.slab = *s
	}
	c := bk.slab[:bk.n:bk.n]
	bk.slab = bk.slab[bk.n:]
	clear(c)
	return c
}

// Latent returns the standard normal column that everything naming it shares,
// such as the degree of beating behind shrinkage and drainage.
func (bk *Book) Latent(name string) []float64 {
	if z, ok := bk.latents[name]; ok {
		return z
	}
	z, r := bk.Column(), bk.Stream("latent "+name)
	for i := range z {
		z[i] = r.NormFloat64()
	}
	bk.latents[name] = z
	return z
}

func add[T measure.Quantity](bk *Book, nd node) Col[T] {
	var zero T
	nd.unit = zero.Unit()
	bk.nodes = append(bk.nodes, nd)
	return Col[T]{bk, len(bk.nodes) - 1}
}

// Given enters a number that is not in doubt: from the brief, a definition, a
// measured piece of equipment.
func Given[T measure.Quantity](bk *Book, what string, v T, sourceKey string, grade source.Grade) Col[T] {
	return add[T](bk, node{what: what, template: "{a}", extra: []float64{float64(v)}, centre: float64(v), leaf: true, expected: -1, source: sourceKey, grade: grade})
}

// nineInTen is half the width of a band of nine in ten, in standard deviations.
const nineInTen = 1.6449

// Drawn fills a column from a band read or remembered: each of its two sides as
// far as it reaches, nine in ten within. Without a band it is nil: certain.
func (bk *Book) Drawn(name string, v source.Value) []float64 {
	if v.Low >= v.High {
		return nil
	}
	col, r := bk.Column(), bk.Stream(name)
	for i := range col {
		z := r.NormFloat64() / nineInTen
		reach := v.High / v.Mid
		if z < 0 {
			reach = v.Mid / v.Low
		}
		col[i] = v.Mid * math.Pow(reach, z)
	}
	return col
}

// Leaf enters an uncertain number: its centre and a filled column (nil: not
// uncertain after all).
func Leaf[T measure.Quantity](bk *Book, what string, centre T, col []float64, sourceKey string, grade source.Grade, note string) Col[T] {
	return add[T](bk, node{what: what, template: "{a}", extra: []float64{float64(centre)}, centre: float64(centre), col: col, leaf: true, expected: -1, source: sourceKey, grade: grade, note: note})
}

// Centre returns the column's central value.
func (c Col[T]) Centre() T { return T(c.bk.nodes[c.id].centre) }

// At returns the value in draw i.
func (c Col[T]) At(i int) T {
	nd := &c.bk.nodes[c.id]
	if nd.col == nil {
		return T(nd.centre)
	}
	return T(nd.col[i])
}

// Certain reports whether nothing uncertain entered the column.
func (c Col[T]) Certain() bool { return c.bk.nodes[c.id].col == nil }

// Note adds a plain remark to the column's line of the sum and returns it.
func (c Col[T]) Note(text string) Col[T] {
	c.bk.nodes[c.id].note, c.bk.nodes[c.id].line = text, nil
	return c
}

// Map1 evaluates a formula of one quantity at the centre and in every draw.
func Map1[A, R measure.Quantity](bk *Book, what, template string, f func(A) (R, error), a Col[A]) Col[R] {
	return apply[R](bk, what, template, []int{a.id}, func(i int) (R, error) { return f(a.get(i)) })
}

// Map2 evaluates a formula of two quantities at the centre and in every draw.
func Map2[A, B, R measure.Quantity](bk *Book, what, template string, f func(A, B) (R, error), a Col[A], b Col[B]) Col[R] {
	return apply[R](bk, what, template, []int{a.id, b.id}, func(i int) (R, error) { return f(a.get(i), b.get(i)) })
}

// Map3 evaluates a formula of three quantities at the centre and in every draw.
func Map3[A, B, C, R measure.Quantity](bk *Book, what, template string, f func(A, B, C) (R, error), a Col[A], b Col[B], c Col[C]) Col[R] {
	return apply[R](bk, what, template, []int{a.id, b.id, c.id}, func(i int) (R, error) { return f(a.get(i), b.get(i), c.get(i)) })
}

// Map4 evaluates a formula of four quantities at the centre and in every draw.
func Map4[A, B, C, D, R measure.Quantity](bk *Book, what, template string, f func(A, B, C, D) (R, error), a Col[A], b Col[B], c Col[C], d Col[D]) Col[R] {
	return apply[R](bk, what, template, []int{a.id, b.id, c.id, d.id}, func(i int) (R, error) { return f(a.get(i), b.get(i), c.get(i), d.get(i)) })
}

// get returns the centre for i < 0, else draw i.
func (c Col[T]) get(i int) T {
	nd := &c.bk.nodes[c.id]
	if i < 0 || nd.col == nil {
		return T(nd.centre)
	}
	return T(nd.col[i])
}

// beyondMost is of how many draws one may lie beyond where a formula holds: the
// tail of a wide law. Where more do, the formula itself is out of place.
const beyondMost = 500

func apply[R measure.Quantity](bk *Book, what, template string, in []int, f func(i int) (R, error)) Col[R] {
	nd := node{what: what, template: template, in: in, expected: -1}
	if bk.err != nil {
		return add[R](bk, nd)
	}
	v, err := f(-1)
	if err != nil {
		bk.Fail(err)
		return add[R](bk, nd)
	}
	nd.centre = float64(v)
	if slices.ContainsFunc(in, func(id int) bool { return bk.nodes[id].col != nil }) {
		nd.col = bk.Column()
		var beyond []int
		for i := range nd.col {
			got, err := f(i)
			if err != nil {
				beyond = append(beyond, i)
				if len(beyond) > max(1, bk.n/beyondMost) || len(beyond) == bk.n || fault.KindOf(err) != fault.KindOutOfRange {
					bk.Fail(err)
					break
				}
			}
			nd.col[i] = float64(got)
		}
		for _, i := range beyond {
			nd.col[i] = nd.col[bk.nearest(i, in, beyond)]
		}
	}
	return add[R](bk, nd)
}

// nearest returns the draw next to draw i that is not beyond, each input counted
// in its own spread: what lies in the tail stays in the tail.
func (bk *Book) nearest(i int, in, beyond []int) int {
	far := make([]float64, bk.n)
	for _, id := range in {
		col, spread := bk.nodes[id].col, bk.Spread(Col[measure.Number]{bk, id})
		if spread == 0 {
			continue
		}
		for j := range far {
			far[j] += (col[j] - col[i]) / spread * (col[j] - col[i]) / spread
		}
	}
	for _, j := range beyond {
		far[j] = math.Inf(1)
	}
	return floats.MinIdx(far)
}

// Sum adds columns of one quantity.
func Sum[T measure.Quantity](bk *Book, what string, cols ...Col[T]) Col[T] {
	in, template := make([]int, len(cols)), ""
	for i, c := range cols {
		in[i] = c.id
		if i > 0 {
			template += " + "
		}
		template += "{" + itoa(i) + "}"
	}
	return apply[T](bk, what, template, in, func(i int) (T, error) {
		var s T
		for _, c := range cols {
			s += c.get(i)
		}
		return s, nil
	})
}

// Outcome enters a column worked out by a run over all draws, with the
// working and the extra numbers ({a}, {b}) that re-evaluate to its centre.
func Simulated[R measure.Quantity](bk *Book, what, working string, extra []float64, centre R, col []float64, inputs ...Column) Col[R] {
	nd := node{what: what, template: working, extra: extra, in: ids(inputs), centre: float64(centre), col: col, expected: -1}
	return add[R](bk, nd)
}

// Choose enters a decision: one number, the same in every draw, whatever rule
// chose it. The working re-evaluates to it from the inputs and the extra
// numbers ({a}, {b}). Expected, if not nil, is the column that says what will
// probably be used.
func Choose[R measure.Quantity](bk *Book, what, working string, extra []float64, value R, expected Column, inputs ...Column) Col[R] {
	nd := node{what: what, template: working, extra: extra, in: ids(inputs), centre: float64(value), decision: true, expected: -1}
	if expected != nil {
		_, nd.expected = expected.ref()
	}
	return add[R](bk, nd)
}

// Enough decides the amount that suffices in the share conf of all draws,
// rounded up to a multiple of step (0: not rounded).
func Enough[T measure.Quantity](bk *Book, what string, conf, step float64, need Col[T]) Col[T] {
	if bk.err != nil {
		return Choose(bk, what, "{0}", nil, T(0), nil, need)
	}
	nd := bk.nodes[need.id]
	v := nd.centre
	if nd.col != nil {
		v = max(v, bk.Quantile(need, conf))
	}
	if step > 0 {
		v = math.Ceil(v/step-1e-9) * step
	}
	return Choose(bk, what, "{0} + {a}", []float64{v - nd.centre}, T(v), need, need)
}

func ids(cols []Column) []int {
	in := make([]int, len(cols))
	for i, c := range cols {
		_, in[i] = c.ref()
	}
	return in
}

// Quantile returns the value below which the share p of the draws falls; of a
// certain column, its value.
func (bk *Book) Quantile(c Column, p float64) float64 {
	_, id := c.ref()
	nd := &bk.nodes[id]
	if nd.col == nil {
		return nd.centre
	}
	bk.scratch = append(bk.scratch[:0], nd.col...)
	k := int(math.Ceil(p*float64(bk.n))) - 1
	return selectKth(bk.scratch, min(max(k, 0), bk.n-1))
}

// Band returns the 5 % and the 95 % quantile of the draws; of a certain column,
// its value twice.
func (bk *Book) Band(c Column) (low, high float64) {
	_, id := c.ref()
	if nd := &bk.nodes[id]; nd.col == nil {
		return nd.centre, nd.centre
	}
	return bk.band(id)
}

// Spread returns the standard deviation of the column over the draws.
func (bk *Book) Spread(c Column) float64 {
	_, id := c.ref()
	col := bk.nodes[id].col
	if col == nil {
		return 0
	}
	mean, ss := 0.0, 0.0
	for _, v := range col {
		mean += v
	}
	mean /= float64(len(col))
	for _, v := range col {
		ss += (v - mean) * (v - mean)
	}
	return math.Sqrt(ss / float64(len(col)))
}

// selectKth puts the k-th smallest of a in its place and returns it: the pivot
// is chosen in a sample so that it falls just beyond k, and most numbers then
// lie on one side of it (Floyd and Rivest 1975, Algorithm 489).
func selectKth(a []float64, k int) float64 {
	for len(a) > 1 {
		if n := float64(len(a)); n > 300 {
			z := math.Log(n)
			sample := 0.5 * math.Exp(2*z/3)
			off := 0.5 * math.Sqrt(z*sample*(n-sample)/n)
			if float64(k) < n/2 {
				off = -off
			}
			lo := max(0, int(float64(k)-float64(k)*sample/n+off))
			hi := min(len(a), int(float64(k)+(n-float64(k))*sample/n+off)+1)
			selectKth(a[lo:hi], k-lo)
		}
		i, j := split(a, a[k])
		switch {
		case k <= j:
			a = a[:j+1]
		case k >= i:
			a, k = a[i:], k-i
		default:
			return a[k]
		}
	}
	return a[k]
}

// split puts what is below the pivot before what is above it; a[:j+1] is not
// above, a[i:] not below it.
func split(a []float64, pivot float64) (i, j int) {
	i, j = 0, len(a)-1
	for i <= j {
		for a[i] < pivot {
			i++
		}
		for a[j] > pivot {
			j--
		}
		if i <= j {
			a[i], a[j] = a[j], a[i]
			i++
			j--
		}
	}
	return i, j
}
