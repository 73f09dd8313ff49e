package beating

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Scale is what slowness is read on. Nothing is converted from one to another:
// no standard has such a formula, and the trade's charts differ by a quarter.
type Scale int

// The scales.
const (
	ByDrainTime       Scale = iota // the studio's own test: seconds at 20 °C and the agreed consistency
	BySchopperRiegler              // degrees
	ByFreeness                     // mL CSF
)

// scale is what a curve must know of one: on its line, slowness rises straight
// with the hours.
//
// Both testers give a share of their litre at the side; the logit of the share
// that did not come there is the line, so that it stays within the scale. For
// freeness that form is our choice: it makes the two testers alike.
type scale struct {
	key, name, what, unit string
	low, high             float64 // readings that are taken
	noise                 float64 // sd of one reading beside the curve, of logit scales in their unit, of a drain time as a share; from memory
	whole                 float64 // of logit scales: the end of slowness; 0: logarithmic
	falls                 bool    // the reading falls as slowness rises
	start                 float64 // unbeaten, from memory
	startSD               float64 // on the line: from one studio, pulp and mesh to another, from memory
	usual                 [4]float64
}

// The usual slowness is that after the usual hours of a fibre that drains
// fast, moderately, slowly or very slowly; all from memory. A drain time is
// doubled when stock is called slow, and times five for sculpture.
var scales = [...]scale{
	ByDrainTime:       {"drain_seconds", "drain time", "the drain time", "s", float64(leastDrain), float64(mostDrain), 0.07, 0, false, 20, 1.2, [4]float64{26, 32, 40, 70}},
	BySchopperRiegler: {"schopper_riegler", "Schopper-Riegler", "the slowness", "°SR", float64(SlownessLeast), float64(SlownessMost), 2, 100, false, 15, 0.35, [4]float64{22, 30, 40, 55}},
	ByFreeness:        {"freeness_ml", "freeness", "the freeness", "mL", float64(FreenessLeast), float64(FreenessMost), 20, testerVolume, true, 650, 0.35, [4]float64{550, 450, 350, 200}},
}

// drainages are the words of the fibre table, in the order of usual.
var drainages = [...]string{"fast", "moderate", "slow", "very slow"}

// rateSpread is the sd of the logarithm of the handbook's rate: the hours of
// one fibre differ by half, and bars, roll and load change them as much again.
// From memory; nine studios in ten are within a factor 2.3 either way.
const rateSpread = 0.5

func (s Scale) of() (scale, error) {
	if s < 0 || int(s) >= len(scales) {
		return scale{}, fault.Invalid("scale", "slowness is read as drain time, Schopper-Riegler degrees or freeness")
	}
	return scales[s], nil
}

// String returns the scale's name.
func (s Scale) String() string {
	sc, err := s.of()
	if err != nil {
		return "unknown scale"
	}
	return sc.name
}

// Unit returns the unit that readings on the scale are stated in.
func (s Scale) Unit() string {
	sc, _ := s.of()
	return sc.unit
}

// MarshalText writes the key that records and requests name the scale by.
func (s Scale) MarshalText() ([]byte, error) {
	sc, err := s.of()
	return []byte(sc.key), err
}

// UnmarshalText reads it.
func (s *Scale) UnmarshalText(b []byte) error {
	for i, sc := range scales {
		if sc.key == string(b) {
			*s = Scale(i)
			return nil
		}
	}
	return fault.Invalid("scale", "slowness is read as drain_seconds, schopper_riegler or freeness_ml")
}

// line takes a reading to where it rises straight with the hours.
func (s scale) line(v float64) float64 {
	switch {
	case s.whole == 0:
		return math.Log(v)
	case s.falls:
		return math.Log((s.whole - v) / v)
	default:
		return math.Log(v / (s.whole - v))
	}
}

// back is the inverse of line.
func (s scale) back(x float64) float64 {
	switch {
	case s.whole == 0:
		return math.Exp(x)
	case s.falls:
		return s.whole / (1 + math.Exp(x))
	default:
		return s.whole / (1 + math.Exp(-x))
	}
}

// end is the most that a curve is drawn to.
func (s scale) end() float64 {
	if s.whole == 0 {
		return s.high
	}
	return s.whole
}

// sd is what one reading is off by, on the line.
func (s scale) sd(v float64) float64 {
	if s.whole == 0 {
		return s.noise
	}
	return s.noise * s.whole / (v * (s.whole - v)) // the slope of the logit
}

func (s scale) check(field string, v float64) error {
	return measure.Inside(field, s.what, v, s.low, s.high, s.unit)
}

// Rate is how fast slowness rises on its line: the slope of logit or logarithm
// per hour, and the standard deviation of the logarithm of that slope.
type Rate struct{ Mid, Spread float64 }

// HandbookRate returns the rate at which the usual hours of a fibre bring it
// from unbeaten to the slowness it is usually used at; all from memory but
// some of the hours, and wide.
func HandbookRate(s Scale, f fibre.Fibre) (Rate, error) {
	sc, err := s.of()
	if err != nil {
		return Rate{}, err
	}
	hours, err := HoursForUse(f, "")
	if err != nil {
		return Rate{}, err
	}
	for i, word := range drainages {
		if word == f.Drainage {
			mean := (sc.line(sc.usual[i]) - sc.line(sc.start)) / hours.Mid
			return Rate{mean, rateSpread}, nil
		}
	}
	return Rate{}, fault.Invalid("fibre", "it is not known how %s drains: take a fibre of the table", f.Name)
}
