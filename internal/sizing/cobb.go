package sizing

import (
	"time"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Absorbed is water taken up through one face of a sheet, grams to a square
// metre: the Cobb value.
type Absorbed float64

// Unit returns the unit the type is stated in.
func (Absorbed) Unit() string { return "g/m²" }

// CobbTest is one length of the test: from pouring the water on to pouring it
// off, and to blotting.
type CobbTest struct {
	Name          string
	PourOff, Blot time.Duration
}

// CobbTests returns the usual lengths (source: iso-535). A minute is the usual
// one; hard-sized paper wants a longer, soft paper a shorter test.
func CobbTests() []CobbTest {
	return []CobbTest{
		{"Cobb30", 20 * time.Second, 30 * time.Second},
		{"Cobb60", 45 * time.Second, 60 * time.Second},
		{"Cobb120", 105 * time.Second, 120 * time.Second},
		{"Cobb300", 285 * time.Second, 300 * time.Second},
	}
}

// leastCobbGrammage is the lightest paper the test is for, g/m² (source: iso-535).
const leastCobbGrammage = measure.GrammageConditioned(50)

// CobbApplies says why the test says nothing of a paper, nil if it does: water
// runs through thin paper and through waterleaf.
func CobbApplies(g measure.GrammageConditioned, waterleaf bool) error {
	if waterleaf {
		return fault.Invalid("", "The Cobb test is for sized paper: water runs through waterleaf, so time a drop or draw the ink strip instead.")
	}
	return measure.Inside("", "paper for the Cobb test", g, leastCobbGrammage, 3000, "g/m²")
}

// Cobb returns the water a sheet took up, from its mass before and after.
//
//	A = (m_wet − m_dry) / S
//
// Contract:
//
//   - Quantity: water absorbed through one face, g/m²
//   - Inputs: m_dry, m_wet the test piece before and after, g; S the wetted area, m² (10,000 cm²)
//   - Valid: 0.01 g ≤ m_dry ≤ 1 kg; m_dry ≤ m_wet ≤ 11·m_dry; 0.001 ≤ S ≤ 0.1 m²; outside: fault.OutOfRange. The paper itself: CobbApplies
//   - Assumes: blotted with a 10 kg roller at the stated second; kitchen tools do for comparing with oneself only
//   - Error: with a scale of 0.01 g and 100 cm², 1.4 g/m²; two faces and two sheets differ more
//   - Source: iso-535
//   - Checked: published/check-sizing.csv
func Cobb(dry, wet measure.Mass, area measure.Area) (Absorbed, error) {
	if err := fault.First(
		measure.Inside("", "the dry test piece", dry, 0.01, 1000, "g"),
		measure.Inside("", "the wet test piece", wet, dry, 11*dry, "g"),
		measure.Inside("", "the wetted area", area, 0.001, 0.1, "m²"),
	); err != nil {
		return 0, err
	}
	return Absorbed(float64(wet-dry) / float64(area)), nil
}

// CobbBand is what a Cobb60 says, roughly, of a paper.
type CobbBand struct {
	Word string
	Cobb source.Value // g/m² in 60 s
}

// CobbBands returns the words for Cobb60 values, the hardest first, all from
// memory and overlapping; beyond them is waterleaf, off the test.
func CobbBands() []CobbBand {
	return []CobbBand{
		{"hard sized", source.Said(15, 20, 25, "memory", "")},
		{"for writing", source.Said(20, 27, 35, "memory", "")},
		{"slack sized", source.Said(40, 60, 80, "memory", "")},
	}
}
