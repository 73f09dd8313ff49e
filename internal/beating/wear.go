package beating

import "time"

// StillSpeaks reports whether what was seen of a machine at one time still
// tells how it beats at another. Bars and bedplate wear slowly, which the
// studio's rates follow by themselves; but grinding or changing them makes
// another machine of it, so what was seen before the last grinding is silent.
// Beating on the very time of the grinding comes after it.
func StillSpeaks(seen, at time.Time, ground []time.Time) bool {
	if seen.After(at) {
		return false
	}
	for _, g := range ground {
		if g.After(seen) && !g.After(at) {
			return false
		}
	}
	return true
}
