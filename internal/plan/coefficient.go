package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"vatside/internal/beating"
	"vatside/internal/belief"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/pressing"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/source"
)

// coefficient is one uncertain number a plan rests on: its key under known,
// the range a pin may have, how a pin turns into the number computed with, and
// what the handbook knows of it.
type coefficient struct {
	known  string
	within span
	scale  float64 // pinned value × scale is the number computed with
	prior  func(*settled) belief.Belief
}

// beatingDegree is the latent that shrinkage, drainage and pressed solids share: how
// far the stock is really beaten.
const beatingDegree = "degree of beating"

// Correlations with the degree of beating, from memory: one latent carries
// most of the variation of a sheet's properties [density-axis-2015].
const (
	shrinkWithBeating  = 0.7
	pressedWithBeating = -0.5
	densityWithBeating = 0.6
)

var coefficients = []coefficient{
	{"shrink_long_pct", span{0, 60, "%"}, 0.01, priorShrinkage},
	{"shrink_short_pct", span{0, 60, "%"}, 0.01, priorShrinkRatio},
	{"moisture_conditioned_pct_dry_basis", span{0, 30, "%"}, 0.01, priorMoisture},
	{"additive_retained_pct", span{0, 100, "%"}, 0.01, priorRetained},
	{"kissed_off_pct", span{0, 80, "%"}, 0.01, func(s *settled) belief.Belief {
		return prior("kissed off/"+s.forming, "sheets kissed off at the vat", belief.FromCounts(1.2, 24, 0.02), "memory", otherForming)
	}},
	{"lost_later_pct", span{0, 90, "%"}, 0.01, func(s *settled) belief.Belief {
		return prior("lost later/"+s.forming, "couched sheets lost before they are good", belief.FromCounts(2.5, 22, 0.02), "memory", otherForming)
	}},
	{"effective_depth_mm", span{0.5, 200, "mm"}, 1, priorDepth},
	{"hand_scatter_pct", span{0, 40, "%"}, 0.01, func(s *settled) belief.Belief {
		return prior("hand scatter/"+s.forming, "scatter of the hand from sheet to sheet", belief.FromBand(belief.Log, 0.04, 0.025, 0.065, 0.2), "memory")
	}},
	{"solids_couched_pct", span{2, 50, "%"}, 0.01, func(s *settled) belief.Belief {
		return prior("couched solids/"+s.signature, "solids of a couched sheet", belief.FromBand(belief.Logit, 0.10, 0.075, 0.135, 0.3), "memory")
	}},
	{"solids_pressed_pct", span{5, 70, "%"}, 0.01, priorPressed},
	{"beater_loss_pct", span{0, 95, "%"}, 0.01, priorLoss},
	{"moisture_air_dry_pct_wet_basis", span{0, 80, "%"}, 0.01, priorLot},
	{"size_uptake_g_g", span{0.05, 10, "g/g"}, 1, priorUptake},
	{"density_g_cm3", span{0.1, 1.5, "g/cm³"}, 1, priorDensity},
	{"dryer_efficiency_pct", span{1, 100, "%"}, 0.01, func(s *settled) belief.Belief {
		return prior("dryer efficiency/"+s.drying, "share of the air's capacity the dryer uses", belief.FromBand(belief.Logit, 0.35, 0.2, 0.55, 0.3), "memory")
	}},
}

// KnownKeys returns the keys allowed under known, in the order of the plan.
func KnownKeys() []string {
	keys := make([]string, len(coefficients))
	for i, c := range coefficients {
		keys[i] = c.known
	}
	return keys
}

func coefficientOf(key string) (coefficient, bool) {
	for _, c := range coefficients {
		if c.known == key {
			return c, true
		}
	}
	return coefficient{}, false
}

// prior names a belief and its source, and what it has in common with others
// of its kind, the nearest first.
func prior(key, name string, b belief.Belief, sourceKey string, shared ...belief.Effect) belief.Belief {
	b.Key, b.Name, b.Source = key, name, sourceKey
	b.Grade = source.Must(sourceKey).Grade
	b.Effects = shared
	return b
}

