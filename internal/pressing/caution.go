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

// Cautions returns what to say before a press is loaded. The rules on jacks are
// written for lifting (29 CFR 1910.244(a), read in summary); using them for a
// press is our reading, and local rules go first.
func Cautions() []Caution {
	return []Caution{
		{"press-hands", "Never put a hand or your head between or under platens that only the jack holds.", "practice"},
		{"press-rating", "Stay under the rating marked on the jack and on the frame; a long handle breaks frames. Centre the load on a firm base, with a hardwood cap so that the head cannot slip, and stand aside.", "practice"},
		{"press-oil", "Never feel for an oil leak by hand. A small puncture by oil under pressure is an emergency even if it does not hurt.", "memory"},
		{"press-gentle", "Load gently at first: several strokes over several minutes, or sheets crush and run out.", "wet-pressing-2001"},
		{"press-inspect", "Inspect frame and jack every six months and after any shock.", "practice"},
	}
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
