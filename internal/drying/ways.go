package drying

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Plate is drying on a heated plate: by the minute, and never left alone.
const Plate = "plate"

// What is told of plates and stacks.
const (
	// PlateLeast and PlateMost are the minutes of a thin sheet on a heated
	// plate (source: memory).
	PlateLeast measure.Minutes = 2
	PlateMost  measure.Minutes = 5
	// StackSolids is the wettest sheet that may go into a stack, a fraction;
	// ± 0.03. "Never load soaking sheets" (source: drybox-instructions); the
	// number is ours, midway between couched sheets (0.12) and the gentlest
	// pressing (0.22), both from memory.
	StackSolids measure.Solids = 0.17
)

// CheckStack refuses sheets that were not pressed: in a stack they soak the
// blotters through, stay wet in the middle and mould.
func CheckStack(solids measure.Solids) error {
	if err := measure.Inside("solids", "the solids after the press", solids, 0.01, 1, "as a fraction"); err != nil {
		return err
	}
	if solids < StackSolids {
		return fault.Infeasible("solids", "sheets under %.0f %% solids still drip: press them before they go into the stack, or change their blotters by hand", 100*float64(StackSolids))
	}
	return nil
}

// Visit is one time that somebody comes to the drying sheets.
type Visit struct {
	At  measure.Hours // after loading
	Act string
}

// ends say how each way of drying is finished.
var ends = map[string]string{
	Stack:    "Open the stack; a sheet that feels cool to the cheek goes back in. Dry damp blotters in the stack, not on the table, or they warp.",
	Exchange: "Take the sheets out; one that feels cool to the cheek gets dry blotters again.",
	Board:    "Loosen a corner and peel the sheets off.",
	Loft:     "Take the spurs down and part them.",
	Free:     "Take the sheets up.",
	Plate:    "Stay beside the plate until the last sheet is off and it is switched off.",
}

// Visits returns when the sheets want somebody over a drying time: the stack
// is tightened once more, blotters are exchanged, and at the end all come off.
func Visits(kind string, hours measure.Hours) ([]Visit, error) {
	end, ok := ends[kind]
	if !ok {
		return nil, fault.Invalid("drying", "%q is not a way of drying; say stack, exchange, board, loft, free or plate", kind)
	}
	if err := measure.Inside("hours", "the drying time", hours, 0, 10000, "h"); err != nil {
		return nil, err
	}
	var list []Visit
	switch kind {
	case Stack:
		if hours > StackRetighten {
			list = append(list, Visit{StackRetighten, "Tighten the stack: it has settled."})
		}
	case Exchange:
		n, err := Changes(hours)
		if err != nil {
			return nil, err
		}
		for i := 1; i <= n; i++ {
			list = append(list, Visit{min(hours, ChangeEvery*measure.Hours(i)), "Change the blotters."})
		}
	}
	return append(list, Visit{hours, end}), nil
}

// PlateHours returns the time at a heated plate.
//
//	hours = ⌈sheets / places⌉ · minutes / 60
//
// Contract:
//
//   - Quantity: time at the plate, h, all of it attended
//   - Inputs: sheets; places on the plate; minutes of one filling
//   - Valid: sheets 0 to 1000000; places 1 to 100000; minutes 0.1 to 600; outside: fault.OutOfRange
//   - Assumes: the plate keeps its heat from one filling to the next
//   - Error: as the minutes: two to five for a thin sheet, from memory
//   - Source: derived
//   - Checked: worked example; property: as Loads
func PlateHours(sheets measure.Sheets, places int, minutes measure.Minutes) (measure.Hours, error) {
	fillings, err := Loads(sheets, places)
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("minutes", "the minutes of one filling", minutes, 0.1, 600, "min"); err != nil {
		return 0, err
	}
	return measure.Hours(float64(fillings) * float64(minutes) / 60), nil
}
