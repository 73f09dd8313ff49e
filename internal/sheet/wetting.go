package sheet

import (
	"slices"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// PreShrink is what to tell somebody who prints in several baths.
const PreShrink = "Soak the sheets once or more in plain water, as long and as warm as the bath will be, and dry them as they will be dried, before the first print; then measure one."

// Soaking is one way of a sheet before a bath, wet, and dried again. Both ways
// of a sheet are measured: they move differently.
type Soaking struct {
	Before, Wet, After measure.Length // mm
}

func (s Soaking) check() error {
	for _, l := range [3]measure.Length{s.Before, s.Wet, s.After} {
		if err := checkShrink(l, 0); err != nil {
			return err
		}
	}
	if !measure.Within(s.Wet/s.Before, 0.9, 1.5) || !measure.Within(s.After/s.Before, 0.5, 1.2) {
		return fault.OutOfRange("", "A wet sheet must be between 90 and 150 %%, and one dried again between 50 and 120 %%, of what it was; look whether the readings are of the same way.")
	}
	return nil
}

// Expansion returns how much a sheet grew in the bath.
//
//	L_wet / L_before − 1
//
// Contract:
//
//   - Quantity: wet expansion, fraction of the length before; below 0 it shrank
//   - Inputs: lengths before and wet, mm
//   - Valid: 5 to 5,000 mm; wet 0.9 to 1.5 of before; outside: fault.OutOfRange
//   - Assumes: soaked through; lying without pull
//   - Error: readings good to 0.5 mm on 300 mm leave 0.25 points
//   - Source: definition
//   - Checked: by hand; expansion and return together give the lasting change
func (s Soaking) Expansion() (measure.Share, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	return measure.Share(s.Wet/s.Before - 1), nil
}

// Lasting returns how much smaller a sheet stays when it is dry again.
//
//	1 − L_after / L_before
//
// Contract:
//
//   - Quantity: lasting shrinkage, fraction of the length before; below 0 it grew
//   - Inputs: lengths before and dried again in the same air, mm
//   - Valid: 5 to 5,000 mm; after 0.5 to 1.2 of before; outside: fault.OutOfRange
//   - Assumes: the same room before and after
//   - Error: as Expansion; a room 10 points moister adds about 0.1 points (memory)
//   - Source: definition
//   - Checked: by hand; a sheet that comes back to size keeps none
func (s Soaking) Lasting() (measure.Share, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	return measure.Share(1 - s.After/s.Before), nil
}

// OutOfRegister returns how far a sheet's edge moved between any two printings.
//
//	max L − min L
//
// Contract:
//
//   - Quantity: greatest difference of length, mm
//   - Inputs: one way of the sheet when dry: before the first bath, then after each, mm
//   - Valid: 2 to 100 lengths of 5 to 5,000 mm; outside: fault.OutOfRange
//   - Assumes: registered at one edge; half of it at either edge when registered in the middle
//   - Error: as one reading
//   - Source: definition
//   - Checked: by hand; never less than the move of any one bath
func OutOfRegister(dry []measure.Length) (measure.Length, error) {
	if n := len(dry); n < 2 || n > 100 {
		return 0, fault.OutOfRange("", "Register needs the lengths before and after 1 to 99 baths; there are %d lengths.", n)
	}
	for _, l := range dry {
		if err := checkShrink(l, 0); err != nil {
			return 0, err
		}
	}
	return slices.Max(dry) - slices.Min(dry), nil
}

// PreSoakings returns after how many baths a paper keeps register, from a sheet
// that was soaked and measured again and again.
//
//	least k with max L_k… − min L_k… ≤ tolerance
//
// Contract:
//
//   - Quantity: baths in plain water before the first print
//   - Inputs: lengths as OutOfRegister; tolerance, mm
//   - Valid: as OutOfRegister; 0 < tolerance ≤ 100 mm; outside: fault.OutOfRange; not settled within the baths measured: fault.Infeasible
//   - Assumes: other sheets of the paper do as this one did; at least one bath after the last of them was measured
//   - Error: one sheet stands for all; measure three
//   - Source: derived, docs/models/sheet.md
//   - Checked: by hand; never more for a wider tolerance; what remains is within it
func PreSoakings(dry []measure.Length, tolerance measure.Length) (int, error) {
	if !measure.Finite(tolerance) || tolerance <= 0 || tolerance > 100 {
		return 0, fault.OutOfRange("", "A tolerance of register must be above 0 and at most 100 mm; this says %.4g mm.", float64(tolerance))
	}
	if _, err := OutOfRegister(dry); err != nil {
		return 0, err
	}
	for k := range len(dry) - 1 {
		if move, err := OutOfRegister(dry[k:]); err == nil && move <= tolerance {
			return k, nil
		}
	}
	return 0, fault.Infeasible("", "The sheet still moved by more than %.3g mm in its last bath; soak and measure it again, or allow more.", float64(tolerance))
}

// WetExpansion returns what to expect of a paper that nobody has soaked yet, by
// how it was dried: held (stack, exchange, board) or not (loft, free).
//
//	held 0.2–2 %, not held 0.5–6 %
//
// Contract:
//
//   - Quantity: least and most wet expansion, fraction of the dry length
//   - Inputs: drying: stack, exchange, board, loft or free
//   - Valid: one of these; another: fault.Invalid
//   - Assumes: soaked through for the first time; beating from light to long
//   - Error: a wide band for want of measurements; soak one sheet
//   - Source: memory; that held sheets expand less: hygroexpansion-salmen-1985; that free ones expand as they shrank: hygroexpansion-anisotropic
//   - Checked: unverified; a test holds only the order, held below free
func WetExpansion(drying string) (low, high measure.Share, err error) {
	switch drying {
	case "stack", "exchange", "board":
		return 0.002, 0.02, nil
	case "loft", "free":
		return 0.005, 0.06, nil
	}
	return 0, 0, fault.Invalid("", "%q is not a way of drying; the ways are stack, exchange, board, loft, free.", drying)
}
