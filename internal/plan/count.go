package plan

import (
	"fmt"
	"math"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/num"
)

// mostPulls bounds the search for enough sheets.
const mostPulls = 200000

// riskShare is how the risk that a promise is not kept is shared out: a third
// each to too few good sheets, too little fibre, and size and weight.
const riskShare = 3

// chance returns the chance that of n couched sheets enough come good.
func (m *maker) chance() func(n int) float64 {
	lost := m.by["lost_later_pct"]
	if lost.Pin != nil {
		return func(n int) float64 { return num.AtLeast(m.good, n, 1-lost.Pin.Value) }
	}
	a, b := lost.NextBeta() // of losses
	return func(n int) float64 { return num.AtLeastUncertain(m.good, n, b, a) }
}

// middle enters the centre of the belief of a known key, where chance knows its
// spread.
func middle[T measure.Quantity](m *maker, key string) figure.Col[T] {
	c := belief.Middle[T](m.bk, m.by[key])
	m.leaf[key] = c
	return c
}

// count decides how many sheets to couch and to pull.
func (m *maker) count() {
	if m.bk.Err() != nil {
		return
	}
	bk := m.bk
	lost := middle[measure.Share](m, "lost_later_pct")
	conf := m.countConfidence()
	chance := m.chance()
	n, ok := num.Fewest(m.good, mostPulls, conf, chance)
	if !ok {
		m.say("losses", "So many sheets are lost later that no number of pulls gives %d good ones with the confidence asked.", m.good)
	}
	wanted := given(m, "good sheets wanted", measure.Sheets(m.good), "brief")
	note := fmt.Sprintf("fewest sheets of which at least %d come good with a chance of %.1f %% or more: %d give %.1f %%, %d give %.1f %%",
		m.good, conf*100, n, chance(n)*100, n-1, chance(n-1)*100)
	run := figure.Choose(bk, "sheets for the run", "{0} + {a}", []float64{float64(n - m.good)}, measure.Sheets(n), nil, wanted, lost).Note(note)
	tests := given(m, "test sheets before it", measure.Sheets(m.tests), "brief")
	m.couchedSheets = figure.Choose(bk, "sheets to couch", "{0} + {1}", nil, measure.Sheets(n+m.tests), nil, run, tests)
	kissed := middle[measure.Share](m, "kissed_off_pct")
	extra := math.Ceil(float64(n+m.tests)*(1/(1-float64(kissed.Centre()))-1) - 1e-9)
	pulls := figure.Choose(bk, "sheets to pull", "{0} + {a}", []float64{extra}, measure.Sheets(n+m.tests)+measure.Sheets(extra), nil, m.couchedSheets, kissed).
		Note("kissed-off sheets go back into the vat and are pulled again")
	m.set("sheets_couched", m.couchedSheets.Figure())
	m.set("sheets_to_pull", pulls.Figure())
}

// countConfidence is the confidence the count alone must keep: the brief's
// where nothing else is uncertain, else the brief's with only its share of the
// risk, because size, weight and fibre take theirs. It hangs neither on how
// many sheets are asked for nor on how risky the rest is: what cannot be kept
// by pulling more is not pulled for.
func (m *maker) countConfidence() float64 {
	if m.shrinkLong.Certain() && m.shrinkShort.Certain() && m.moisture.Certain() && m.retained.Certain() &&
		m.depth.Certain() && m.lot.Certain() && m.loss.Certain() {
		return m.conf
	}
	return 1 - (1-m.conf)/riskShare
}

// promise says how often the plan keeps what the brief asks: enough good
// sheets, of the size, their mean weight within the tolerance.
func (m *maker) promise() {
	if m.bk.Err() != nil {
		return
	}
	chance, want := m.chance(), int(m.couchedSheets.Centre())
	cache := map[int]float64{}
	sum, size, weight, fibre := 0.0, 0, 0, 0
	for i := range m.bk.Draws() {
		okSize := m.fits(float64(m.dryLong.At(i)), float64(m.dryShort.At(i)))
		okWeight := math.Abs(float64(m.grammage.At(i))/m.Paper.GrammageConditioned-1) <= m.tolerance
		n := want
		if m.need.At(i) > m.weigh.Centre()+1e-9 {
			n = m.sheetsFrom(i)
			fibre++
		}
		if !okSize {
			size++
		}
		if !okWeight {
			weight++
		}
		if okSize && okWeight {
			c, ok := cache[n]
			if !ok {
				c = chance(max(0, n-m.tests))
				cache[n] = c
			}
			sum += c
		}
	}
	draws := float64(m.bk.Draws())
	kept := sum / draws
	note := fmt.Sprintf("enough good sheets %.1f %%; size %.1f %%; weight %.1f %%; fibre enough %.1f %%",
		chance(want-m.tests)*100, 100-100*float64(size)/draws, 100-100*float64(weight)/draws, 100-100*float64(fibre)/draws)
	p := figure.Choose(m.bk, "how often the promise is kept", "{a}", []float64{kept}, measure.Share(kept), nil,
		m.couchedSheets, m.grammage, m.dryLong, m.dryShort, m.need).Note(note)
	f := p.Figure().Percent()
	f.Kind = figure.Outcome
	m.set("promise_pct", f)
	if kept < m.conf-0.01 {
		m.say("promise", "This plan keeps the promise in about %.0f of 100 makings; %s were asked. What costs most: %s.", kept*100, short(m.conf*100), m.weakest(size, weight, fibre))
	}
}

func (m *maker) weakest(size, weight, fibre int) string {
	switch {
	case size >= weight && size >= fibre && m.noMould:
		return "the dry size, which no mould gives"
	case size >= weight && size >= fibre:
		return "the dry size, which rests on " + told(m.by["shrink_long_pct"])
	case weight >= fibre:
		return "the weight of the sheets, which rests on " + told(m.by["effective_depth_mm"])
	default:
		return "the fibre that may be needed"
	}
}

func told(b belief.Belief) string {
	if b.Pin != nil {
		return "what you have fixed"
	}
	if b.Count() == 0 {
		return "the handbook only: try one sheet first"
	}
	return "what you have measured"
}
