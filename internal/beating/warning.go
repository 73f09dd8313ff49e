package beating

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// The thinnest and the thickest load that anybody is on record with, g/L:
// 227 g in 18.9 L (home-beater-page) and 1.36 kg in 26.5 L (hollander-test-page).
// One maker each, good to the last printed digit.
const (
	ThinnestLoad measure.Consistency = 12
	ThickestLoad measure.Consistency = 51
)

// longShare is the part of a beater's rating that long raw fibre is loaded to:
// 18 g/L in a tub rated 24 g/L (drying-flax-2006). One maker; ±0.1 from memory.
const longShare = 0.75

// leastFilling is the part of the full load under which the roll hardly moves
// the stock round. From memory, 0.4–0.6.
const leastFilling = 0.5

// Warning is what speaks against a load: a code for programs, a sentence for
// people, and the source it rests on.
type Warning struct {
	Code   string
	Text   string
	Source string
}

// Overload returns the warning for a load thicker than any on record, and
// whether there is one.
func Overload(c measure.Consistency) (Warning, bool) {
	// Not above, rather than at most: a NaN must not pass in silence.
	if c <= ThickestLoad {
		return Warning{}, false
	}
	return Warning{
		Code: "beater-overload",
		Text: fmt.Sprintf("%.0f g/L is thicker than any beater load on record (%g–%g g/L): it will stop going round. Many small beaters stall above 20–25 g/L.",
			float64(c), float64(ThinnestLoad), float64(ThickestLoad)),
		Source: "hollander-test-page",
	}, true
}

// TooThin returns the warning for a load thinner than any on record, and
// whether there is one.
func TooThin(c measure.Consistency) (Warning, bool) {
	if c >= ThinnestLoad {
		return Warning{}, false
	}
	return Warning{
		Code: "beater-thin",
		Text: fmt.Sprintf("%.1f g/L is thinner than any beater load on record (%g–%g g/L): thin stock is cut rather than brushed.",
			float64(c), float64(ThinnestLoad), float64(ThickestLoad)),
		Source: "home-beater-page",
	}, true
}

// Underfilled returns the warning for a load so small that the beater may not
// carry it round, and whether there is one.
func Underfilled(load, rated measure.Mass) (Warning, bool) {
	if load >= leastFilling*rated {
		return Warning{}, false
	}
	return Warning{
		Code: "beater-underfilled",
		Text: fmt.Sprintf("%.0f g is under half of the beater's %.0f g: with the water scaled down the roll may not carry it round. Beat a full load and keep the rest, or use more water and watch for shortening.",
			float64(load), float64(rated)),
		Source: "memory",
	}, true
}

// OverRating returns the warning for a load over the machine's own rating, and
// whether there is one.
func OverRating(load, rated measure.Mass) (Warning, bool) {
	if load <= rated*(1+slack) {
		return Warning{}, false
	}
	return Warning{
		Code:   "beater-over-rating",
		Text:   fmt.Sprintf("%.0f g is over the %.0f g that this machine takes: it stalls or overheats. Make more loads.", float64(load), float64(rated)),
		Source: "denim-stalled-account",
	}, true
}

// Wraps returns the warning for a long fibre loaded close to the beater's
// rating, and whether there is one.
func Wraps(f fibre.Fibre, load, rated measure.Mass) (Warning, bool) {
	if !f.LongFibre || load <= longShare*rated {
		return Warning{}, false
	}
	return Warning{
		Code: "beater-wrap",
		Text: fmt.Sprintf("%s is long and wraps round the roll: one maker loads raw flax to three quarters of the rating, here %.0f g, and takes half an hour over it. Cut it short.",
			capital(f.Name), longShare*float64(rated)),
		Source: "drying-flax-2006",
	}, true
}

// capital begins a name with a capital: a maker's own fibre may have any letter.
func capital(name string) string {
	r, n := utf8.DecodeRuneInString(name)
	if n == 0 {
		return name
	}
	return string(unicode.ToUpper(r)) + name[n:]
}

// HoursForUse returns how long a fibre is beaten for a use, with band, source
// and grade; the empty use means the usual beat.
//
// Contract:
//
//   - Quantity: hours in a studio Hollander at 15–25 g/L with a moderate roll, h
//   - Inputs: f a fibre of the table; use, one of fibre.Uses or empty
//   - Valid: uses that the fibre is made into; others: fault.Invalid, which names those it has
//   - Assumes: a beater in order; a blender or mallet where the fibre's notes say so
//   - Error: the band; roll, bars and load change the time by as much again
//   - Source: as each value says: modern-paper-making, linen-rag-sample, memory and others
//   - Checked: published/beating-hours.csv
func HoursForUse(f fibre.Fibre, use string) (source.Value, error) {
	if v, ok := f.HoursFor(use); ok {
		return v, nil
	}
	var has []string
	for _, u := range f.Uses() {
		if u.Use != fibre.Usual {
			has = append(has, u.Use)
		}
	}
	if len(has) == 0 {
		return source.Value{}, fault.Invalid("fibre", "%q has no hours of beating: take a fibre of the table", f.Name)
	}
	return source.Value{}, fault.Invalid("use", "the handbook has no hours of beating of %s for %q; it has them for %s. State the hours instead", f.Name, use, strings.Join(has, ", "))
}

// Cautions returns what to say before a beater is run. Local rules and the
// maker's instructions go first.
func Cautions() []Warning {
	return []Warning{
		{"beater-guard", "The roll stays covered by a fixed hood whenever the motor can turn. Hair up; no gloves, rings, lanyards or loose sleeves; feed with a paddle on the far side. Nobody under 18 in the room.", "beater-guards-washington"},
		{"beater-lockout", "Before the hood lifts, to clean, clear or set the roll: plug out and in your pocket, or the breaker padlocked.", "mill-lockout-osha"},
		{"beater-metal", "Feel every rag and sheet for metal and buttons, and pass a magnet over them.", "practice"},
		{"beater-mains", "Machines beside water: a residual-current or ground-fault switch on every socket, tested monthly; have an electrician check the outlets.", "practice"},
		{"beater-noise", "Measure the noise at the ear; leave the room while it beats, or wear muffs.", "noise-osha"},
	}
}
