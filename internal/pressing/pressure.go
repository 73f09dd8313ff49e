package pressing

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// OneAtmosphere is the most a vacuum table can press with at sea level.
// kPa, exact by definition of the standard atmosphere (source: definition).
const OneAtmosphere measure.Pressure = 101.325

// PressureOn returns the pressure a force puts on an area of sheets. It is the
// figure to log: the gauge of a jack shows the pressure in its own cylinder.
//
//	P = F / A
//
// Contract:
//
//   - Quantity: pressure on the sheets, kPa
//   - Inputs: force kN; area of one sheet (or of all sheets side by side in a layer), m²
//   - Valid: force 0.01 to 5000 kN; area 0.0001 to 20 m²; outside: fault.OutOfRange
//   - Assumes: load centred, boards stiff, weight of the upper boards left out
//   - Error: exact; a jack's own friction takes up to about 10 % (from memory)
//   - Source: definition
//   - Checked: published/press-pressure.csv
func PressureOn(force measure.Force, area measure.Area) (measure.Pressure, error) {
	err := fault.First(
		measure.Inside("force", "the force of the press", force, leastForce, mostForce, "kN"),
		measure.Inside("area", "the area of the sheets", area, leastArea, mostArea, "m²"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Pressure(float64(force) / float64(area)), nil // kN/m² = kPa
}

// VacuumPressure returns the pressure with which a vacuum table presses: what
// its gauge shows below the atmosphere, and never more than the atmosphere.
//
//	P = gauge vacuum, 0 < P <= atmosphere
//
// Contract:
//
//   - Quantity: pressure on the sheets, kPa
//   - Inputs: vacuum as the gauge shows it, kPa below the atmosphere; atmosphere kPa, as the altitude has it
//   - Valid: atmosphere 30 to 110 kPa; vacuum 0.1 kPa to the atmosphere; outside: fault.OutOfRange
//   - Assumes: the cover does not leak and lies on the whole sheet
//   - Error: exact; gauges read to about 3 % (from memory)
//   - Source: definition
//   - Checked: a gauge of 25 inHg is about 12 psi, 85 kPa; a claim of 25 psi is refused
func VacuumPressure(vacuum, atmosphere measure.Pressure) (measure.Pressure, error) {
	err := measure.Inside("atmosphere", "the atmosphere", atmosphere, 30, 110, "kPa")
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("vacuum", "the vacuum", vacuum, leastPressure, 1e6, "kPa"); err != nil {
		return 0, err
	}
	if vacuum > atmosphere {
		return 0, fault.OutOfRange("vacuum", "a vacuum table presses with at most the atmosphere, from %g to %.4g kPa here", float64(leastPressure), float64(atmosphere))
	}
	return vacuum, nil
}

// CheckRating refuses a planned force above the rating marked on the jack or
// press. A press without a marked rating is refused too.
func CheckRating(planned, marked measure.Force) error {
	err := fault.First(
		measure.Inside("marked", "the rating marked on the press", marked, leastForce, mostForce, "kN"),
		measure.Inside("planned", "the planned force", planned, leastForce, mostForce, "kN"),
	)
	if err != nil {
		return err
	}
	if planned > marked {
		return fault.OutOfRange("planned", "the planned force must be from %g kN to the %.4g kN marked on the press", float64(leastForce), float64(marked))
	}
	return nil
}
