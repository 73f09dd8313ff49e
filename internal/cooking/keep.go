package cooking

import (
	"math"
	"slices"
	"strings"
	"sync"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// How wet stuff is kept: in its water, drained in a bag, pressed into cakes,
// frozen, or dried. Drained pulp is 8 to 20 % solids, pressed 20 to 40 %.
const (
	InWater = "in water"
	Drained = "drained"
	Pressed = "pressed"
	Frozen  = "frozen"
	Dried   = "dried"
)

// States are the ways of keeping.
func States() []string { return []string{InWater, Drained, Pressed, Frozen, Dried} }

const (
	// keptAt is the temperature that keeping times are stated for, °C: a cool
	// room (source: memory).
	keptAt measure.Temperature = 15
	// tenWarmer is by how much faster wet stuff spoils ten degrees warmer; 2 to
	// 4 (source: memory).
	tenWarmer = 2.5
)

// Keeping is how long something keeps in some state, in days at 15 °C; frozen
// and dried at any temperature that keeps them so.
type Keeping struct {
	What, State string
	Days        source.Value

	kinds []string
}

var keepings = sync.OnceValue(func() []Keeping {
	var out []Keeping
	mustRead("data/keeping.csv", 8, func(r []string) error {
		v, err := source.ReadValue(r[3], r[4], r[5], r[6], r[7], 0)
		out = append(out, Keeping{What: r[0], State: r[2], Days: v, kinds: strings.Fields(r[1])})
		return err
	})
	return out
})

// Keepings returns the whole table.
func Keepings() []Keeping { return slices.Clone(keepings()) }

// KeepingOf returns how long wet stuff of a fibre keeps in a state. Size and
// formation aid keep as the table of additives says.
func KeepingOf(f fibre.Fibre, state string) (Keeping, error) {
	if !slices.Contains(States(), state) {
		return Keeping{}, fault.Invalid("state", "it must be one of %s", strings.Join(States(), ", "))
	}
	kind := f.Kind
	if strings.Contains(f.Name, "cotton") || strings.Contains(f.Name, "linters") {
		kind = "cotton"
	}
	var out Keeping
	for _, k := range keepings() {
		if k.State == state && (slices.Contains(k.kinds, kind) || k.kinds[0] == "any" && out.What == "") {
			if out.What == "" || out.kinds[0] == "any" {
				out = k
			}
		}
	}
	if out.What == "" { // a kind of its own, wet in its bucket
		return KeepingOf(f, Drained)
	}
	return out, nil
}

// KeepsAt returns how long something keeps at another temperature.
//
//	d = d₁₅ · 2.5^((15 − t)/10)
//
// Contract:
//
//   - Quantity: days
//   - Inputs: k days at 15 °C; t temperature it is kept at, °C
//   - Valid: k 0 to 10000 days; t 0 to 45 °C; outside: fault.OutOfRange. Frozen and dried stuff does not go by it
//   - Assumes: germs as usual, a clean vessel; smell and slime overrule it
//   - Error: a factor of two; 2 to 4 for ten degrees
//   - Source: memory
//   - Checked: unverified; property: colder keeps longer
func KeepsAt(k measure.Days, t measure.Temperature) (measure.Days, error) {
	if err := fault.First(
		measure.Inside("days", "the days it keeps at 15 °C", k, 0, 10000, ""),
		measure.Inside("temperature", "the temperature it is kept at", t, 0, 45, "°C"),
	); err != nil {
		return 0, err
	}
	return k * measure.Days(math.Pow(tenWarmer, float64(keptAt-t)/10)), nil
}

// Portion is wet pulp weighed out into bags of equal dry mass.
type Portion struct {
	Bags measure.Loads // full ones
	Wet  measure.Mass  // of one, as the scale says
	Left measure.Mass  // wet, over
}

// Portions returns how wet pulp is weighed into portions of known dry mass, to
// freeze.
//
//	n = ⌊wet · s / each⌋,  bag = each / s
//
// Contract:
//
//   - Quantity: bags, the wet mass of one, and the wet mass left over, g
//   - Inputs: wet pulp, g; s its solids, a fraction; each bone-dry mass wanted in a bag, g
//   - Valid: wet 0.1 to 10000000 g; s 0.001 to 1; each 0.1 to 100000 g; outside: fault.OutOfRange
//   - Assumes: stirred even; frozen pulp loses no fibre, so the dry mass stays
//   - Error: that of the solids
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: bags and rest add up
func Portions(wet measure.Mass, s measure.Solids, each measure.Mass) (Portion, error) {
	if err := fault.First(
		measure.Inside("wet", "the wet pulp", wet, 0.1, 1e7, "g"),
		measure.Inside("solids", "its solids", s, 0.001, 1, "as a fraction"),
		measure.Inside("each", "the dry mass of a bag", each, 0.1, 1e5, "g"),
	); err != nil {
		return Portion{}, err
	}
	bag := each / measure.Mass(s)
	n := math.Floor(float64(wet/bag) + 1e-9)
	return Portion{Bags: measure.Loads(n), Wet: bag, Left: max(0, wet-bag*measure.Mass(n))}, nil
}
