package fibre

import (
	"math"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// MostHours is the longest beating the curves are drawn to, hours. The longest
// reported is 20 h of abaca (abaca-studio-log); the rest is a margin.
const MostHours measure.Hours = 24

// heldMost is the most a sheet dried held shrinks in all when it is let go,
// a fraction. From memory: 0–1.5 %; one measured flax sheet kept its size.
const heldMost = 0.015

// FreeShrinkage returns the linear shrinkage of a sheet dried unheld.
//
//	S(t) = S0 + (Smax − S0) · (1 − exp(−t/τ))
//
// Contract:
//
//   - Quantity: linear drying shrinkage of the formed length, a fraction
//   - Inputs: f a fibre of the table, with S0, Smax as fractions and τ in hours; hours of beating, h
//   - Valid: 0 ≤ hours ≤ 24; outside: fault.OutOfRange
//   - Assumes: a studio Hollander at 15–25 g/L with a moderate roll; the same shrinkage both ways; no filler
//   - Error: ±40 % for the fibres of the table, ±50 % denim, ±60 % for those drawn through a range, ±70 % for those taken as a near one (Fibre.ShrinkBand)
//   - Source: memory, held by drying-flax-2006 at one point; docs/models/fibre.md
//   - Checked: flax at 9.25 h against drying-flax-2006; properties: rises with the hours, stays between S0 and Smax
func FreeShrinkage(f Fibre, hours measure.Hours) (measure.Shrinkage, error) {
	if !finite(float64(hours), 0, float64(MostHours)) {
		return 0, fault.OutOfRange("beating_hours", "beating must be between 0 and %g hours", float64(MostHours))
	}
	if !f.ShrinkTau.Known() || f.ShrinkTau.Mid <= 0 {
		return 0, fault.Invalid("fibre", "%q has no shrinkage curve: take a fibre of the table", f.Name)
	}
	return measure.Shrinkage(f.curve(f.ShrinkStart.Mid, f.ShrinkMost.Mid, hours)), nil
}

// curve is the shape all fibres share.
func (f Fibre) curve(start, most float64, hours measure.Hours) float64 {
	return start + (most-start)*f.degree(hours)
}

// degree is how far the fibre is beaten: 0 unbeaten, 1 after endless beating.
func (f Fibre) degree(hours measure.Hours) float64 {
	return -math.Expm1(-float64(hours) / f.ShrinkTau.Mid)
}

// FreeShrinkageBand returns FreeShrinkage with its band, source and grade.
//
// Contract:
//
//   - Quantity: linear drying shrinkage of the formed length and its nine-in-ten band, fractions
//   - Inputs: f a fibre of the table; hours of beating, h
//   - Valid: 0 ≤ hours ≤ 24; outside: fault.OutOfRange
//   - Assumes: as FreeShrinkage; the band scales the whole curve and keeps its shape
//   - Error: the band is a judgement from memory, not a measured spread
//   - Source: memory; docs/models/fibre.md
//   - Checked: the measured flax sheet lies within the band; property: low ≤ middle ≤ high
func FreeShrinkageBand(f Fibre, hours measure.Hours) (source.Value, error) {
	mid, err := FreeShrinkage(f, hours)
	if err != nil {
		return source.Value{}, err
	}
	return source.Value{
		Low: float64(mid) * (1 - f.ShrinkBand), Mid: float64(mid), High: float64(mid) * (1 + f.ShrinkBand),
		Source: f.ShrinkMost.Source, Grade: source.Worse(f.ShrinkStart.Grade, f.ShrinkMost.Grade), Note: f.ShrinkNote,
	}, nil
}

// Dryings are the ways of drying, the freest last.
func Dryings() []string { return []string{"stack", "exchange", "board", "loft", "free"} }

// DryingHold returns the share of the free shrinkage that remains when the
// sheet is dried in that way: 1 is unheld, 0 is fully held.
//
// Contract:
//
//   - Quantity: shrinkage that remains over free shrinkage, a fraction
//   - Inputs: kind of drying, one of Dryings
//   - Valid: stack, exchange, board, loft, free; other words: fault.Invalid
//   - Assumes: sheets well pressed before they are dried held, and held until dry
//   - Error: the band; loft and exchange depend on weight, size and edge
//   - Source: memory; stack and free by drying-flax-2006
//   - Checked: the held sheet of drying-flax-2006 kept its size (0); property: stack ≤ exchange ≤ loft ≤ free
func DryingHold(kind string) (source.Value, error) {
	measured, memory := source.Must("drying-flax-2006"), source.Must(source.KeyMemory)
	switch strings.TrimSpace(kind) {
	case "free":
		return source.Value{Low: 1, Mid: 1, High: 1, Source: measured.Key, Grade: measured.Grade, Note: "the sheet the others are compared with"}, nil
	case "loft":
		return source.Value{Low: 0.8, Mid: 0.9, High: 1, Source: memory.Key, Grade: memory.Grade, Note: "hung, or laid over cord in spurs"}, nil
	case "exchange":
		return source.Value{Low: 0.1, Mid: 0.2, High: 0.3, Source: memory.Key, Grade: memory.Grade, Note: "between changed blotters under a light weight"}, nil
	case "stack":
		return source.Value{Low: 0, Mid: 0.02, High: 0.05, Source: memory.Key, Grade: memory.Grade, Note: "between blotters and boards under pressure; a measured flax sheet kept its size"}, nil
	case "board":
		return source.Value{Low: 0, Mid: 0.02, High: 0.05, Source: memory.Key, Grade: memory.Grade, Note: "brushed on a board or on glass"}, nil
	}
	return source.Value{}, fault.Invalid("drying", "%q is not a way of drying; the ways are %s", kind, strings.Join(Dryings(), ", "))
}

// DriedShrinkage returns the shrinkage that remains of a free shrinkage.
//
// Contract:
//
//   - Quantity: linear drying shrinkage of the formed length, a fraction
//   - Inputs: free shrinkage, a fraction; hold, the share of it that remains (DryingHold)
//   - Valid: 0 ≤ free < 0.5; 0 ≤ hold ≤ 1; outside: fault.OutOfRange
//   - Assumes: holding takes the same share off any shrinkage
//   - Error: that of hold
//   - Source: derived, docs/models/fibre.md
//   - Checked: 0 and 1 give none and all; property: never more than free
func DriedShrinkage(free measure.Shrinkage, hold measure.Share) (measure.Shrinkage, error) {
	if math.IsNaN(float64(free)) || free < 0 || free >= 0.5 {
		return 0, fault.OutOfRange("shrinkage", "free shrinkage must be at least 0 and below 50 %%")
	}
	if !finite(float64(hold), 0, 1) {
		return 0, fault.OutOfRange("hold", "the share of shrinkage that remains must be between 0 and 1")
	}
	return free * measure.Shrinkage(hold), nil
}

// DriedShrinkageBand returns the shrinkage of a fibre, beaten so long and dried
// so, with its band. Held sheets (stack, board) spring back when let go: their
// band is 0–1.5 % whatever the pulp, but never more than free drying gives.
//
// Contract:
//
//   - Quantity: linear drying shrinkage of the formed length and its nine-in-ten band, fractions
//   - Inputs: f a fibre of the table; hours of beating, h; kind of drying, one of Dryings
//   - Valid: 0 ≤ hours ≤ 24: else fault.OutOfRange; other words for drying: fault.Invalid
//   - Assumes: the ends of the two bands fall together, which is wider than nine in ten
//   - Error: the band
//   - Source: memory; held sheets by drying-flax-2006; docs/models/fibre.md
//   - Checked: both sheets of drying-flax-2006 lie within; property: low ≤ middle ≤ high ≤ the free band
func DriedShrinkageBand(f Fibre, hours measure.Hours, kind string) (source.Value, error) {
	free, err := FreeShrinkageBand(f, hours)
	if err != nil {
		return source.Value{}, err
	}
	hold, err := DryingHold(kind)
	if err != nil {
		return source.Value{}, err
	}
	v := source.Value{Source: free.Source, Grade: source.Worse(free.Grade, hold.Grade), Note: hold.Note}
	if k := strings.TrimSpace(kind); k == "stack" || k == "board" {
		v.High = min(heldMost, free.High)
		v.Mid = v.High / 2
		return v, nil
	}
	v.Low, v.Mid, v.High = free.Low*hold.Low, free.Mid*hold.Mid, free.High*hold.High
	return v, nil
}

// cockling is the free linear shrinkage from which a sheet dried unheld no
// longer lies flat, a fraction. Common practice, without a published number:
// rag beaten for loan, 6–7 %, is still dried in the loft; linen, flax and abaca
// as usually beaten, 8 % and more, are dried under pressure.
const cockling = 0.08

// Cockles reports whether flat work of this fibre, beaten so long, must be
// dried held: in the stack, between exchanged blotters or on a board.
//
//	S(t) ≥ 8 %
//
// Contract:
//
//   - Quantity: whether a sheet dried unheld (loft, free) cockles and distorts
//   - Inputs: f a fibre of the table; hours of beating, h
//   - Valid: 0 ≤ hours ≤ 24; outside, and for a fibre without a curve: true, the careful answer
//   - Assumes: as FreeShrinkage, taken at the middle of its band; a sheet of usual weight
//   - Error: the threshold is a judgement; thin and large sheets cockle sooner
//   - Source: practice; the threshold itself has no print
//   - Checked: linen, flax, hemp and abaca at their usual beat do, cotton and bamboo never; property: once beaten so far, always
func Cockles(f Fibre, hours measure.Hours) bool {
	free, err := FreeShrinkage(f, hours)
	return err != nil || free >= cockling
}