// What a belief shares with others of its kind, as parts of the variance of the
// studio's own value; what is left is this stock's alone. Judgements of ours:
// fibre and drying are most of what papers of a studio have in common, the vat
// and the hand most of a depth, the press most of what it leaves. A blend has
// of each fibre's part its share, and the more of its own.
const (
	shrinkByFibre, shrinkByBeating, shrinkByDrying = 0.35, 0.10, 0.25
	ratioByFibre, ratioByStudio                    = 0.20, 0.40
	depthByFibre, depthByMould, depthByForming     = 0.20, 0.15, 0.35
	pressedByFibre, pressedByStudio                = 0.20, 0.45
	densityByFibre, densityByStudio                = 0.40, 0.25
	yieldByFibre, yieldByStudio                    = 0.50, 0.25
	uptakeByFibre, uptakeByWay                     = 0.30, 0.40
	stepByPace                                     = 0.35
	paceByFibre, paceByMachine                     = 0.30, 0.40
)

// otherPapers begins the name of what papers have in common; it reads on from a
// number of makings.
const otherPapers = "making of other papers"

// otherForming names what shares lost have in common; how much, the belief
// itself says.
var otherForming = belief.Effect{Name: "making of other ways of forming"}

func shares(name string, part float64) belief.Effect {
	return belief.Effect{Name: name, Weight: math.Sqrt(part)}
}

// byFibre is what papers of the same fibres have in common, by share, and then
// what all have that is named besides.
func (s *settled) byFibre(part float64, how string, besides ...belief.Effect) []belief.Effect {
	var out []belief.Effect
	for _, p := range s.parts {
		e := belief.Effect{Name: otherPapers + " of " + p.Name + how, Weight: p.share * math.Sqrt(part)}
		if i := slices.IndexFunc(out, func(o belief.Effect) bool { return o.Name == e.Name }); i >= 0 {
			out[i].Weight += e.Weight // one fibre beaten in two ways
			continue
		}
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(a, b belief.Effect) int { return cmp.Compare(b.Weight, a.Weight) })
	return append(out, besides...)
}

// byBeating is what beating makes of each fibre otherwise than the handbook has
// it: none at the usual hours, all of it at half of them and at twice.
func (s *settled) byBeating(part float64, how string) []belief.Effect {
	var out []belief.Effect
	for _, p := range s.parts {
		usual, ok := p.HoursFor("")
		if !ok || usual.Mid <= 0 {
			continue
		}
		axis := math.Max(-1, math.Min(1, math.Log2(float64(p.hours)/usual.Mid)))
		if axis != 0 {
			out = append(out, belief.Effect{Name: otherPapers + " of " + p.Name + how + ", by its beating", Weight: p.share * axis * math.Sqrt(part)})
		}
	}
	return out
}

// What of the variance of a shrinkage lies between makings: about half a point
// of sheets held flat, and a point and a half of sheets dried free, of 8 %.
// From memory.
const heldMaking, freeMaking = 0.35, 0.15

// priorShrinkage is the geometric mean of both shrinkages of this stock dried
// so: the handbook's band mixed by share.
func priorShrinkage(s *settled) belief.Belief {
	var low, mid, high float64
	grade, key := source.Standard, ""
	for _, p := range s.parts {
		v, err := fibre.DriedShrinkageBand(p.Fibre, p.hours, s.drying)
		if err != nil {
			continue // Check has seen to hours and drying
		}
		low, mid, high = low+p.share*v.Low, mid+p.share*v.Mid, high+p.share*v.High
		if key == "" || v.Grade > grade {
			grade, key = v.Grade, v.Source
		}
	}
	held := s.drying == "stack" || s.drying == "board"
	making := freeMaking
	if held {
		making = heldMaking
	}
	how := ", free to shrink"
	if held {
		how = ", held flat"
	}
	b := prior("shrinkage/"+s.drying+"/"+s.signature, "drying shrinkage, mean of both ways", belief.FromBand(belief.Root, mid, low, high, making), "memory",
		s.byFibre(shrinkByFibre, how, append(s.byBeating(shrinkByBeating, how), shares(otherPapers+", "+s.drying+" drying", shrinkByDrying))...)...)
	b.Source, b.Grade = key, grade
	if !held {
		b.Latent, b.Corr = beatingDegree, shrinkWithBeating
	}
	return b
}

