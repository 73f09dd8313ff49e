package beating

import (
	"math/bits"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Kind is what a machine does to fibre.
type Kind string

// The kinds: a beater brushes the fibre out, a blender cuts it.
const (
	Beater  Kind = "beater"
	Blender Kind = "blender"
)

// Machine is a beater or a blender as its owner knows it: what it takes, and
// the water that goes with it, for every one differs.
type Machine struct {
	Name  string
	Kind  Kind
	Rated measure.Mass   // the most bone-dry fibre of one load, g
	Water measure.Volume // of a full load, L
}

func (m Machine) check() error {
	if m.Kind != Beater && m.Kind != Blender {
		return fault.Invalid("kind", "a machine is a %s or a %s", Beater, Blender)
	}
	return fault.First(
		measure.Inside("rated", "the machine's rating", m.Rated, leastMass, mostMass, "g"),
		measure.Inside("water", "the water of the machine", m.Water, leastWater, mostWater, "L"))
}

// Warnings returns all that speaks against a load of this fibre in this
// machine.
func (m Machine) Warnings(f fibre.Fibre, load measure.Mass) []Warning {
	var all []Warning
	add := func(w Warning, warned bool) {
		if warned {
			all = append(all, w)
		}
	}
	add(OverRating(load, m.Rated))
	if m.Kind == Blender {
		add(BlenderCuts, true)
		return all
	}
	if c, err := Consistency(m.Rated, m.Water); err == nil {
		add(Overload(c))
		add(TooThin(c))
	}
	add(Underfilled(load, m.Rated))
	add(Wraps(f, load, m.Rated))
	return all
}

// Turn is what one machine does of the fibre: so many equal loads.
type Turn struct {
	Machine Machine
	Loads   measure.Loads
	Each    measure.Mass   // bone-dry fibre of a load, g
	Water   measure.Volume // of a load, L
}

// Sharing is fibre shared out among machines that run side by side.
type Sharing struct {
	Turns  []Turn        // in the order of the machines; those not needed are left out
	Rounds measure.Loads // the most loads that one of them makes
}

// mostMachines keeps the search for the fewest machines short: 4,096 choices.
const mostMachines = 12

// Share returns which machine takes how many loads of what mass: the fewest
// rounds first, then the fewest machines, then the smallest of them and no
// load more than is needed, so that the loads are as full as they can be. All
// loads are filled to the same part of their rating and beat alike.
//
//	rounds = ⌈fibre / Σ rated⌉,  load = rated · fibre / Σ (loads · rated)
//
// Contract:
//
//   - Quantity: loads and the bone-dry fibre and water of each, by machine; rounds
//   - Inputs: fibre to be beaten, bone-dry g; machines with their rating, g, and water, L
//   - Valid: fibre 0.1 to 1,000,000 g; 1 to 12 machines of one kind within the limits of Loads and Consistency; outside: fault.OutOfRange or Invalid
//   - Assumes: a load takes each machine as long as the others
//   - Error: exact; which loads are dropped is the largest first, not the best of all choices
//   - Source: derived, docs/models/beating.md
//   - Checked: worked by hand; property: the loads hold the fibre, none is over its rating, one round less or one machine less would not do
func Share(fibre measure.Mass, machines []Machine) (Sharing, error) {
	if len(machines) == 0 || len(machines) > mostMachines {
		return Sharing{}, fault.OutOfRange("machines", "between 1 and %d machines can share the fibre; name those that run", mostMachines)
	}
	var total measure.Mass
	for _, m := range machines {
		if err := m.check(); err != nil {
			return Sharing{}, err
		}
		if m.Kind != machines[0].Kind {
			return Sharing{}, fault.Invalid("machines", "a blender cuts what a beater brushes out, and their pulps differ: share among machines of one kind")
		}
		total += m.Rated
	}
	rounds, err := Loads(fibre, min(total, mostMass))
	if err != nil {
		return Sharing{}, err
	}
	loads, capacity := fullest(fibre, rounds, machines, fewest(fibre, rounds, machines))
	s := Sharing{}
	for i, m := range machines {
		if loads[i] == 0 {
			continue
		}
		each := m.Rated * min(1, fibre/capacity)
		water, err := WaterFor(each, m.Rated, m.Water)
		if err != nil {
			return Sharing{}, err
		}
		s.Turns = append(s.Turns, Turn{m, loads[i], each, water})
		s.Rounds = max(s.Rounds, loads[i])
	}
	return s, nil
}

// fewest returns the fewest machines, and of as many the smallest, that hold
// the fibre in so many rounds, as a set of bits.
func fewest(fibre measure.Mass, rounds measure.Loads, machines []Machine) uint {
	best, bestRated := uint(1)<<len(machines)-1, measure.Mass(0)
	for set := uint(1); set < 1<<len(machines); set++ {
		var rated measure.Mass
		for i, m := range machines {
			if set>>i&1 == 1 {
				rated += m.Rated
			}
		}
		n, least := bits.OnesCount(set), bits.OnesCount(best)
		if holds(rated*measure.Mass(rounds), fibre) && (n < least || n == least && (bestRated == 0 || rated < bestRated)) {
			best, bestRated = set, rated
		}
	}
	return best
}

// fullest drops loads, the largest first, as long as the rest hold the fibre.
func fullest(fibre measure.Mass, rounds measure.Loads, machines []Machine, set uint) (loads []measure.Loads, capacity measure.Mass) {
	loads = make([]measure.Loads, len(machines))
	for i, m := range machines {
		if set>>i&1 == 1 {
			loads[i] = rounds
			capacity += m.Rated * measure.Mass(rounds)
		}
	}
	for {
		drop := -1
		for i, m := range machines {
			if loads[i] > 0 && holds(capacity-m.Rated, fibre) && (drop < 0 || m.Rated > machines[drop].Rated) {
				drop = i
			}
		}
		if drop < 0 {
			return loads, capacity
		}
		loads[drop]--
		capacity -= machines[drop].Rated
	}
}

// holds allows for the last digits of a division, as Loads does.
func holds(capacity, fibre measure.Mass) bool { return capacity >= fibre*(1-slack) }
