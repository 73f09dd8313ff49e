package beating

import (
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// A blender is filled to two thirds (small-scale-pulp-page).
const blenderFill measure.Share = 2.0 / 3

// BlenderThick is the fibre of a litre in a blender, g/L; it is rated at the
// middle.
var BlenderThick = source.Said(8, 12, 15, source.KeyMemory, "")

// Jugs from a stick blender's beaker to a caterer's.
const leastJug, mostJug measure.Volume = 0.2, 20

// BlenderCuts is what speaks against every blender.
var BlenderCuts = Warning{"blender-cuts",
	"A blender cuts the fibre rather than brushing it out: the sheet comes weaker and the stock drains faster than from a beater. Stop as soon as no flakes are left.",
	"selecting-fibers-2012"}

// BlenderOf returns the blender of a jug as a machine.
//
//	water = ⅔ · jug,  rated = 12 g/L · water
//
// Contract:
//
//   - Quantity: the fullest load: bone-dry fibre, g, and water, L
//   - Inputs: jug, what it holds to the brim, L
//   - Valid: 0.2 to 20 L; outside: fault.OutOfRange
//   - Assumes: fibre soaked beforehand and torn small; less where the motor labours
//   - Error: 8–15 g/L is in use
//   - Source: small-scale-pulp-page; the thickness: memory
//   - Checked: worked by hand: 12 g in 1 L for a jug of 1.5 L
func BlenderOf(name string, jug measure.Volume) (Machine, error) {
	if err := measure.Inside("jug", "the jug of a blender", jug, leastJug, mostJug, "L"); err != nil {
		return Machine{}, err
	}
	water := jug * measure.Volume(blenderFill)
	return Machine{name, Blender, measure.Mass(BlenderThick.Mid * float64(water)), water}, nil
}

// BlenderLoads returns how fibre goes through one blender.
//
// Contract:
//
//   - Quantity: loads, and the bone-dry fibre, g, and water, L, of each
//   - Inputs: fibre, bone-dry g; jug, L
//   - Valid: fibre 0.1 to 1,000,000 g and at most 10,000 loads; jug 0.2 to 20 L; outside: fault.OutOfRange
//   - Assumes: as BlenderOf
//   - Error: exact for the rating; 8–15 g/L is in use
//   - Source: derived; small-scale-pulp-page
//   - Checked: worked by hand; property: as Share
func BlenderLoads(fibre measure.Mass, jug measure.Volume) (Turn, error) {
	m, err := BlenderOf("", jug)
	if err != nil {
		return Turn{}, err
	}
	s, err := Share(fibre, []Machine{m})
	if err != nil {
		return Turn{}, err
	}
	return s.Turns[0], nil
}

// BlenderSeconds returns how long a load of a fibre is blended, in seconds,
// with source and grade. Only what comes as sheet pulp or paper is blended:
// raw fibre tangles round the blades and cloth wants a beater.
func BlenderSeconds(f fibre.Fibre) (source.Value, error) {
	switch {
	case f.Kind == "waste":
		return source.Value{Low: 30, Mid: 60, High: 240, Source: "small-scale-pulp-page", Grade: source.Memory,
			Note: "three to four minutes for small torn sheets as printed; half a minute to one from memory where it was soaked overnight"}, nil
	case slices.ContainsFunc(f.Forms, func(form string) bool { return strings.Contains(form, "sheet pulp") }):
		return source.Value{Low: 60, Mid: 90, High: 120, Source: "memory", Grade: source.Memory, Note: "soaked overnight"}, nil
	}
	return source.Value{}, fault.Invalid("fibre", "%s is not brought to pulp in a blender: take a beater or a mallet, or buy it as sheet pulp", f.Name)
}

// BlenderCautions returns what to say before a blender is run.
func BlenderCautions() []Warning {
	return []Warning{
		{"blender-blades", "Lid on before it runs; plug out before a hand or spoon goes in. Grown-ups run it.", "practice"},
		{"blender-motor", "Where the motor labours or smells, stop at once and halve the load.", "practice"},
		{"beater-mains", "Machines beside water: a residual-current or ground-fault switch on every socket, tested monthly; have an electrician check the outlets.", "practice"},
		{"blender-metal", "Take out staples, clips and plastic windows.", "practice"},
	}
}
