package belief

import (
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/num"
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
	degrees := b.law().degrees
	student, thin := num.NewStudent(degrees), s/thick(degrees) // nine in ten reach as far as for the normal law of s
	for i := range col {
		z := own * r.NormFloat64()
		if shared != nil {
			z += b.Corr * shared[i]
		}
		col[i] = link.From(m + thin*student.OfNormal(z))
		if b.Most > 0 {
			col[i] = min(max(col[i], b.Least), b.Most)
		}
	}
	return col
}

// told says in plain words where the number comes from.
func (b Belief) told() string {
	var parts []string
	if n := b.Count(); n == 1 {
		parts = append(parts, "you measured it once")
	} else if n > 1 {
		parts = append(parts, "you measured it "+times(n))
	}
	if lent := b.Lent(); lent != "" {
		parts = append(parts, lent)
	}
	switch {
	case b.Pin != nil:
		return "fixed by you"
	case len(parts) == 0:
		return "handbook only"
	}
	return "handbook, and " + strings.Join(parts, ", and ")
}

// Lent says in plain words what other beliefs of the kind have lent this one,
// by what they have most nearly in common: "3 makings of other papers of
// abaca". Empty: nothing.
func (b Belief) Lent() string {
	if b.pool == nil {
		return ""
	}
	for _, e := range b.Effects {
		if n := b.pool.lent(b.Key, e.Name); n == 1 {
			return "1 " + e.Name
		} else if n > 1 {
			thing, rest, _ := strings.Cut(e.Name, " ")
			return strconv.Itoa(n) + " " + thing + "s " + rest
		}
	}
	return ""
}

// lent is how many observations of other beliefs an effect has.
func (p *pool) lent(key, effect string) (n int) {
	for _, other := range p.order {
		if other != key {
			n += p.counts[other].n
		}
	}
	for _, g := range p.groups {
		if g.belief != key && slices.ContainsFunc(g.effects, func(e Effect) bool { return e.Name == effect && e.Weight != 0 }) {
			n += g.n
		}
	}
	return n
}
