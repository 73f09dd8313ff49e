package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/sheet"
)

// size chooses the mould, or states the formed size.
func (m *maker) size() {
	bk := m.bk
	m.one = given(m, "one", measure.Number(1), "definition")
	m.shrinkage()
	long := given(m, "long side wanted", measure.Length(m.Sheet.LongMM), "brief")
	short := given(m, "short side wanted", measure.Length(m.Sheet.ShortMM), "brief")
	if m.edges == "trimmed" {
		edges := given(m, "trimmed off both edges", measure.Length(2*m.trim), "brief")
		long = figure.Sum(bk, "dry length before trimming", long, edges)
		short = figure.Sum(bk, "dry breadth before trimming", short, edges)
	}
	needLong := figure.Map2(bk, "formed length for it", "{0} / (1 − {1})", sheet.FormedLength, long, m.shrinkLong)
	needShort := figure.Map2(bk, "formed breadth for it", "{0} / (1 − {1})", sheet.FormedLength, short, m.shrinkShort)
	if bk.Err() != nil {
		return
	}
	switch {
	case len(m.Studio.Moulds) > 0:
		mould, name := m.pickMould(float64(long.Centre()), float64(short.Centre()))
		m.plan.Mould, m.atAPull = name, max(1, deref(mould.AtAPull, 1))
		m.formedLong = figure.Choose(bk, "formed length of the mould", "{0} + {a}", []float64{mould.LongMM - float64(needLong.Centre())}, measure.Length(mould.LongMM), nil, needLong)
		m.formedShort = figure.Choose(bk, "formed breadth of the mould", "{0} + {a}", []float64{mould.ShortMM - float64(needShort.Centre())}, measure.Length(mould.ShortMM), nil, needShort)
	case m.edges == "trimmed":
		m.formedLong = figure.Enough(bk, "formed length, enough at the confidence asked", m.conf, 0, needLong)
		m.formedShort = figure.Enough(bk, "formed breadth, enough at the confidence asked", m.conf, 0, needShort)
	default:
		m.formedLong = figure.Choose(bk, "formed length", "{0}", nil, needLong.Centre(), needLong, needLong)
		m.formedShort = figure.Choose(bk, "formed breadth", "{0}", nil, needShort.Centre(), needShort, needShort)
	}
	m.dryLong = figure.Map2(bk, "dry length", "{0} × (1 − {1})", sheet.DryLength, m.formedLong, m.shrinkLong)
	m.dryShort = figure.Map2(bk, "dry breadth", "{0} × (1 − {1})", sheet.DryLength, m.formedShort, m.shrinkShort)
	m.formedArea = m.areaOf("formed area", m.formedLong, m.formedShort)
	aimLong := figure.Choose(bk, "dry length aimed at", "{0}", nil, m.dryLong.Centre(), nil, m.dryLong)
	aimShort := figure.Choose(bk, "dry breadth aimed at", "{0}", nil, m.dryShort.Centre(), nil, m.dryShort)
	m.aimArea = m.areaOf("dry area aimed at", aimLong, aimShort)
	m.set("formed_long_mm", m.formedLong.Figure())
	m.set("formed_short_mm", m.formedShort.Figure())
	m.set("dry_long_mm", m.dryLong.Figure())
	m.set("dry_short_mm", m.dryShort.Figure())
}

// areaOf is the area of the sheet's shape in a box of two sides.
func (m *maker) areaOf(what string, long, short figure.Col[measure.Length]) figure.Col[measure.Area] {
	fills := measure.Share(deref(m.Sheet.FillsPct, 0) / 100)
	working, shape := "{0} × {1} / 1000000", m.shape
	switch m.shape {
	case sheet.Round, sheet.Oval: // a round sheet dries oval where the ways shrink differently
		working, shape = "{0} × {1} × 0.785398 / 1000000", sheet.Oval
	case sheet.Odd:
		working = "{0} × {1} × " + strconv.FormatFloat(float64(fills), 'f', -1, 64) + " / 1000000"
	}
	return figure.Map2(m.bk, what, working, func(a, b measure.Length) (measure.Area, error) {
		return sheet.ShapeArea(shape, a, b, fills)
	}, long, short)
}

