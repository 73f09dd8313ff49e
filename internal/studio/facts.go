package studio

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/fibre"
	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/trouble"
)

// Limits of hard and soft water, mg/L as calcium carbonate (practice): between
// them nothing is said.
const (
	hardFrom = 120
	softTo   = 60
)

// Facts are what a making's request, its frozen plan and its records know of it
// when a fault is looked into. What was recorded goes before what was planned;
// what neither knows stays unknown.
func Facts(m Making, events []Event) trouble.Facts {
	var f trouble.Facts
	s := Replay(m, events)
	stockFacts(&f, m)
	beatFacts(&f, m, s)
	vatFacts(&f, m, s)
	countFacts(&f, m, s, events)
	sheetFacts(&f, m, s)
	return f
}

// stockFacts are of the furnish and what goes into it.
func stockFacts(f *trouble.Facts, m Making) {
	shelf := shelfOf(m.Request.Studio)
	length, long, recycled, known := 0.0, 0.0, 0.0, len(m.Request.Paper.Furnish) > 0
	measured := known
	for _, p := range m.Request.Paper.Furnish {
		f.Fibres = append(f.Fibres, p.Fibre)
		row, ok := shelf.Get(p.Fibre)
		known, measured = known && ok, measured && ok && row.Length.Known()
		length += p.SharePct / 100 * row.Length.Mid
		if row.LongFibre {
			long += p.SharePct / 100
		}
		if row.Kind == "waste" {
			recycled += p.SharePct / 100
		}
	}
	if known {
		f.LongFibre, f.LongShare, f.RecycledShare = new(long > 0), share(long), share(recycled)
	}
	if measured {
		f.FibreLength = new(measure.Length(length))
	}
	filler := 0.0
	used := map[furnish.Group]bool{}
	for _, a := range m.Request.Paper.Additives {
		group := furnish.Any(a.Kind).Group
		used[group] = true
		if slices.Contains([]furnish.Group{furnish.Filler, furnish.Reserve, furnish.Pigment}, group) {
			filler += a.DosePct / 100
		}
	}
	f.Filler = new(measure.Dose(filler))
	f.Coloured = new(used[furnish.Dye] || used[furnish.Pigment])
	f.RetentionAid, f.InternalSize = new(used[furnish.RetentionAid]), new(used[furnish.InternalSize])
	f.FormationAid = new(used[furnish.FormationAid])
	if w := m.Request.Studio.Water; w != nil && w.HardnessMGL != nil && (*w.HardnessMGL >= hardFrom || *w.HardnessMGL <= softTo) {
		f.HardWater = new(*w.HardnessMGL >= hardFrom)
	}
}

// share takes off what binary sums leave over.
func share(v float64) *measure.Share { return new(measure.Share(min(1, math.Round(v*1e6)/1e6))) }

// beatFacts are of the beater: the hours of the longest load.
func beatFacts(f *trouble.Facts, m Making, s State) {
	hours := 0.0
	for _, b := range s.Beats {
		hours = max(hours, b.Hours)
	}
	planned := 0.0
	blenders := len(m.Plan.Loads) > 0
	for _, l := range m.Plan.Loads {
		planned = max(planned, l.Hours)
		blenders = blenders && slices.ContainsFunc(m.Request.Studio.Beaters, func(b plan.Beater) bool {
			return b.Name == l.Machine && b.Kind == "blender"
		})
	}
	if h := m.Request.Paper.BeatingHours; planned == 0 && h != nil {
		planned = *h
	}
	switch {
	case hours > 0:
		f.BeatingHours = new(measure.Hours(hours))
	case planned > 0:
		f.BeatingHours = new(measure.Hours(planned))
	}
	if len(m.Plan.Loads) > 0 {
		f.Blender = new(blenders)
	}
}

// vatFacts are of the vat and the mould.
func vatFacts(f *trouble.Facts, m Making, s State) {
	f.Consistency = planned[measure.Consistency](m, "vat_consistency_g_l")
	f.Crowding = planned[measure.Number](m, "crowding")
	for _, mould := range m.Request.Studio.Moulds {
		if isMould(mould, m.Plan.Mould) && mould.MeshCM != nil {
			f.MeshPerCm = new(measure.Number(*mould.MeshCM))
			break
		}
	}
	if k, ok := m.Plan.Figures["sheets_per_recharge"]; ok {
		f.RechargeEvery = new(int(math.Round(k.Value)))
	}
	if s.Recharged > 0 && s.Pulled > 0 {
		f.RechargeEvery = new(max(1, int(math.Round(float64(s.Pulled)/float64(s.Recharged+1)))))
	}
	f.Thinning = thinning(m.Plan.Vat.Recharges)
}

// isMould reports whether a plan means that mould: by its name, or where it has
// none by its size.
func isMould(mould plan.Mould, title string) bool {
	if mould.Name != "" {
		return mould.Name == title
	}
	long, short := max(mould.LongMM, mould.ShortMM), min(mould.LongMM, mould.ShortMM)
	return title == fmt.Sprintf("%.0f × %.0f mm", long, short)
}

// thinning is what one sheet takes off the vat, as the plan has it between two
// recharges.
func thinning(table []plan.Recharge) *measure.Share {
	for i := 1; i < len(table); i++ {
		from, to := table[i-1], table[i]
		n := to.BeforeSheet - from.BeforeSheet
		if n > 0 && !from.RunDown && !to.RunDown && to.GrammageBefore > 0 && to.GrammageBefore < from.GrammageAfter {
			return new(measure.Share(1 - math.Pow(to.GrammageBefore/from.GrammageAfter, 1/float64(n))))
		}
	}
	return nil
}

