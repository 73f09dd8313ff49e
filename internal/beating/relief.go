package beating

import (
	"fmt"
	"math"

	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// Relief is what to do when a machine labours: smaller loads, and the steps in
// their order.
type Relief struct {
	Loads measure.Loads
	Each  measure.Mass // bone-dry fibre of a load, g
	Steps []Warning
}

// labouringShare is the part of a load that a machine which labours under the
// whole of it is given: the account of denim says split. Longer fibre is held
// to its own share of the rating besides.
const labouringShare = 0.5

// WhenItLabours returns how to go on with a load under which the machine slows,
// heats or stops turning the stock: cut, cook, split, lower.
//
// Contract:
//
//   - Quantity: loads to make of it and the bone-dry fibre of each, g
//   - Inputs: f a fibre of the table; load in the machine and its rating, bone-dry g
//   - Valid: load and rating 0.1 to 1,000,000 g; outside: fault.OutOfRange
//   - Assumes: half of what stalled it goes round; long raw fibre at most three quarters of the rating
//   - Error: one maker's account; halve again where it still labours
//   - Source: denim-stalled-account, denim-cutting-video, drying-flax-2006
//   - Checked: worked by hand; property: no load is over half of what stalled the machine, and they hold it
func WhenItLabours(f fibre.Fibre, load, rated measure.Mass) (Relief, error) {
	err := fault.First(
		measure.Inside("load", "the load", load, leastMass, mostMass, "g"),
		measure.Inside("rated", "the machine's rating", rated, leastMass, mostMass, "g"))
	if err != nil {
		return Relief{}, err
	}
	most := min(load, rated) * labouringShare
	if f.LongFibre {
		most = min(most, rated*longShare)
	}
	loads, err := Loads(load, max(most, leastMass))
	if err != nil {
		return Relief{}, err
	}
	each, err := LoadEach(load, loads)
	if err != nil {
		return Relief{}, err
	}
	steps := []Warning{{"labours-stop", "Raise the roll and stop it; plug out and in your pocket before the hood lifts. Let the motor cool.", "mill-lockout-osha"}}
	steps = append(steps, prepare(f)...)
	return Relief{loads, each, append(steps,
		Warning{"labours-split", fmt.Sprintf("Split it: %.0f loads of %.0f g, charged little by little with the roll up.", float64(loads), float64(each)), "denim-stalled-account"},
		Warning{"labours-lower", "With less in the tub the roll can go lower: let it down by the sound, a little at a time, as the pieces open.", "denim-stalled-account"})}, nil
}

// prepare is what makes a kind of fibre easier before it goes back.
func prepare(f fibre.Fibre) []Warning {
	switch f.Kind {
	case "rag":
		return []Warning{
			{"labours-cut", "Cut it to 12–25 mm, seams, buttons and stretchy cloth out; new cloth soaks two days in changed water to lose its size.", "denim-cutting-video"},
			{"labours-cook", "Cook it in soda ash first and rinse it clear: softened cloth opens much sooner.", "denim-stalled-account"},
		}
	case "wood", "waste", "seed hair":
		return []Warning{{"labours-soak", "Soak it overnight, and tear it small.", "practice"}}
	default:
		return []Warning{
			{"labours-cut", "Cut it to 10–25 mm: longer pieces rope and clog.", "raw-fibres-page"},
			{"labours-cook", "Cook what does not pull apart between the fingers once more, and rinse it clear.", "practice"},
		}
	}
}

// What makes a brittle sheet softer to begin with: a fifth of long fibre, and
// a third off the beating (the third from memory, a quarter to a half).
const (
	softenerShare measure.Share = 0.2
	softerBeating               = 2.0 / 3
)

// Softer is where to begin when sheets of short or old fibre come brittle.
type Softer struct {
	Hours     measure.Hours // to beat instead
	LongFibre measure.Share // of the furnish, such as abaca
	Steps     []Warning
}

// WhenBrittle returns what to change when sheets of recycled paper come brittle
// and crisp: beat less, pound rather than blend, add long fibre, and fold a
// strip to see.
//
// Contract:
//
//   - Quantity: hours to beat instead, h; share of long fibre in the furnish
//   - Inputs: hours that they were beaten, h
//   - Valid: 0 to 24 h; outside: fault.OutOfRange
//   - Assumes: the fibre is short and beaten enough; sheets that are weak and soft want the reverse
//   - Error: a place to begin; 15–30 % of long fibre is in use (memory)
//   - Source: brittle-recycled-advice; the third: memory
//   - Checked: worked by hand; property: never longer than before
func WhenBrittle(hours measure.Hours) (Softer, error) {
	if err := measure.Inside("beating_hours", "beating", hours, 0, fibre.MostHours, "h"); err != nil {
		return Softer{}, err
	}
	return Softer{measure.Hours(softerBeating) * hours, softenerShare, []Warning{
		{"brittle-beat-less", "Beat less: the longer the beating, the crisper and more brittle the sheet.", "brittle-recycled-advice"},
		{"brittle-pound", "A blender shortens the fibre further: pound it, or run a beater with the roll light.", "brittle-recycled-advice"},
		{"brittle-long", fmt.Sprintf("Begin with %.0f %% of a long fibre such as abaca, beaten by itself.", math.Round(100*float64(softenerShare))), "brittle-recycled-advice"},
		{"brittle-fold", "Fold a dry strip to and fro under the same thumb until it parts, five strips of each making, and keep the counts.", "practice"},
	}}, nil
}
