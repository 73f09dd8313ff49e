package belief

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"vatside/internal/num"
)

// pool is the evidence of one kind of belief together, as sums: observations
// made under the same effects are one group, however many there are. It is not
// changed any more once it is solved.
type pool struct {
	link     Link
	degrees  float64
	column   map[string]int     // of each effect
	groups   []group            //
	of       map[string][]int   // groups by belief key
	counts   map[string]counted // of shares, by belief key
	order    []string           // of those keys
	solution solution
}

// group is observations with the same effects: the sum of their precisions,
// the mean of what they lie off their centres, and the squares around it.
type group struct {
	belief       string
	effects      []Effect
	columns      []int
	n            int
	weight, mean float64
	within       float64
}

// counted are the shares seen of one belief, discounted.
type counted struct {
	n            int
	hits, misses float64
}

// law is what is known of one belief, on the link scale. Both spreads are the
// band's half width over 1.645.
type law struct {
	mean     float64
	own      float64 // sd of the studio's own value
	making   float64 // sd from making to making
	degrees  float64 // of Student's t
	evidence float64 // share of what is known of the own value that was observed
}

// tiny keeps an observation said to be exact from an infinite weight.
const tiny = 1e-12

func newPool(link Link, degrees float64) *pool {
	return &pool{link: link, degrees: degrees, column: map[string]int{}, of: map[string][]int{}, counts: map[string]counted{}}
}

// add takes one observation in that counts and has effects.
func (p *pool) add(key string, o Observation) {
	g := p.group(key, o.Effects)
	precision := 1 / (o.Scatter*o.Scatter + o.SD*o.SD + tiny)
	off := p.link.To(o.Value) - o.Centre - g.mean
	g.n++
	g.weight += precision
	g.mean += off * precision / g.weight
	g.within += precision * off * (p.link.To(o.Value) - o.Centre - g.mean)
}

// group finds the group of a belief and its effects, or begins it.
func (p *pool) group(key string, effects []Effect) *group {
	for _, i := range p.of[key] {
		if slices.Equal(p.groups[i].effects, effects) {
			return &p.groups[i]
		}
	}
	g := group{belief: key, effects: effects, columns: make([]int, len(effects))}
	for i, e := range effects {
		c, ok := p.column[e.Name]
		if !ok {
			c = len(p.column)
			p.column[e.Name] = c
		}
		g.columns[i] = c
	}
	p.of[key] = append(p.of[key], len(p.groups))
	p.groups = append(p.groups, g)
	return &p.groups[len(p.groups)-1]
}

// solution is what the groups make of the effects together.
type solution struct {
	mean    []float64
	chol    mat.Cholesky // of the precision of the effects
	effects float64      // by what their spread is more than was stated
	noise   float64      // by what that from making to making is more or less
	degrees float64
}

// solve conditions the effects on all observations, the scatter of makings
// being uncertain: normal-inverse-gamma. The scale found holds for the spread
// of the effects as for that of makings, so that a studio far off the handbook
// is not taken for a sure thing after one surprise. But steady makings say
// nothing of how far off the handbook a strange fibre may lie: below one the
// scale is that of makings alone, and the effects keep the spread stated.
func (p *pool) solve() {
	s := &p.solution
	s.effects, s.noise, s.degrees = 1, 1, math.Inf(1)
	if p.degrees > 0 {
		s.degrees = p.degrees
	}
	if len(p.groups) == 0 {
		return
	}
	p.condition(1)
	if p.degrees == 0 {
		return
	}
	n := 0
	for _, g := range p.groups {
		n += g.n
	}
	s.degrees = p.degrees + float64(n)
	was, now := thick(p.degrees), thick(s.degrees)
	scale := (p.degrees/(was*was) + p.squares()) / s.degrees * now * now
	if s.noise = scale; scale >= 1 {
		s.effects = scale
		return
	}
	p.condition(scale)
}

// thick is how much further nine in ten reach for Student's t than for the
// normal law of the same scale.
func thick(degrees float64) float64 { return num.NewStudent(degrees).OfNormal(z95) / z95 }

