package belief

import (
	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/figure"
	"vatside/internal/measure"
)

// Centre returns the value in the middle of what is known: the pin, the beta
// mean, else the posterior median.
func (b Belief) Centre() float64 {
	switch {
	case b.Pin != nil:
		return b.Pin.Value
	case b.Link == Count:
		a, c := b.NextBeta()
		return a / (a + c)
	default:
		m, _ := b.Posterior()
		return b.From(m)
	}
}

// Band returns the 90 % band of the next making's value; a pin is its own
// band.
func (b Belief) Band() (low, high float64) {
	switch {
	case b.Pin != nil:
		return b.Pin.Value, b.Pin.Value
	case b.Link == Count:
		a, c := b.NextBeta()
		d := distuv.Beta{Alpha: a, Beta: c}
		return d.Quantile(0.05), d.Quantile(0.95)
	default:
		m, s := b.Next()
		return b.From(m - z95*s), b.From(m + z95*s)
	}
}

// Draw enters the belief into a book: its centre, and for each draw a value of
// the next making. Each belief has a random stream of its own name, so adding
// one moves no other.
func Draw[T measure.Quantity](bk *figure.Book, b Belief) figure.Col[T] {
	key, grade := b.Grounds()
	return figure.Leaf(bk, b.Name, T(b.Centre()), b.column(bk), key, grade, b.told())
}

// Middle enters only the belief's centre into a book: where a decision rests
// on it and its spread is reckoned with in closed form.
func Middle[T measure.Quantity](bk *figure.Book, b Belief) figure.Col[T] {
	key, grade := b.Grounds()
	return figure.Leaf(bk, b.Name, T(b.Centre()), nil, key, grade, b.told())
}

func (b Belief) column(bk *figure.Book) []float64 {
	if b.Pin != nil {
		return nil
	}
	r := bk.Stream(b.Key)
	col := bk.Column()
	if b.Link == Count {
		alpha, beta := b.NextBeta()
		d := distuv.Beta{Alpha: alpha, Beta: beta, Src: r}
		for i := range col {
			col[i] = d.Rand()
		}
		return col
	}
	m, s := b.Next()
	if s == 0 {
		return nil
	}
	link, own, shared := b.Link, 1.0, []float64(nil)
	if b.Latent != "" && b.Corr != 0 {
		shared = bk.Latent(b.Latent)
		own = sqrt1m(b.Corr)
	}
	for i := range col {
		z := own * r.NormFloat64()
		if shared != nil {
			z += b.Corr * shared[i]
		}
		col[i] = link.From(m + s*z)
	}
	return col
}

// told says in plain words where the number comes from.
func (b Belief) told() string {
	switch n := b.Count(); {
	case b.Pin != nil:
		return "fixed by you"
	case n == 1:
		return "handbook, and you measured it once"
	case n > 1:
		return "handbook, and you measured it " + times(n)
	default:
		return "handbook only"
	}
}