// priorShrinkRatio is the square root of long over short shrinkage: the one
// measured free sheet had 1.096, and nobody says which way a mould prefers.
func priorShrinkRatio(s *settled) belief.Belief {
	return prior("shrinkage ratio/"+s.signature, "shrinkage along over the mean of both ways", belief.FromBand(belief.Log, 1, 1/1.12, 1.12, 0.3), "memory",
		s.byFibre(ratioByFibre, "", shares(otherPapers, ratioByStudio))...)
}

func priorMoisture(s *settled) belief.Belief {
	mid := s.mix(func(p part) float64 { return p.RoomMoisture.Mid })
	low := s.mix(func(p part) float64 { return p.RoomMoisture.Low })
	high := s.mix(func(p part) float64 { return p.RoomMoisture.High })
	if !(low > 0 && low < mid && mid < high) {
		at50, _ := sheet.MoistureAt(0.5)
		mid, low, high = float64(at50), float64(at50)*0.8, float64(at50)*1.25
	}
	return prior("conditioned moisture/"+s.signature, "moisture of the sheet at 50 % RH, on dry basis", belief.FromBand(belief.Logit, mid, low, high, 0.3), "memory")
}

func priorDepth(s *settled) belief.Belief {
	name, median, cv := "effective depth of the dip", 20.0, 0.20
	if s.forming != "western" {
		name, median, cv = "sheet weight over what was reckoned", 1.0, 0.20
	}
	if s.forming == "poured" {
		cv = 0.05
	}
	b := belief.Belief{Link: belief.Log, Mean: math.Log(median), SD: cv * 0.92, Making: cv * 0.39, Degrees: belief.Degrees}
	on := shares(otherPapers+" on the mould "+s.mould, depthByMould)
	return prior("effective depth/"+s.forming+"/"+s.signature, name, b, "memory",
		append([]belief.Effect{on}, s.byFibre(depthByFibre, "", shares(otherPapers+", "+s.forming+" forming", depthByForming))...)...)
}

// mouldOf is the mould a depth is learned on: the one there is. Of several the
// plan chooses by the size; until then it is one that nothing was seen of.
func mouldOf(r Request) string {
	switch moulds := r.Studio.mouldsInOrder(); {
	case r.Have != nil || len(moulds) == 0:
		return "of no name"
	case len(moulds) == 1:
		return moulds[0].title()
	}
	return mouldOpen
}

const mouldOpen = "still to be chosen"

// onMould lays what is known of the mould chosen on the depth.
func (m *maker) onMould(amend func(map[string]belief.Belief)) {
	if m.mould != mouldOpen || m.plan.Mould == "" {
		return
	}
	m.mould = m.plan.Mould
	c, _ := coefficientOf("effective_depth_mm")
	by := map[string]belief.Belief{c.known: m.belief(c, m.known)}
	if amend != nil {
		amend(by)
	}
	m.by[c.known] = by[c.known]
}

func priorPressed(s *settled) belief.Belief {
	mid := 0.12 // couching alone, no press
	if s.force() > 0 {
		if area, err := sheet.AreaOf(measure.Length(s.Sheet.LongMM), measure.Length(s.Sheet.ShortMM)); err == nil {
			if p, err := pressing.PressureOn(s.force(), area); err == nil {
				if v, err := pressing.SolidsAt(p, 0.33, pressing.Exponent); err == nil {
					mid = float64(v)
				}
			}
		}
	}
	b := prior("pressed solids/"+s.signature, "solids of a pressed sheet", belief.FromBand(belief.Logit, mid, mid*0.83, min(mid*1.19, 0.6), 0.3), "memory",
		s.byFibre(pressedByFibre, "", shares(otherPapers, pressedByStudio))...)
	b.Latent, b.Corr = beatingDegree, pressedWithBeating
	return b
}