// filled is how much of its box the sheet's shape fills.
func (m *maker) filled() float64 {
	return float64(m.aimArea.Centre()) / float64(m.dryLong.Centre()) / float64(m.dryShort.Centre()) * 1e6
}

// shrinkage draws both ways together: one mean and one ratio, unless a way is
// fixed.
func (m *maker) shrinkage() {
	long, fixedLong := m.Known["shrink_long_pct"]
	short, fixedShort := m.Known["shrink_short_pct"]
	if !fixedLong || !fixedShort {
		mean := draw[measure.Shrinkage](m, "shrink_long_pct")
		ratio := draw[measure.Number](m, "shrink_short_pct")
		m.shrinkLong = figure.Map2(m.bk, "shrinkage along", "{0} × {1}", along, mean, ratio)
		m.shrinkShort = figure.Map2(m.bk, "shrinkage across", "{0} / {1}", across, mean, ratio)
	}
	fix := func(what string, p Pin) figure.Col[measure.Shrinkage] {
		return figure.Leaf(m.bk, what, measure.Shrinkage(p.Value/100), nil, "maker", p.Grade, "fixed by you")
	}
	if fixedLong {
		m.shrinkLong = fix("shrinkage along", long)
	}
	if fixedShort {
		m.shrinkShort = fix("shrinkage across", short)
	}
}

// mostShrinkage keeps a far draw inside what the size formulas allow.
const mostShrinkage = 0.55

func along(mean measure.Shrinkage, ratio measure.Number) (measure.Shrinkage, error) {
	return min(mean*measure.Shrinkage(ratio), mostShrinkage), nil
}

func across(mean measure.Shrinkage, ratio measure.Number) (measure.Shrinkage, error) {
	return min(mean/measure.Shrinkage(ratio), mostShrinkage), nil
}

// fits reports whether a dry size serves the brief: trimmed, it must hold the
// wanted size with its trim; with deckle edges it may fall short by the
// tolerance, and, where the formed size is free to choose, not pass it either.
func (m *maker) fits(dryLong, dryShort float64) bool {
	wantLong, wantShort := m.Sheet.LongMM, m.Sheet.ShortMM
	if m.edges == "trimmed" { // a scant edge can still be cut at half the trim
		return dryLong >= wantLong+m.trim && dryShort >= wantShort+m.trim
	}
	if dryLong < wantLong-m.toleranceLong || dryShort < wantShort-m.tolShort {
		return false
	}
	return len(m.Studio.Moulds) > 0 || dryLong <= wantLong+m.toleranceLong && dryShort <= wantShort+m.tolShort
}

