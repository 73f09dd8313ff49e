package run

import (
	"math"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Event is one thing that happened at the vat. Sheets are counted from 1 as they
// are couched.
type Event interface {
	happen(r *Run, n int) error // n: the place of the event in the run
}

// Pulled is a sheet couched; kissed off, it went back and is not counted.
type Pulled struct{ KissedOff bool }

// Recharged is stock poured in.
type Recharged struct{ Stock measure.Volume }

// Watered is water put in or, negative, taken off through a strainer.
type Watered struct{ Water measure.Volume }

// Scooped is stock taken off the vat as it is, with its fibre.
type Scooped struct{ Taken measure.Volume }

// Weighed is what some sheets weigh together, bone-dry or, Wet, as they come
// from the press. Where nobody knows which of the sheets they were, Of says how
// many of them lay on the scale; 0: all. Sure says that the maker was asked and
// stands by it.
type Weighed struct {
	Sheets []int
	Mass   measure.Mass
	Of     int
	Wet    bool
	Sure   bool
}

// Levelled is the level read off the vat's mark.
type Levelled struct{ Water measure.Volume }

// Strained is a part of the vat strained, pressed and dried.
type Strained struct {
	Taken measure.Volume
	Mass  measure.Mass // bone-dry
	Sure  bool
}

// Corrected puts right the event at a place, counted from 0: By happened
// instead, or, if nil, nothing.
type Corrected struct {
	Event int
	By    Event
}

func (e Pulled) happen(r *Run, _ int) error {
	if e.KissedOff {
		return nil
	}
	if r.f.pulled() >= mostSheets {
		return fault.OutOfRange("sheets", "A run is followed over at most %d sheets: begin a new one.", mostSheets)
	}
	if m := r.f.next(); math.Exp(m-r.f.at[fibre]) > 0.5 || math.Exp(m+r.f.at[offing]-r.f.at[water]) > 0.5 {
		return fault.Infeasible("vat_l", "The vat cannot hold another such sheet: before sheet %d it has about %.3g L with %.3g g of fibre. Was a recharge not noted?", r.f.pulled()+1, math.Exp(r.f.at[water]), math.Exp(r.f.at[fibre]))
	}
	r.f.pull()
	return nil
}

func (e Recharged) happen(r *Run, n int) error {
	if err := volume("stock_l", e.Stock); err != nil {
		return err
	}
	if e.Stock > 0 {
		r.f.recharge(float64(e.Stock), n)
	}
	return nil
}

func (e Watered) happen(r *Run, _ int) error {
	if !measure.Within(e.Water, -5000, 5000) {
		return fault.OutOfRange("water_l", "Water put in or taken off must be between −5,000 and 5,000 L; this says %.4g L.", float64(e.Water))
	}
	if e.Water < 0 {
		if err := r.holds(-e.Water); err != nil {
			return err
		}
	}
	r.f.level(float64(e.Water))
	return nil
}

func (e Scooped) happen(r *Run, _ int) error {
	if err := volume("taken_l", e.Taken); err != nil {
		return err
	}
	if err := r.holds(e.Taken); err != nil {
		return err
	}
	r.f.scoop(float64(e.Taken))
	return nil
}

func (e Weighed) happen(r *Run, n int) error {
	if !measure.Within(e.Mass, 0.001, 1e6) {
		return fault.OutOfRange("grams", "Weighed sheets must come to between 0.001 g and 1 t; this says %.4g g.", float64(e.Mass))
	}
	if len(e.Sheets) == 0 {
		return fault.Invalid("sheets", "Say which sheets were weighed.")
	}
	seen, total := map[int]bool{}, 0.0
	for _, s := range e.Sheets {
		if s < 1 || s > r.f.pulled() || seen[s] {
			return fault.Invalid("sheets", "Name each sheet once, from 1 to the last pulled, %d; this says %d.", r.f.pulled(), s)
		}
		seen[s] = true
		total += math.Exp(r.f.at[sheets+s-1])
	}
	all, lay := float64(len(e.Sheets)), float64(len(e.Sheets))
	if e.Of != 0 {
		if e.Of < 1 || e.Of > len(e.Sheets) {
			return fault.OutOfRange("sheets", "Of %d sheets 1 to %d can lie on the scale; this says %d.", len(e.Sheets), len(e.Sheets), e.Of)
		}
		lay = float64(e.Of)
	}
	of := make([]term, len(e.Sheets), len(e.Sheets)+1)
	for i, s := range e.Sheets {
		of[i] = term{sheets + s - 1, math.Exp(r.f.at[sheets+s-1]) / total}
	}
	off := ln(float64(e.Mass)) - ln(total*lay/all)
	noise := square(float64(r.p.Scale)/float64(e.Mass)) + square(r.p.Drying) + square(r.p.Hand)*(1/lay-1/all) // some, drawn from all
	if e.Wet {
		if r.p.Pressed == 0 {
			return fault.Invalid("grams", "Of sheets from the press nothing can be told: it is not known how wet they come from it.")
		}
		of, off = append(of, term{press, -1}), off+r.f.at[press]
	}
	if r.take(n, off, of, noise, e.Sure) {
		r.f.weighed += int(lay)
	}
	told := &r.readings[len(r.readings)-1]
	told.First, told.Last = slices.Min(e.Sheets), slices.Max(e.Sheets)
	return nil
}

// levelReading is how well a level is read off a mark, a fraction. Ours: half a
// centimetre of thirty.
const levelReading = 0.015

func (e Levelled) happen(r *Run, n int) error {
	if !measure.Within(e.Water, 0.2, 5000) {
		return fault.OutOfRange("level_l", "The level of a vat must be between 0.2 and 5,000 L; this says %.4g L.", float64(e.Water))
	}
	r.take(n, ln(float64(e.Water))-r.f.at[water], []term{{water, 1}}, square(levelReading), true)
	return nil
}

func (e Strained) happen(r *Run, n int) error {
	if err := volume("taken_l", e.Taken); err != nil {
		return err
	}
	if err := r.holds(e.Taken); err != nil {
		return err
	}
	if !measure.Within(e.Mass, 0.001, 1e6) || e.Taken == 0 {
		return fault.OutOfRange("grams", "A strained part of the vat must be above 0 L and hold between 0.001 g and 1 t; this says %.4g g of %.4g L.", float64(e.Mass), float64(e.Taken))
	}
	strong := ln(float64(e.Mass)) - ln(float64(e.Taken))
	r.take(n, strong-(r.f.at[fibre]-r.f.at[water]), []term{{fibre, 1}, {water, -1}}, square(float64(r.p.Scale)/float64(e.Mass))+square(r.p.LitreDoubt), e.Sure)
	r.f.scoop(float64(e.Taken))
	return nil
}

func (e Corrected) happen(*Run, int) error { return nil } // it has been put in its place

func volume(key string, v measure.Volume) error {
	if !measure.Within(v, 0, 5000) {
		return fault.OutOfRange(key, "A volume at the vat must be between 0 and 5,000 L; this says %.4g L.", float64(v))
	}
	return nil
}

// mostTaken is the part of the vat that can be taken off at once. Ours: the rest
// is hardly stirred.
const mostTaken = 0.9

// holds refuses to take off more than that.
func (r *Run) holds(v measure.Volume) error {
	if in := math.Exp(r.f.at[water]); float64(v) > mostTaken*in {
		return fault.Infeasible("taken_l", "There are about %.3g L in the vat: %.3g L cannot be taken off.", in, float64(v))
	}
	return nil
}

// askFrom is how many standard deviations a reading may be off before the
// maker is asked about it: one honest reading in two thousand is.
const askFrom = 3.5

// leastNoise is the variance of the best reading: nothing is weighed to better
// than a ten-thousandth, and an exact one would leave nothing to divide by.
const leastNoise = 1e-8

// take believes a reading, or asks about it first.
func (r *Run) take(n int, off float64, of []term, noise float64, sure bool) bool {
	noise += leastNoise
	spread := math.Sqrt(r.f.variance(of) + noise)
	z := off / spread
	asked := !sure && math.Abs(z) > askFrom
	r.readings = append(r.readings, Reading{Event: n, Off: off, Spread: spread, Believed: !asked})
	if asked {
		r.asks = append(r.asks, Ask{Event: n, Off: math.Expm1(off), Apart: z})
		return false
	}
	r.f.observe(off, of, noise)
	return true
}

func square(v float64) float64 { return v * v }