// priorDensity is the density of the dry sheet: the volumes of the parts add.
func priorDensity(s *settled) belief.Belief {
	low, mid, high := 0.0, 0.0, 0.0 // cm³ of a gram
	grade, key := source.Standard, ""
	for _, p := range s.parts {
		v, err := fibre.DensityBand(p.Fibre, p.hours)
		if err != nil { // the handbook does not say: between a blotter and a glassine
			v = source.Said(0.4, 0.6, 0.9, source.KeyMemory, "")
		}
		low, mid, high = low+p.share/v.High, mid+p.share/v.Mid, high+p.share/v.Low
		if key == "" || v.Grade > grade {
			grade, key = v.Grade, v.Source
		}
	}
	b := prior("density/"+s.signature, "density of the dry sheet", belief.FromBand(belief.Log, 1/mid, 1/high, 1/low, 0.3), key,
		s.byFibre(densityByFibre, "", shares(otherPapers, densityByStudio))...)
	b.Grade, b.Latent, b.Corr = grade, beatingDegree, densityWithBeating
	return b
}

// priorRetained is the share of the additives together that stays in the sheet,
// by dose.
func priorRetained(s *settled) belief.Belief {
	var low, mid, high float64
	var kinds []string
	grade, key := source.Standard, ""
	for _, a := range s.additives {
		if a.DosePct == 0 {
			continue
		}
		w := a.DosePct / 100 / float64(s.dose)
		low, mid, high = low+w*a.kept.Low, mid+w*a.kept.Mid, high+w*a.kept.High
		if key == "" || a.kept.Grade > grade {
			grade, key = a.kept.Grade, a.kept.Source
		}
		kinds = append(kinds, a.row.Name)
	}
	if key == "" {
		low, mid, high, key, grade = 0.40, 0.65, 0.85, "memory", source.Memory
	}
	slices.Sort(kinds)
	mid = math.Min(mid, 0.985) // of what stays whole, a little runs off all the same
	b := prior("additive retained/"+strings.Join(kinds, " + "), "share of additive that stays in the sheet",
		belief.FromBand(belief.Logit, mid, math.Min(math.Max(low, 0.01), mid-0.005), math.Max(math.Min(high, 0.995), mid+0.005), 0.3), key)
	b.Grade = grade
	return b
}

// usualLoss is the fibre of a ready pulp that is lost in beating and rinsing,
// a fraction: from memory, 1.8 to 5.5 %.
const usualLoss = 0.032

// priorLoss is what is lost of the fibre between the shelf and the vat: of a
// ready pulp fines and rinsings, of a raw one what the cook takes.
func priorLoss(s *settled) belief.Belief {
	if !s.cooks() {
		return prior("beater loss", "fibre lost in beating and rinsing", belief.FromBand(belief.Logit, usualLoss, 0.018, 0.055, 0.3), "memory")
	}
	low, mid, high := 0.0, 0.0, 0.0 // fibre as it lies over fibre at the vat
	grade, key := source.Memory, "memory"
	for _, p := range s.parts {
		y := source.Said(1-0.055, 1-usualLoss, 1-0.018, source.KeyMemory, "")
		if p.raw && p.Yield.Known() {
			y, grade, key = p.Yield, p.Yield.Grade, p.Yield.Source
		}
		low, mid, high = low+p.share/y.High, mid+p.share/y.Mid, high+p.share/y.Low
	}
	b := prior("yield/"+s.signature, "fibre lost in the cook, in beating and rinsing", belief.FromBand(belief.Logit, 1-1/mid, 1-1/low, 1-1/high, 0.3), key,
		s.byFibre(yieldByFibre, "", shares(otherPapers, yieldByStudio))...)
	b.Grade = grade
	return b
}

// cooks reports whether any fibre is cooked first.
func (s *settled) cooks() bool {
	return slices.ContainsFunc(s.parts, func(p part) bool { return p.raw })
}

// priorUptake is how much bath a dry sheet takes up.
func priorUptake(s *settled) belief.Belief {
	v, err := sizing.UsualUptake(s.way)
	if err != nil {
		v = source.Said(1.5, 2, 2.5, source.KeyMemory, "")
	}
	return prior("size uptake/"+string(s.way)+"/"+s.signature, "bath that a dry sheet takes up", belief.FromBand(belief.Log, v.Mid, v.Low, v.High, 0.3), v.Source,
		s.byFibre(uptakeByFibre, "", shares(otherPapers+", "+string(s.way), uptakeByWay))...)
}

