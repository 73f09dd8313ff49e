package cooking

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// What a kilogram of dry fibre holds of its liquor, L: squeezed by hand, drained
// in a bag, and leafy pulp drained; each within a third (source: memory).
const (
	HeldSqueezed measure.Number = 3
	HeldDrained  measure.Number = 5
	HeldLeafy    measure.Number = 7
)

// RinseTarget is where rinsing is reckoned to end: 0.02 g/L of alkali, a six
// hundredth of a usual liquor. In soft water a strip still reads pH 9 to 10 of
// it; where the tap's is harder it takes that up (source: practice).
const RinseTarget Strength = 0.02

// UsualRinse is the fresh water of one change to a kilogram of dry fibre, L; 10
// to 20 (source: practice).
const UsualRinse measure.Number = 15

// RinseLeft returns the alkali left in the water around the fibre after changes
// of water.
//
//	s = s₀ · (w / (w + R))ⁿ
//
// Contract:
//
//   - Quantity: alkali in the water the fibre holds, g/L
//   - Inputs: start s₀ of the drained liquor, g/L; held w and fresh R, L to a kilogram of dry fibre; changes n
//   - Valid: start 0 to 500 g/L; held 0.2 to 30, fresh 0.5 to 500 L/kg; changes 0 to 100; outside: fault.OutOfRange
//   - Assumes: stirred until even; alkali bound to the fibre comes out slowly, so wait some minutes at each change
//   - Error: one change in five
//   - Source: derived
//   - Checked: published/rinse-worked.csv; property: more changes, less left
func RinseLeft(start Strength, held, fresh measure.Number, changes measure.Number) (Strength, error) {
	if err := fault.First(checkRinse(start, held, fresh), measure.Inside("changes", "the changes of water", changes, 0, 100, "")); err != nil {
		return 0, err
	}
	return start * Strength(math.Pow(float64(held/(held+fresh)), float64(changes))), nil
}

// RinseChanges returns how many changes of water bring the alkali down.
//
//	n = ⌈ln(target/start) / ln(w / (w + R))⌉
//
// Contract:
//
//   - Quantity: changes of water, a whole number
//   - Inputs: start and target, g/L; held and fresh, L to a kilogram of dry fibre
//   - Valid: target 0.0001 to 500 g/L; else as RinseLeft; outside: fault.OutOfRange
//   - Assumes: as RinseLeft
//   - Error: one change in five; the strip and the feel decide
//   - Source: derived
//   - Checked: published/rinse-worked.csv; property: so many suffice and one fewer does not
func RinseChanges(start, target Strength, held, fresh measure.Number) (measure.Number, error) {
	if err := fault.First(checkRinse(start, held, fresh), measure.Inside("rinse", "the alkali to be left", target, 1e-4, 500, "g/L")); err != nil {
		return 0, err
	}
	if start <= target {
		return 0, nil
	}
	n := math.Log(float64(target/start)) / math.Log(float64(held/(held+fresh)))
	return measure.Number(math.Ceil(n - 1e-9)), nil
}

// RinseWater returns the water that changes take.
//
//	V = n · R · dry / 1000
//
// Contract:
//
//   - Quantity: fresh water, L
//   - Inputs: dry fibre as it went into the pot, bone-dry g; fresh R, L to a kilogram; changes n
//   - Valid: dry 0.1 to 1000000 g; fresh 0.5 to 500 L/kg; changes 0 to 100; outside: fault.OutOfRange
//   - Assumes: the same water at every change, though fibre was lost in the cook
//   - Error: exact for the model
//   - Source: definition
//   - Checked: published/rinse-worked.csv
func RinseWater(dry measure.Mass, fresh, changes measure.Number) (measure.Volume, error) {
	if err := fault.First(checkDry(dry),
		measure.Inside("rinse", "the fresh water", fresh, 0.5, 500, "L/kg"),
		measure.Inside("changes", "the changes of water", changes, 0, 100, ""),
	); err != nil {
		return 0, err
	}
	return measure.Volume(float64(changes*fresh) * float64(dry) / 1000), nil
}

func checkRinse(start Strength, held, fresh measure.Number) error {
	return fault.First(
		measure.Inside("rinse", "the alkali at the start", start, 0, 500, "g/L"),
		measure.Inside("rinse", "the water held", held, 0.2, 30, "L/kg"),
		measure.Inside("rinse", "the fresh water", fresh, 0.5, 500, "L/kg"),
	)
}

// Grams in a mole, of the acids that neutralise; CH3COOH gives one proton,
// citric acid C6H8O7 three (source: ciaaw-weights).
const (
	aceticAcid = 60.052
	citricAcid = 192.123
)

// VinegarFor returns the vinegar that neutralises a mass of alkali.
//
//	m = n · 60.052 / a
//
// Contract:
//
//   - Quantity: vinegar, g
//   - Inputs: a the alkali and m its mass, g; acid share of acetic acid in the vinegar by mass, usually 0.05
//   - Valid: m 0 to 1000000 g; acid 0.01 to 0.3; outside: fault.OutOfRange
//   - Assumes: all the carbon dioxide bubbles off
//   - Error: 5 %, the vinegar's own strength
//   - Source: ciaaw-weights
//   - Checked: published/cook-worked.csv
func VinegarFor(a Alkali, m measure.Mass, acid measure.Share) (measure.Mass, error) {
	n, err := Equivalents(a, m)
	if err == nil {
		err = measure.Inside("vinegar", "the acid in the vinegar", acid, 0.01, 0.3, "as a fraction")
	}
	if err != nil {
		return 0, err
	}
	return measure.Mass(float64(n) * aceticAcid / float64(acid)), nil
}

// CitricFor returns the citric acid that neutralises a mass of alkali.
//
//	m = n · 192.123 / 3
//
// Contract:
//
//   - Quantity: citric acid without water, g
//   - Inputs: a the alkali and m its mass, g
//   - Valid: m 0 to 1000000 g; outside: fault.OutOfRange
//   - Assumes: taken to the middle, pH 6 to 8; the last third of the acid is weak, so go by the strip
//   - Error: 5 %
//   - Source: ciaaw-weights
//   - Checked: published/cook-worked.csv
func CitricFor(a Alkali, m measure.Mass) (measure.Mass, error) {
	n, err := Equivalents(a, m)
	if err != nil {
		return 0, err
	}
	return measure.Mass(float64(n) * citricAcid / 3), nil
}

// GasFrom returns the carbon dioxide that acid drives out of a carbonate: why
// the bucket is half full at most.
//
//	V = m / M · 24.0 L
//
// Contract:
//
//   - Quantity: carbon dioxide at 20 °C, L
//   - Inputs: a the alkali and m its mass, g
//   - Valid: m 0 to 1000000 g; outside: fault.OutOfRange
//   - Assumes: one mole of gas from a mole of carbonate; lye and lime give none
//   - Error: 3 %
//   - Source: derived, ciaaw-weights
//   - Checked: published/cook-worked.csv
func GasFrom(a Alkali, m measure.Mass) (measure.Volume, error) {
	if _, err := Equivalents(a, m); err != nil {
		return 0, err
	}
	s, err := Dissolved(a, 1, 20)
	if err != nil {
		return 0, err
	}
	return measure.Volume(s.Carbonate * float64(m) * 24.0), nil
}

// WhyRinse is what to say beside a sum of vinegar.
const WhyRinse = "Rinse first: water takes the dissolved plant matter away with the alkali, and vinegar leaves it in the fibre with a salt of its own. Neutralising a whole cook takes litres of vinegar; a drop too much leaves the paper acid. What chalk is left in the fibre is a reserve: leave it."
