package drying

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// AirSpeed is metres per second along a hanging sheet.
type AirSpeed float64

// Unit returns the unit the type is stated in.
func (AirSpeed) Unit() string { return "m/s" }

// LoftRate is kilograms of water per square metre and hour from one side.
type LoftRate float64

// Unit returns the unit the type is stated in.
func (LoftRate) Unit() string { return "kg/m²h" }

// HeatTransfer is watts per square metre and kelvin.
type HeatTransfer float64

// Unit returns the unit the type is stated in.
func (HeatTransfer) Unit() string { return "W/m²K" }

// Air at 20 °C and sea level, and water's latent heat (source: memory, handbook
// values; each within 1 %).
const (
	airConductivity = 0.0257  // W/(m K)
	airViscosity    = 1.51e-5 // m²/s, kinematic
	airPrandtl      = 0.713   // a number
	latentHeat      = 2.454e6 // J/kg at 20 °C
)

// SheetHeatTransfer returns the heat that air gives a sheet it streams along.
//
//	h = 0.664 Re^½ Pr^⅓ k / L, Re = v L / ν
//
// Contract:
//
//   - Quantity: heat transfer of one side, W/m²K
//   - Inputs: v speed of the air, m/s; length L of the sheet along the wind, mm
//   - Valid: v 0.05 to 5 m/s; length 50 to 2000 mm; outside: fault.OutOfRange
//   - Assumes: smooth flow along a flat sheet, air near 20 °C
//   - Error: 25 %; lofts are gustier than that
//   - Source: flat-plate-heat
//   - Checked: published/loft-rate.csv
func SheetHeatTransfer(v AirSpeed, length measure.Length) (HeatTransfer, error) {
	err := fault.First(
		measure.Inside("speed", "the speed of the air", v, 0.05, 5, "m/s"),
		measure.Inside("length", "the length of the sheet", length, 50, 2000, "mm"),
	)
	if err != nil {
		return 0, err
	}
	l := float64(length) / 1000
	re := float64(v) * l / airViscosity
	return HeatTransfer(0.664 * math.Sqrt(re) * math.Cbrt(airPrandtl) * airConductivity / l), nil
}

// RateInLoft returns how fast a wet hanging sheet gives off water from one
// side, while its surface is wet.
//
//	rate = h (t − t wet bulb) / L · 3600
//
// Contract:
//
//   - Quantity: water given off, kg/m²h of one side
//   - Inputs: h of SheetHeatTransfer, W/m²K; t °C, rh and pressure p kPa of the loft
//   - Valid: h 0.1 to 100 W/m²K; t 0 to 80 °C; rh 0.01 to 1; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: the sheet is at its wet bulb; no sun
//   - Error: 30 %; the last third of the water takes longer
//   - Source: derived from flat-plate-heat and ashrae-psychrometrics
//   - Checked: published/loft-rate.csv
func RateInLoft(h HeatTransfer, t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) (LoftRate, error) {
	if err := measure.Inside("heat_transfer", "the heat transfer", h, 0.1, 100, "W/m²K"); err != nil {
		return 0, err
	}
	b, err := WetBulb(t, rh, p)
	if err != nil {
		return 0, err
	}
	return LoftRate(float64(h) * float64(t-b) / latentHeat * 3600), nil
}
