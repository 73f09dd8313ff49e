package cooking

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Yields are what is left of a harvest, step by step, each of the dry mass
// before it; the first of the fresh mass.
type Yields struct {
	Dry     measure.Share // bone-dry plant of fresh plant
	Cleaned measure.Share // usable fibre of dry plant
	Cooked  measure.Share // cooked and rinsed pulp of usable fibre
	Beaten  measure.Share // pulp at the vat of cooked pulp
}

// whole is the share of the fresh mass that comes to the vat.
func (y Yields) whole() (float64, error) {
	if err := fault.First(
		measure.Inside("dry", "dry plant of fresh plant", y.Dry, 0.001, 1, "as a fraction"),
		measure.Inside("cleaned", "usable fibre of dry plant", y.Cleaned, 0.001, 1, "as a fraction"),
		measure.Inside("cooked", "cooked pulp of usable fibre", y.Cooked, 0.01, 1, "as a fraction"),
		measure.Inside("beaten", "pulp at the vat of cooked pulp", y.Beaten, 0.1, 1, "as a fraction"),
	); err != nil {
		return 0, err
	}
	return float64(y.Dry * y.Cleaned * y.Cooked * y.Beaten), nil
}

// PulpFrom returns the pulp that a harvest makes.
//
//	pulp = fresh · dry · cleaned · cooked · beaten
//
// Contract:
//
//   - Quantity: bone-dry pulp at the vat, g
//   - Inputs: fresh plant as cut, g; y the share left at each step
//   - Valid: fresh 0.1 to 100000000 g; dry and cleaned 0.001 to 1, cooked 0.01 to 1, beaten 0.1 to 1; outside: fault.OutOfRange
//   - Assumes: each step as it usually goes
//   - Error: of an unmeasured plant a factor of two; of a studio's own record a tenth
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: inverse of FreshFor
func PulpFrom(fresh measure.Mass, y Yields) (measure.Mass, error) {
	if err := measure.Inside("fresh", "the harvest", fresh, 0.1, 1e8, "g"); err != nil {
		return 0, err
	}
	w, err := y.whole()
	return fresh * measure.Mass(w), err
}

// FreshFor returns how much to cut for a mass of pulp.
//
//	fresh = pulp / (dry · cleaned · cooked · beaten)
//
// Contract:
//
//   - Quantity: fresh plant as cut, g
//   - Inputs: pulp bone-dry at the vat, g; y the share left at each step
//   - Valid: pulp 0.01 to 1000000 g; y as PulpFrom; outside: fault.OutOfRange
//   - Assumes: as PulpFrom
//   - Error: as PulpFrom
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: inverse of PulpFrom
func FreshFor(pulp measure.Mass, y Yields) (measure.Mass, error) {
	if err := measure.Inside("pulp", "the pulp", pulp, 0.01, 1e6, "g"); err != nil {
		return 0, err
	}
	w, err := y.whole()
	if err != nil {
		return 0, err
	}
	return pulp / measure.Mass(w), nil
}

// PulpFor returns the pulp that sheets take, those that fail included.
//
//	pulp = n · m / (1 − lost)
//
// Contract:
//
//   - Quantity: bone-dry pulp at the vat, g
//   - Inputs: sheets good sheets; each bone-dry mass of one, g; lost share of sheets and pulp that does not become one
//   - Valid: sheets 1 to 20000; each 0.01 to 20000 g; lost 0 to 0.9; outside: fault.OutOfRange
//   - Assumes: the vat is run down or its heel dried; a plan counts the heel apart
//   - Error: that of lost
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: SheetsFrom gives at least the sheets back
func PulpFor(sheets measure.Sheets, each measure.Mass, lost measure.Share) (measure.Mass, error) {
	if err := fault.First(measure.Inside("sheets", "the sheets", sheets, 1, 20000, ""), checkSheets(each, lost)); err != nil {
		return 0, err
	}
	return measure.Mass(float64(sheets)*float64(each)) / measure.Mass(1-lost), nil
}

// SheetsFrom returns the good sheets that pulp makes.
//
//	n = ⌊pulp · (1 − lost) / m⌋
//
// Contract:
//
//   - Quantity: good sheets, a whole number
//   - Inputs: pulp bone-dry, g; each bone-dry mass of a sheet, g; lost share that does not become one
//   - Valid: pulp 0 to 1000000 g; each 0.01 to 20000 g; lost 0 to 0.9; outside: fault.OutOfRange
//   - Assumes: as PulpFor
//   - Error: that of lost
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: PulpFor
func SheetsFrom(pulp, each measure.Mass, lost measure.Share) (measure.Sheets, error) {
	if err := fault.First(measure.Inside("pulp", "the pulp", pulp, 0, 1e6, "g"), checkSheets(each, lost)); err != nil {
		return 0, err
	}
	return measure.Sheets(math.Floor(float64(pulp)*float64(1-lost)/float64(each) + 1e-9)), nil
}

func checkSheets(each measure.Mass, lost measure.Share) error {
	return fault.First(
		measure.Inside("each", "a bone-dry sheet", each, 0.01, 20000, "g"),
		measure.Inside("lost", "the share lost", lost, 0, 0.9, "as a fraction"),
	)
}

