package pressing

import "vatside/internal/measure"

// Caution is one thing to know before the act, with where it comes from.
// Cautions defer to the maker of the press, to local rules and to licensed
// practice.
type Caution struct {
	Code   string
	Text   string
	Source string
}

// The cautions at a press.
var (
	pressHands   = Caution{"press-hands", "Never put a hand or your head between or under platens that only the jack holds.", "practice"}
	pressRating  = Caution{"press-rating", "Stay under the rating marked on the jack and on the frame; a long handle breaks frames. Centre the load on a firm base, with a hardwood cap so that the head cannot slip, and stand aside.", "practice"}
	pressOil     = Caution{"press-oil", "Never feel for an oil leak by hand. A small puncture by oil under pressure is an emergency even if it does not hurt.", "memory"}
	pressGentle  = Caution{"press-gentle", "Load gently at first: several strokes over several minutes, or sheets crush and run out.", "wet-pressing-2001"}
	pressInspect = Caution{"press-inspect", "Inspect frame and jack every six months and after any shock.", "practice"}
	pressBar     = Caution{"press-bar", "Stand clear of the bar's swing, take it off when the press is tight, and never lengthen it with a pipe: the screw, the nut or the frame gives way.", "practice"}
	pressBeam    = Caution{"press-beam", "A loaded beam kills when it slips. Guide it, chain it against falling, keep everybody out from under it, and take the weights off before anything else is touched.", "practice"}
	pressPile    = Caution{"press-pile", "Build weights low and wide on a firm floor, tie them if they can topple, and fill buckets where they stand: a full one of 20 L is 20 kg.", "practice"}
	pressVacuum  = Caution{"press-vacuum", "Water must not reach the pump's motor: trap before the pump, residual-current device on its socket, lead off the floor. Local electrical codes and an electrician decide.", "practice"}
	pressVehicle = Caution{"press-vehicle", "Nobody stands near a vehicle that rolls over boards but its driver; do it on level ground, never in reverse without a second person who watches.", "practice"}
)

// Cautions returns what to say before a jack press is loaded. The rules on jacks are
// written for lifting (29 CFR 1910.244(a), read in summary); using them for a
// press is our reading, and local rules go first.
func Cautions() []Caution { return CautionsOf(Jack) }

// CautionsOf returns what to say before a press of that kind is loaded, gravest
// first. A kind that is not known gets what holds for a jack, the commonest.
func CautionsOf(kind string) []Caution {
	switch kind {
	case Screw:
		return []Caution{pressBar, pressGentle, pressInspect}
	case Lever:
		return []Caution{pressBeam, pressGentle, pressInspect}
	case Weights:
		return []Caution{pressPile, pressGentle}
	case Vacuum:
		return []Caution{pressVacuum}
	case Rolling:
		return []Caution{pressVehicle}
	}
	return []Caution{pressHands, pressRating, pressOil, pressGentle, pressInspect}
}

// LiftCaution returns the caution for carrying a post of that weight, and
// whether there is one.
func LiftCaution(weight measure.Kilograms) (Caution, bool) {
	if !(weight > LiftAlone) {
		return Caution{}, false
	}
	return Caution{
		Code:   "lift-post",
		Text:   "This post is more than one person should lift (23 kg at best): couch it at the press, put it on wheels, use a hoist, or press smaller posts.",
		Source: "practice",
	}, true
}