// condition solves the normal equations for makings that scatter by noise
// times the variance stated.
//
//	P = 1 + Σ w·x·xᵀ/noise,  P·m = Σ w·r·x/noise
func (p *pool) condition(noise float64) {
	k := len(p.column)
	precision, right := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	for i := range k {
		precision.SetSym(i, i, 1)
	}
	for _, g := range p.groups {
		w := g.weight / noise
		for i, e := range g.effects {
			ci := g.columns[i]
			right.SetVec(ci, right.AtVec(ci)+w*e.Weight*g.mean)
			for j := i; j < len(g.effects); j++ {
				cj, x := g.columns[j], w*e.Weight*g.effects[j].Weight
				if ci == cj && i != j {
					x *= 2 // an effect named twice adds up
				}
				precision.SetSym(ci, cj, precision.At(ci, cj)+x)
			}
		}
	}
	s := &p.solution
	s.chol.Factorize(precision) // 1 + a sum of squares is positive definite
	mean := mat.NewVecDense(k, nil)
	_ = s.chol.SolveVecTo(mean, right) // the error is a warning of the condition; the digits are there
	s.mean = mean.RawVector().Data
}

// squares is how far the observations lie off what the effects make of them,
// and the effects off nought, each in its own spread.
func (p *pool) squares() float64 {
	sum := 0.0
	for _, m := range p.solution.mean {
		sum += m * m
	}
	for _, g := range p.groups {
		off := g.mean
		for i, e := range g.effects {
			off -= e.Weight * p.solution.mean[g.columns[i]]
		}
		sum += g.within + g.weight*off*off
	}
	return sum
}

// law tells what the effects make of a belief.
func (p *pool) law(b Belief) law {
	s := &p.solution
	l := law{mean: b.Mean, making: b.Making * math.Sqrt(s.noise), degrees: s.degrees}
	stated, unseen := 0.0, 0.0
	x := mat.NewVecDense(max(1, len(s.mean)), nil)
	for _, e := range b.effects() {
		stated += e.Weight * e.Weight
		if c, ok := p.column[e.Name]; ok {
			l.mean += e.Weight * s.mean[c]
			x.SetVec(c, x.AtVec(c)+e.Weight)
		} else {
			unseen += e.Weight * e.Weight
		}
	}
	left := unseen
	if len(s.mean) > 0 {
		u := mat.NewVecDense(len(s.mean), nil)
		_ = s.chol.SolveVecTo(u, x) // as in condition
		left += max(0, mat.Dot(x, u))
	}
	l.own = math.Sqrt(s.effects * left)
	if stated > 0 {
		l.evidence = 1 - left/stated
	}
	return l
}

// effects are what the studio's own value is made of on the link scale: what
// is shared, and what is this belief's own.
func (b Belief) effects() []Effect {
	out, left := make([]Effect, 0, len(b.Effects)+1), 1.0
	for _, e := range b.Effects {
		left -= e.Weight * e.Weight
		out = append(out, Effect{e.Name, e.Weight * b.SD})
	}
	return append(out, Effect{b.Key, math.Sqrt(max(0, left)) * b.SD})
}

// Observed returns an observation as one made under this belief.
func (b Belief) Observed(o Observation) Observation {
	o.Belief = b.Key
	if b.Link != Count {
		o.Centre, o.Scatter, o.Effects = b.Mean, b.Making, b.effects()
	}
	return o
}

// law is what is known of the belief. Observations of its own without effects
// are taken as made under it as it is.
func (b Belief) law() law {
	if b.pool == nil && len(b.Seen) == 0 {
		l := law{mean: b.Mean, own: b.SD, making: b.Making, degrees: b.Degrees}
		if b.Degrees == 0 {
			l.degrees = math.Inf(1)
		}
		return l
	}
	loose := slices.ContainsFunc(b.Seen, func(o Observation) bool { return o.Effects == nil && b.counts(o) })
	if b.met != nil && !loose {
		return *b.met
	}
	p := newPool(b.Link, b.Degrees)
	if b.pool != nil {
		if !loose {
			return b.pool.law(b)
		}
		p = b.pool.copied()
	}
	for _, o := range b.Seen {
		if b.counts(o) && (o.Effects == nil || b.pool == nil) {
			if o.Effects == nil {
				o = b.Observed(o)
			}
			p.add(b.Key, o)
		}
	}
	p.solve()
	return p.law(b)
}

// copied returns a pool of the same groups that can be added to.
func (p *pool) copied() *pool {
	q := newPool(p.link, p.degrees)
	q.groups = slices.Clone(p.groups)
	for name, c := range p.column {
		q.column[name] = c
	}
	for key, list := range p.of {
		q.of[key] = slices.Clone(list)
	}
	return q
}