// SolidsFromDrying returns the solids of a harvest or a pulp by the quick test:
// weigh a handful, dry it, weigh it again. No oven is needed: dried in the room
// it keeps some water, which is taken off.
//
//	s = dried · (1 − left) / wet
//
// Contract:
//
//   - Quantity: bone-dry mass over total mass, a fraction
//   - Inputs: wet and dried, g; left water that the dried handful still holds, of its own mass: 0 bone-dry, 0.03 ironed, 0.08 to 0.12 dried in the room
//   - Valid: wet 0.1 to 1000000 g; dried 0 to wet; left 0 to 0.3; outside: fault.OutOfRange
//   - Assumes: the handful is like the rest
//   - Error: 2 points in 100 of dry mass with 100 g on a 1 g scale, room-dried
//   - Source: definition
//   - Checked: published/harvest-worked.csv; property: from 0 to 1, falls with what is left
func SolidsFromDrying(wet, dried measure.Mass, left measure.MoistureWet) (measure.Solids, error) {
	if err := measure.Inside("wet", "the handful", wet, 0.1, 1e6, "g"); err != nil {
		return 0, err
	}
	if err := fault.First(
		measure.Inside("dried", "the dried handful", dried, 0, wet, "g"),
		measure.Inside("left", "the water still in it", left, 0, 0.3, "as a fraction"),
	); err != nil {
		return 0, err
	}
	return measure.Solids(float64(dried) * float64(1-left) / float64(wet)), nil
}

// Path is what the handbook believes of a plant's yields. The cook and the
// beating are one number, that of the fibre table.
type Path struct {
	Plant                string
	Dry, Cleaned, Cooked source.Value
}

var paths = sync.OnceValue(func() map[string]*Path {
	out := map[string]*Path{}
	mustRead("data/yields.csv", 7, func(r []string) error {
		f, ok := fibre.Get(r[0])
		if !ok || !f.Yield.Known() {
			return fmt.Errorf("%q is no fibre of the table with a yield", r[0])
		}
		v, err := source.ReadValue(r[2], r[3], r[4], r[5], r[6], 0)
		if err != nil {
			return err
		}
		p := out[f.Name]
		if p == nil {
			p = &Path{Plant: f.Name, Cooked: f.Yield}
			out[f.Name] = p
		}
		switch r[1] {
		case "dry":
			p.Dry = v
		case "cleaned":
			p.Cleaned = v
		default:
			return fmt.Errorf("no stage %q", r[1])
		}
		return nil
	})
	return out
})

// PathOf returns the yields of a fibre that is harvested, and whether they are
// known from the fresh plant on.
func PathOf(f fibre.Fibre) (Path, bool) {
	name := f.Name
	if paths()[name] == nil {
		name = f.Like
	}
	p := paths()[name]
	if p == nil {
		return Path{}, false
	}
	out := *p
	out.Plant = f.Name
	if f.Yield.Known() {
		out.Cooked = f.Yield
	}
	return out, true
}

// Yields returns the middles, to reckon with.
func (p Path) Yields() Yields {
	return Yields{measure.Share(p.Dry.Mid), measure.Share(p.Cleaned.Mid), measure.Share(p.Cooked.Mid), 1}
}

// Whole returns the share of the fresh plant that comes to the vat, with its
// band: the steps' bands are joined as errors that know nothing of each other.
//
//	s = Π sᵢ,  (ln s's half band)² = Σ (ln sᵢ's half band)²
//
// Contract:
//
//   - Quantity: bone-dry pulp at the vat of fresh plant, a fraction: low and high are a 90 % band
//   - Inputs: the path of a plant
//   - Valid: a path with all its steps; else fault.Invalid
//   - Assumes: steps independent, skew bands taken each side by itself
//   - Error: the band itself
//   - Source: derived
//   - Checked: published/harvest-worked.csv, for kozo by pages that its steps come from: no independent check; property: the band holds the middle
func (p Path) Whole() (source.Value, error) {
	steps := []source.Value{p.Dry, p.Cleaned, p.Cooked}
	v := source.Value{Mid: 1, Source: source.KeyDerived}
	down, up := 0.0, 0.0
	for _, s := range steps {
		if !s.Known() || s.Low <= 0 {
			return source.Value{}, fault.Invalid("plant", "what is left of %q at each step is not known: weigh 100 g, dry it, weigh again", p.Plant)
		}
		v.Mid *= s.Mid
		down += math.Pow(math.Log(s.Mid/s.Low), 2)
		up += math.Pow(math.Log(s.High/s.Mid), 2)
		v.Grade = source.Worse(v.Grade, s.Grade)
	}
	v.Low, v.High = v.Mid*math.Exp(-math.Sqrt(down)), min(1, v.Mid*math.Exp(math.Sqrt(up)))
	return v, nil
}

// Season is which part of a plant is cut when.
type Season struct {
	What, Part, When, Note string
	Source                 source.Source
}

// Retting is how long plants rot loose, in days.
type Retting struct {
	How, What string
	Low, High measure.Days
	Note      string
	Source    source.Source
}

// Seasons returns when fibre is cut.
func Seasons() (out []Season) {
	mustRead("data/season.csv", 5, func(r []string) error {
		out = append(out, Season{r[0], r[1], r[2], r[3], source.Must(r[4])})
		return nil
	})
	return out
}

// Rettings returns the ways of retting.
func Rettings() (out []Retting) {
	mustRead("data/retting.csv", 6, func(r []string) error {
		v, err := source.ReadValue(r[2], r[3], r[3], r[5], "", 0)
		out = append(out, Retting{r[0], r[1], measure.Days(v.Low), measure.Days(v.High), r[4], source.Must(r[5])})
		return err
	})
	return out
}

// Paths returns what is known of the yields of every plant that is harvested,
// by name.
func Paths() []Path {
	var out []Path
	for _, p := range paths() {
		out = append(out, *p)
	}
	slices.SortFunc(out, func(a, b Path) int { return strings.Compare(a.Plant, b.Plant) })
	return out
}
