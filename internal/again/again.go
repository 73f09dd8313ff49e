// Package again reads from the records of a making what it takes to make the
// same paper: the design as it was really made, where that differs from the
// design as it was meant.
//
// Assumptions: what was weighed of the dry sheets is the paper, whatever was
// wished; what was put in is what was written down as put in, as it comes out of
// its bag. Missing: the pressing and the dryer, which no design holds.
// Sources: none; a comparison of records, docs/models/again.md.
package again

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/furnish"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// Keys of what may differ. Of an additive: its name after KeyAdditive.
const (
	KeyGrammage = "grammage"
	KeyBeating  = "beating"
	KeyBath     = "bath"
	KeyAdditive = "additive "
)

// Differing is one thing that was made otherwise than it was meant, beyond what
// the record can tell.
type Differing struct {
	Key   string
	Meant float64 // 0 where nothing was said
	Made  float64
	Unit  string // g/m², h, % of the bath, % on bone-dry fibre
	Said  bool   // the design says what was meant
}

// What is no difference, as a part of what was meant; ours. Sheets of one
// making scatter by a tenth, and ten weighed together by a third of that; a
// scale in a studio is good to a twentieth of a small dose.
const (
	sameGrammage = 0.03
	sameDose     = 0.05
	sameBath     = 0.05
	sameHours    = 0.05
)

// Differs lists what of a making was made otherwise than its design has it, in
// the order of the work.
//
// Beating counts only where the last reading of a load came later than the
// design's hours: a load may well be beaten on after its last reading.
func Differs(m studio.Making, s studio.State) []Differing {
	d := m.Request.Paper
	var list []Differing
	add := func(key, unit string, meant *float64, made, same float64) {
		x := Differing{Key: key, Made: made, Unit: unit, Said: meant != nil}
		if meant != nil {
			x.Meant = *meant
		}
		if made > 0 && math.Abs(x.Made-x.Meant) > same*x.Meant {
			list = append(list, x)
		}
	}
	if h := beaten(m, s); d.BeatingHours != nil && h > *d.BeatingHours {
		add(KeyBeating, "h", d.BeatingHours, h, sameHours)
	}
	for _, a := range put(m, s) {
		add(KeyAdditive+a.Kind, "%", doseOf(d, a.Kind), a.DosePct, sameDose)
	}
	if g, ok := studio.Grammage(m, s); ok {
		add(KeyGrammage, "g/m²", &d.GrammageConditioned, float64(g), sameGrammage)
	}
	if b := bath(s); d.SurfaceSize != "" {
		add(KeyBath, "%", d.SurfaceBathPct, b, sameBath)
	}
	return list
}

// Made returns the design of a making with what is taken of the differences.
func Made(m studio.Making, taken []Differing) plan.Paper {
	d := m.Request.Paper
	d.Additives = append([]plan.Additive(nil), d.Additives...)
	for _, x := range taken {
		v := round(x.Made)
		switch kind, additive := strings.CutPrefix(x.Key, KeyAdditive); {
		case additive:
			dose(&d, kind, v)
		case x.Key == KeyGrammage:
			d.GrammageConditioned = v
		case x.Key == KeyBeating:
			d.BeatingHours = &v
		case x.Key == KeyBath:
			d.SurfaceBathPct = &v
		}
	}
	return d
}

// round keeps three digits: more were not measured.
func round(v float64) float64 {
	scale := math.Pow(10, 2-math.Floor(math.Log10(v)))
	return math.Round(v*scale) / scale
}

// beaten is how long a load was beaten at the last look, the mean of the loads
// that go by the design's hours; 0: nobody looked.
func beaten(m studio.Making, s studio.State) float64 {
	last := map[int]float64{}
	for _, b := range s.Beats {
		if !studio.BeatenAlone(m, b.Load) {
			last[b.Load] = max(last[b.Load], b.Hours)
		}
	}
	var hours []float64
	for _, h := range last {
		hours = append(hours, h)
	}
	if len(hours) == 0 {
		return 0
	}
	return stat.Mean(hours, nil)
}

// bath is the mean strength of the baths of which it was said; 0: of none.
func bath(s studio.State) float64 {
	var all []float64
	for _, z := range s.Sized {
		if z.BathPct > 0 {
			all = append(all, z.BathPct)
		}
	}
	if len(all) == 0 {
		return 0
	}
	return stat.Mean(all, nil)
}

// put is what was really put in of what the handbook or the design knows by
// name, as doses on the fibre that was weighed out, or else was to be. What was
// once put in without a mass has no dose.
func put(m studio.Making, s studio.State) []plan.Additive {
	fibre := m.Plan.Figures["fibre_bone_dry_g"].Value
	if weigh := m.Plan.Figures["fibre_air_dry_g"].Value; s.FibreG > 0 && weigh > 0 {
		fibre *= s.FibreG / weigh
	}
	if !(fibre > 0) {
		return nil
	}
	var list []plan.Additive
	for _, b := range s.Added {
		kind, strength, ok := known(m, b.What)
		if !ok {
			continue
		}
		i := slices.IndexFunc(list, func(a plan.Additive) bool { return a.Kind == kind })
		if i < 0 {
			i, list = len(list), append(list, plan.Additive{Kind: kind})
		}
		if b.Grams == 0 {
			list[i].DosePct = math.NaN()
		}
		list[i].DosePct += 100 * b.Grams * strength / fibre
	}
	return slices.DeleteFunc(list, func(a plan.Additive) bool { return math.IsNaN(a.DosePct) })
}

// known finds an additive by name, in the design before the handbook, and how
// strong it is as it comes.
func known(m studio.Making, what string) (kind string, strength float64, ok bool) {
	row := furnish.Any(strings.TrimSpace(what))
	kind, strength = row.Name, 1
	if row.Strength.Known() {
		strength = row.Strength.Mid
	}
	for _, a := range m.Request.Paper.Additives {
		if furnish.Any(a.Kind).Name != row.Name && !strings.EqualFold(a.Kind, what) {
			continue
		}
		if a.DoseMLL > 0 {
			return "", 0, false // measured by the vat, not by the fibre
		}
		if a.StrengthPct != nil {
			strength = *a.StrengthPct / 100
		}
		return a.Kind, strength, true
	}
	return kind, strength, row.Listed() && row.Group != furnish.FormationAid
}

func doseOf(d plan.Paper, kind string) *float64 {
	for _, a := range d.Additives {
		if a.Kind == kind {
			return &a.DosePct
		}
	}
	return nil
}

func dose(d *plan.Paper, kind string, pct float64) {
	for i := range d.Additives {
		if d.Additives[i].Kind == kind {
			d.Additives[i].DosePct = pct
			return
		}
	}
	d.Additives = append(d.Additives, plan.Additive{Kind: kind, DosePct: pct})
}
