package hidden

import (
	"math"
	"math/rand/v2"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"vatside/internal/belief"
	"vatside/internal/plan"
)

// Studio is one whose own values stay the same from making to making, while
// makings scatter around them. What papers have in common, theirs have too.
type Studio struct {
	// ShrinkSD is how far the shrinkage of makings scatters, a fraction; 0: as
	// the handbook has it.
	ShrinkSD float64

	rng     *rand.Rand
	effects map[string]float64 // standard normal, by kind and name
	shares  map[string]float64 // by belief key
}

// NewStudio returns a studio drawn from what the handbook knows of studios.
func NewStudio(seed uint64) *Studio {
	return &Studio{rng: rand.New(rand.NewPCG(seed, 12)), effects: map[string]float64{}, shares: map[string]float64{}}
}

// own is the studio's own value of a belief, and what makings scatter by, on
// the link scale.
func (s *Studio) own(b belief.Belief) (x, scatter float64) {
	kind, _, _ := strings.Cut(b.Key, "/")
	o := b.Observed(belief.Observation{})
	x = o.Centre
	for _, e := range o.Effects {
		name := kind + "|" + e.Name
		if _, ok := s.effects[name]; !ok {
			s.effects[name] = s.rng.NormFloat64()
		}
		x += e.Weight * s.effects[name]
	}
	return x, o.Scatter
}

// making is the value of a belief in one making.
func (s *Studio) making(b belief.Belief) float64 {
	if b.Link != belief.Count {
		x, scatter := s.own(b)
		if s.ShrinkSD > 0 && strings.HasPrefix(b.Key, "shrinkage/") {
			return math.Max(0, b.From(x)+s.ShrinkSD*s.rng.NormFloat64())
		}
		return b.From(x + scatter*s.rng.NormFloat64())
	}
	if _, ok := s.shares[b.Key]; !ok {
		s.shares[b.Key] = distuv.Beta{Alpha: b.A, Beta: b.B, Src: s.rng}.Rand()
	}
	mean, size := s.shares[b.Key], 1/b.Making-1
	return distuv.Beta{Alpha: math.Max(mean*size, 1e-3), Beta: math.Max((1-mean)*size, 1e-3), Src: s.rng}.Rand()
}

// beliefs are the handbook's, of a request, by known key.
func beliefs(r plan.Request) (map[string]belief.Belief, error) {
	list, err := plan.Beliefs(r, belief.Known{})
	if err != nil {
		return nil, err
	}
	out := map[string]belief.Belief{}
	for i, k := range plan.KnownKeys() {
		out[k] = list[i]
	}
	return out, nil
}

// Truth draws one making of a request.
func (s *Studio) Truth(r plan.Request) (Truth, error) {
	by, err := beliefs(r)
	if err != nil {
		return Truth{}, err
	}
	at := func(key string) float64 { return s.making(by[key]) }
	mean, ratio := at("shrink_long_pct"), at("shrink_short_pct")
	return Truth{
		ShrinkLong: math.Min(mean*ratio, 0.5), ShrinkShort: math.Min(mean/ratio, 0.5),
		Moisture: at("moisture_conditioned_pct_dry_basis"), Retained: at("additive_retained_pct"), Lost: at("lost_later_pct"),
		Depth: at("effective_depth_mm"), Hand: at("hand_scatter_pct"), Couched: at("solids_couched_pct"),
		Loss: at("beater_loss_pct"), Lot: at("moisture_air_dry_pct_wet_basis"),
	}, nil
}

// Shrinkage is the studio's own along a sheet, without the scatter of makings.
func (s *Studio) Shrinkage(r plan.Request) (float64, error) {
	by, err := beliefs(r)
	if err != nil {
		return 0, err
	}
	mean, _ := s.own(by["shrink_long_pct"])
	ratio, _ := s.own(by["shrink_short_pct"])
	return by["shrink_long_pct"].From(mean) * by["shrink_short_pct"].From(ratio), nil
}