func priorLot(s *settled) belief.Belief {
	mid := s.mix(func(p part) float64 { return p.Bought.Mid })
	low := s.mix(func(p part) float64 { return p.Bought.Low })
	high := s.mix(func(p part) float64 { return p.Bought.High })
	if !(low > 0 && low < mid && mid < high) {
		mid, low, high = 0.08, 0.06, 0.105
	}
	return prior("lot moisture", "moisture of the fibre as weighed, on wet basis", belief.FromBand(belief.Logit, mid, low, high, 0.5), "memory")
}

// PaceKind begins the key of every pace of beating.
const PaceKind = "beating pace/"

// BeatingPace is how fast a fibre beats in a machine, over what the handbook
// has for it on whatever scale: within a factor, of which a third is one load
// against another. Faults: those of beating.HandbookRate.
func BeatingPace(machine string, f fibre.Fibre) (belief.Belief, error) {
	r, err := beating.HandbookRate(beating.BySchopperRiegler, f)
	if err != nil {
		return belief.Belief{}, err
	}
	machine, reach := or(machine, "the beater"), math.Exp(1.645*r.Spread)
	return prior(PaceKind+machine+"/"+f.Name, "pace of beating over the handbook's", belief.FromBand(belief.Log, 1, 1/reach, reach, 0.3), "memory",
		shares("making of other fibres in "+machine, paceByMachine), shares("making of "+f.Name+" in other machines", paceByFibre)), nil
}

// paces are the paces of the request's fibres in the studio's machines. A plan
// takes the hours as they are asked for; the page of a load reckons with them.
func (s *settled) paces(known belief.Known) []belief.Belief {
	list := s.Studio.Beaters
	if s.Studio.Beater != nil {
		list = append([]Beater{*s.Studio.Beater}, list...)
	}
	if len(list) == 0 {
		list = []Beater{{}}
	}
	var out []belief.Belief
	for _, m := range list {
		for _, p := range s.parts {
			if b, err := BeatingPace(m.Name, p.Fibre); err == nil {
				out = append(out, b.With(known))
			}
		}
	}
	return out
}

// beliefs returns the beliefs this request rests on, by known key.
func (s *settled) beliefs(known belief.Known) map[string]belief.Belief {
	out := make(map[string]belief.Belief, len(coefficients))
	for _, c := range coefficients {
		out[c.known] = s.belief(c, known)
	}
	return out
}

// belief is a coefficient with the studio's evidence and the request's pin on
// it. A pin of either shrinkage is laid on in size.go, because the two are
// drawn together.
func (s *settled) belief(c coefficient, known belief.Known) belief.Belief {
	b := c.prior(s).With(known)
	if c.known != "shrink_short_pct" { // its belief is of the ratio of the two
		b.Least, b.Most = c.within.low*c.scale, c.within.high*c.scale
	}
	if pin, ok := s.Known[c.known]; ok && c.known != "shrink_long_pct" && c.known != "shrink_short_pct" {
		b.Pin = &belief.Pin{Value: pin.Value * c.scale, Grade: pin.Grade}
	}
	return b
}

// Beliefs returns what a request rests on, with what the studio knows, in the
// order of the plan: for the page that shows it.
func Beliefs(r Request, known belief.Known) ([]belief.Belief, error) {
	return BeliefsOn(r, "", known)
}

// BeliefsOn is Beliefs once the mould is chosen, by its name in the plan: for
// whoever turns a making's record into observations.
func BeliefsOn(r Request, mould string, known belief.Known) ([]belief.Belief, error) {
	if err := Check(r); err != nil {
		return nil, err
	}
	s, err := settle(r)
	if err != nil {
		return nil, err
	}
	if s.mould == mouldOpen && mould != "" {
		s.mould = mould
	}
	known = known.Joined()
	by := s.beliefs(known)
	out := make([]belief.Belief, 0, len(by))
	for _, c := range coefficients {
		out = append(out, by[c.known])
	}
	out = append(out, s.stepBeliefs(known)...)
	if waits, err := s.waiting(); err == nil {
		out = append(out, waits.With(known))
	}
	return append(out, s.paces(known)...), nil
}