// countFacts are of the run: what was counted, how long it took, and how the
// first sheets and the last ones came.
func countFacts(f *trouble.Facts, m Making, s State, events []Event) {
	f.Wanted = m.Request.GoodSheets
	if s.Pulled > 0 {
		f.Pulled, f.KissedOff = new(s.Pulled), new(min(max(s.KissedOff, 0), s.Pulled))
		f.MinutesASheet = meant(measure.Minutes(s.Minutes["pull and couch"]/float64(s.Pulled)), 0.05, 1440)
	}
	f.FirstBad = firstBad(events)
	l := lesson{m: m, s: s, key: map[string]string{}, centre: map[string]float64{}}
	if ratio, n := l.testRatio(); n > 0 {
		f.WeightError = meant(measure.Share(ratio-1), -1, 10)
	}
	first, last := 0, 0
	each := map[int]float64{}
	for _, p := range s.Parting {
		if p.Post == 0 || p.Sheets == 0 {
			continue
		}
		if first == 0 || p.Post < first {
			first = p.Post
		}
		last = max(last, p.Post)
		each[p.Post] = p.Grams / float64(p.Sheets)
	}
	if first < last && each[first] > 0 {
		f.LateWeight = meant(measure.Share(each[last]/each[first]-1), -1, 10)
	}
}

// firstBad counts the sheets that were all kissed off before the first one that
// stayed. It is unknown where a count mixes the two, for then nobody can tell
// which they were.
func firstBad(events []Event) *int {
	bad := 0
	for _, h := range Holds(events) {
		p, ok := h.Body.(Post)
		switch {
		case !ok || p.Pulled == 0:
		case p.KissedOff == p.Pulled:
			bad += p.Pulled
		case p.KissedOff == 0:
			return &bad
		default:
			return nil
		}
	}
	return nil
}

// sheetFacts are of the press, the dryer, the room and the sheet itself.
func sheetFacts(f *trouble.Facts, m Making, s State) {
	if n := planned[measure.Number](m, "post_sheets"); n != nil {
		f.SheetsInPost = new(int(*n))
	}
	tallest := 0
	for _, p := range s.Posts {
		tallest = max(tallest, p.Couched)
	}
	if tallest > 0 {
		f.SheetsInPost = &tallest
	}
	f.Pressure = planned[measure.Pressure](m, "press_pressure_kpa")
	for _, o := range Learn(m, s) {
		if o.Belief != "" && o.Belief == beliefOf(m, "solids_pressed_pct") {
			f.Solids = new(measure.Solids(o.Value))
		}
	}
	if g, ok := Grammage(m, s); ok {
		f.Grammage = &g
	} else if m.Request.Paper.GrammageConditioned > 0 {
		f.Grammage = new(measure.GrammageConditioned(m.Request.Paper.GrammageConditioned))
	}
	if slices.Contains(fibre.Dryings(), m.Request.Paper.Drying) {
		f.Drying = m.Request.Paper.Drying
	}
	f.SurfaceSize = new(m.Request.Paper.SurfaceSize != "" || len(s.Sized) > 0)
	if room, said := m.Request.Studio.Room(); said {
		f.RoomRH = new(measure.RelHumidity(room.RHPct / 100))
	}
	for _, d := range s.Diagonals {
		off := meant(measure.Length(math.Abs(d.FirstMM-d.SecondMM)), 0, 500)
		if f.Diagonals == nil || off != nil && *off > *f.Diagonals {
			f.Diagonals = off
		}
	}
}

// meant is a fact that can be meant: what an odd record comes to is left
// unknown, for it is flagged elsewhere.
func meant[T ~float64](v, low, high T) *T {
	if !(v >= low && v <= high) {
		return nil
	}
	return &v
}

// planned is a figure of the frozen plan; nil where it has none.
func planned[T ~float64](m Making, key string) *T {
	f, ok := m.Plan.Figures[key]
	if !ok {
		return nil
	}
	return new(T(f.Value))
}

func beliefOf(m Making, key string) string {
	for _, p := range m.Plan.RestsOn {
		if p.Key == key {
			return p.Belief
		}
	}
	return ""
}

// Density is what thickness, weight and size of a making's dry sheets come to;
// false where one of them was not measured. Without a dry size the size wanted
// is taken.
func Density(m Making, s State) (measure.Density, bool) {
	readings := s.Thicknesses()
	g, ok := Grammage(m, s)
	if len(readings) == 0 || !ok {
		return 0, false
	}
	d, err := sheet.DensityFromCaliper(g, measure.Length(stat.Mean(readings, nil)))
	return d, err == nil
}

// Grammage is what weight and size of a making's dry sheets come to, at 50 % RH;
// false where none was weighed.
func Grammage(m Making, s State) (measure.GrammageConditioned, bool) {
	grams, n := (&lesson{m: m, s: s}).dryMass()
	if n == 0 {
		return 0, false
	}
	long, short := s.Size(m.Request.Sheet)
	area, err := sheet.AreaOf(measure.Length(long), measure.Length(short))
	if err != nil {
		return 0, false
	}
	g, err := sheet.GrammageFromSheet(measure.Mass(grams), area)
	return g, err == nil
}

// Size is the mean size of the dry sheets, mm; while none is measured, the size
// wanted.
func (s State) Size(wanted plan.Sheet) (long, short float64) {
	n := float64(len(s.Sizes))
	if n == 0 {
		return wanted.LongMM, wanted.ShortMM
	}
	for _, z := range s.Sizes {
		long, short = long+z.LongMM/n, short+z.ShortMM/n
	}
	return long, short
}

// Thicknesses are all readings of the caliper, mm.
func (s State) Thicknesses() []float64 {
	var all []float64
	for _, c := range s.Calipers {
		all = append(all, c.ThicknessMM...)
	}
	return all
}
