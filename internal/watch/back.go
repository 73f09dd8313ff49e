package watch

import (
	"math"
	"slices"

	"vatside/internal/measure"
	"vatside/internal/num"
	"vatside/internal/studio"
)

// Past is a run looked back on: what each sheet weighs by all that is known now,
// what happened between the sheets, and how each weighing lay to what was
// expected before it.
type Past struct {
	Sheets    []Sheet
	Posts     []int // by sheet
	Wanted    measure.GrammageConditioned
	Tolerance float64 // a fraction
	Marks     []Mark
	Weighings []Weighing // of sheets, those that were believed
	Strange   []Weighing // those that were not
	Averages  num.Weighted
	Fed       bool // stock was poured in, as far as is written down

	Within  float64 // share of the sheets within the tolerance
	Scatter float64 // of the sheets about their mean, a fraction; 0: of one sheet
	Drifts  []Drift // none: nothing beyond chance
	Stopped error   // what the run could not be followed past
}

// Mark is an entry that bears on the vat, after so many sheets.
type Mark struct {
	After   int
	EventID string
}

// Weighing is sheets weighed together, over what was expected of them just
// before.
type Weighing struct {
	EventID     string
	After       int // sheets couched by then
	First, Last int
	Off         float64 // fraction
	Usual       float64 // what chance makes of such a weighing, a standard deviation
	Apart       float64 // off in those
}

// Drift is sheets that weigh other than expected, longer than chance makes
// them. A run learns, so that what is expected soon follows them: from where on
// can be told, not until where.
type Drift struct {
	From  int // the first sheet of the weighing it most likely began with
	Light bool
}

// MostApart is how far off a single weighing lies by chance, in what is usual.
const MostApart = 3

// Beyond reports whether a weighing lies further off than chance makes it.
func (w Weighing) Beyond() bool { return math.Abs(w.Apart) > MostApart }

// Limits are between what a weighing such as this lies by chance, as fractions.
func (w Weighing) Limits() (low, high float64) {
	return math.Expm1(-MostApart * w.Usual), math.Expm1(MostApart * w.Usual)
}

// Back looks back on a making's run. Errors: as studio.Follow.
func Back(m studio.Making, events []studio.Event) (Past, error) {
	v, err := studio.Follow(m, events)
	if err != nil {
		return Past{}, err
	}
	n := v.Run.Pulled()
	p := Past{Posts: v.Posts[:n], Tolerance: m.Request.Paper.Tolerance(), Wanted: v.Conditioned(m, v.Prior.Target), Fed: v.Fed > 0, Stopped: v.Stopped}
	for i := range n {
		b, err := v.Run.Sheet(i + 1)
		if err != nil {
			return Past{}, err
		}
		p.Sheets = append(p.Sheets, *sheetOf(m, v, i+1, b))
	}
	if n > 0 {
		if p.Within, err = v.Run.Within(p.Tolerance); err != nil {
			return Past{}, err
		}
	}
	if n > 1 {
		if p.Scatter, err = v.Run.Scatter(); err != nil {
			return Past{}, err
		}
	}
	p.happened(v)
	p.drifts()
	return p, nil
}

// happened puts entries and weighings between the sheets.
func (p *Past) happened(v studio.Vat) {
	after := make([]int, len(v.IDs))
	couched := 0
	for i, id := range v.IDs {
		if after[i] = couched; id == "" {
			couched++
		} else if i == 0 || v.IDs[i-1] != id { // one entry may be several events
			p.Marks = append(p.Marks, Mark{couched, id})
		}
	}
	for _, r := range v.Run.Readings() {
		if r.First == 0 || r.Event >= len(v.IDs) {
			continue
		}
		w := Weighing{v.IDs[r.Event], after[r.Event], r.First, r.Last, math.Expm1(r.Off), r.Spread, r.Off / r.Spread}
		if r.Believed {
			p.Weighings = append(p.Weighings, w)
		} else {
			p.Strange = append(p.Strange, w)
		}
	}
}

// drifts charts the weighings and says since when, if ever, the sheets weigh
// other than expected. What was expected of a weighing has learned from those
// before it, so that chance alone scatters all by one about nothing: centre and
// sigma need not be guessed from a handful of them.
func (p *Past) drifts() {
	apart := make([]float64, len(p.Weighings))
	for i, w := range p.Weighings {
		apart[i] = w.Apart
	}
	c, err := num.NewWeighted(apart, 0, 1, num.UsualWeight, num.UsualWidth)
	if err != nil {
		return // nothing was weighed
	}
	p.Averages = c
	began := 0 // where the last one was seen
	for n, i := range c.Out {
		if n > 0 && !turned(c.Averages[c.Out[n-1]:i+1]) {
			continue // the same still
		}
		p.Drifts = append(p.Drifts, Drift{From: p.Weighings[max(began, c.Began(i))].First, Light: c.Averages[i] < 0})
		began = i
	}
}

// turned reports whether averages lie on both sides of the centre.
func turned(list []float64) bool {
	return slices.Min(list) < 0 && slices.Max(list) > 0
}

// Told reports whether a run can be spoken of beside others: it was followed to
// its end, and something of it was weighed.
func (p Past) Told() bool { return p.Stopped == nil && len(p.Weighings) > 0 && len(p.Sheets) > 1 }