// pickMould takes the smallest mould that gives the size with the wanted
// confidence; where none does, the one that gives it most often.
func (m *maker) pickMould(dryAimLong, dryAimShort float64) (Mould, string) {
	type judged struct {
		Mould
		share float64
	}
	list := make([]judged, len(m.Studio.Moulds))
	for i, mould := range m.Studio.Moulds {
		if mould.ShortMM > mould.LongMM {
			mould.LongMM, mould.ShortMM = mould.ShortMM, mould.LongMM
		}
		ok := 0
		for d := range m.bk.Draws() {
			if m.fits(mould.LongMM*(1-float64(m.shrinkLong.At(d))), mould.ShortMM*(1-float64(m.shrinkShort.At(d)))) {
				ok++
			}
		}
		list[i] = judged{mould, float64(ok) / float64(m.bk.Draws())}
	}
	slices.SortStableFunc(list, func(a, b judged) int {
		if goodA, goodB := a.share >= m.conf, b.share >= m.conf; goodA != goodB {
			if goodA {
				return -1
			}
			return 1
		} else if !goodA && a.share != b.share {
			return cmp.Compare(b.share, a.share)
		}
		return cmp.Compare(a.LongMM*a.ShortMM, b.LongMM*b.ShortMM)
	})
	best := list[0]
	dryLong := best.LongMM * (1 - float64(m.shrinkLong.Centre()))
	dryShort := best.ShortMM * (1 - float64(m.shrinkShort.Centre()))
	switch {
	case best.share == 0:
		m.noMould = true
		m.say("mould too small", "No mould gives %.0f × %.0f mm: the nearest, %s, dries to about %.0f × %.0f mm. It wants a mould of %.0f × %.0f mm inside the deckle.",
			m.Sheet.LongMM, m.Sheet.ShortMM, best.title(), dryLong, dryShort, dryAimLong/(1-float64(m.shrinkLong.Centre())), dryAimShort/(1-float64(m.shrinkShort.Centre())))
	case best.share < m.conf:
		m.say("mould close", "The mould %s gives the size in %.0f of 100 makings; %s were asked.", best.title(), best.share*100, short(m.conf*100))
	}
	if over := 1 - m.Sheet.LongMM*m.Sheet.ShortMM/(dryLong*dryShort); over > 0.02 {
		edge := ""
		if m.edges != "trimmed" {
			edge = ", and the deckle edge with it"
		}
		m.say("mould larger", "The mould %s dries to about %.0f × %.0f mm; cutting to %.0f × %.0f mm loses %.0f %% of each sheet%s.",
			best.title(), dryLong, dryShort, m.Sheet.LongMM, m.Sheet.ShortMM, over*100, edge)
	}
	return best.Mould, best.title()
}

// title is the mould's name, or its size.
func (m Mould) title() string {
	if m.Name != "" {
		return m.Name
	}
	return fmt.Sprintf("%.0f × %.0f mm", m.LongMM, m.ShortMM)
}

// say adds a warning.
func (m *maker) say(code, format string, args ...any) {
	m.plan.Warnings = append(m.plan.Warnings, Warning{Code: code, Text: fmt.Sprintf(format, args...)})
}

// qualities says what the sheet will be like: how thick and how dense.
func (m *maker) qualities() {
	if m.bk.Err() != nil {
		return
	}
	density := draw[measure.Density](m, "density_g_cm3")
	caliper := figure.Map2(m.bk, "caliper of the sheet", "{0} / {1} / 1000", sheet.Caliper, m.grammage, density)
	bulk := figure.Map2(m.bk, "bulk", "{1} × 1000 / {0}", sheet.Bulk, m.grammage, caliper)
	m.set("density_g_cm3", density.Figure())
	m.set("caliper_mm", caliper.Figure())
	m.set("bulk_cm3_g", bulk.Figure())
}

// crowd says how crowded the fibres of the vat are, where the handbook knows
// how long and how coarse they are.
func (m *maker) crowd() {
	if m.bk.Err() != nil {
		return
	}
	middle, low, high := 0.0, 0.0, 0.0 // λ²/d over the furnish, mm²/(mg/m)
	key := ""
	for _, p := range m.parts {
		if !p.Length.Known() || !p.Coarseness.Known() {
			return
		}
		of := func(length, coarse float64) float64 { return p.share * length * length / coarse }
		middle += of(p.Length.Mid, p.Coarseness.Mid)
		low += of(p.Length.Low, p.Coarseness.Mid)
		high += of(p.Length.High, p.Coarseness.Mid)
		key = p.Coarseness.Source
	}
	b := prior("crowding of "+m.signature, "squared length over coarseness of the fibres", bandBelief(low, middle, high), key)
	ratio := drawBelief[measure.Number](m, b.With(m.known))
	n := figure.Map2(m.bk, "crowding number of the vat", "5 × {0} / 10 × {1}", crowding, m.consistency, ratio)
	m.set("crowding", n.Figure())
}

// crowding is the crowding number of fibres by their squared length over their
// coarseness: that of fibres of 0.2 mg/m as long as gives the same.
func crowding(c measure.Consistency, ratio measure.Number) (measure.Number, error) {
	const coarse = 0.2
	return sheet.Crowding(c, measure.Length(math.Sqrt(coarse*float64(ratio))), coarse)
}
