package belief

import (
	"slices"
	"strings"
	"sync"
)

// Known is a studio's evidence and its pins, by belief key.
type Known struct {
	Seen map[string][]Observation
	Pins map[string]Pin

	joint *joint
}

// joint keeps what was gathered from the evidence of each kind, so that many
// plans of one state of knowledge gather once.
type joint struct {
	keys  map[string][]string // belief keys by kind, in order
	mu    sync.Mutex
	pools map[gathering]*pool
}

// gathering is what the evidence of a kind is gathered by.
type gathering struct {
	kind    string
	link    Link
	degrees float64
	rho     float64 // of counts, which are discounted by it
}

// NewKnown returns what observations and pins amount to.
func NewKnown(list []Observation, pins map[string]Pin) Known {
	k := Known{Seen: map[string][]Observation{}, Pins: pins}
	for _, o := range list {
		k.Seen[o.Belief] = append(k.Seen[o.Belief], o)
	}
	return k.Joined()
}

// Joined returns the same knowledge, prepared for being asked more than once.
// The observations must not be changed any more.
func (k Known) Joined() Known {
	if k.joint != nil {
		return k
	}
	k.joint = &joint{keys: map[string][]string{}, pools: map[gathering]*pool{}}
	for key := range k.Seen {
		kind := kindOf(key)
		k.joint.keys[kind] = append(k.joint.keys[kind], key)
	}
	for _, keys := range k.joint.keys {
		slices.Sort(keys) // sums must be the same every time
	}
	return k
}

// kindOf is the first part of a belief's key: what evidence is shared within.
func kindOf(key string) string {
	kind, _, _ := strings.Cut(key, "/")
	return kind
}

// With returns the belief with what the studio knows of it and of its kind.
func (b Belief) With(k Known) Belief {
	b.Seen, b.met = k.Seen[b.Key], nil
	b.pool = k.Joined().pool(b)
	if p, ok := k.Pins[b.Key]; ok {
		b.Pin = &p
	}
	if b.pool != nil && b.Link != Count {
		l := b.law()
		b.met = &l
	}
	return b
}

// pool gathers the evidence of a belief's kind, once; nil where there is none.
func (k Known) pool(b Belief) *pool {
	j, by := k.joint, gathering{kind: kindOf(b.Key), link: b.Link, degrees: b.Degrees}
	if b.Link == Count {
		by.rho = b.Making
	}
	keys := j.keys[by.kind]
	if len(keys) == 0 {
		return nil
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	p, ok := j.pools[by]
	if !ok {
		p = newPool(b.Link, b.Degrees)
		for _, key := range keys {
			for _, o := range k.Seen[key] {
				switch {
				case !b.Link.holds(o):
				case b.Link == Count:
					p.count(key, o, b.Making)
				case o.Effects != nil:
					p.add(key, o)
				}
			}
		}
		p.solve()
		j.pools[by] = p
	}
	return p
}
