package drying

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Enthalpy is kilojoules per kilogram of dry air, counted from 0 °C.
type Enthalpy float64

// Unit returns the unit the type is stated in.
func (Enthalpy) Unit() string { return "kJ/kg" }

// SpecificVolume is cubic metres of moist air per kilogram of dry air.
type SpecificVolume float64

// Unit returns the unit the type is stated in.
func (SpecificVolume) Unit() string { return "m³/kg" }

// Ranges of air stated by its humidity ratio or its wet bulb; a loft in winter
// freezes, so they reach below 0 °C where a heated room's do not.
const (
	coldLoft     = -40.0 // °C
	dampestRatio = 2.0   // kg/kg; air of 90 °C, saturated, has 1.4
)

// VapourPressure returns the pressure of the water vapour in the air.
//
//	e = rh · psat(t)
//
// Contract:
//
//   - Quantity: vapour pressure, kPa
//   - Inputs: t °C; rh relative humidity, a fraction
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; outside: fault.OutOfRange
//   - Assumes: ideal gases
//   - Error: 0.03 % and what the hygrometer errs, usually 3 % of humidity
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv, published/psychrometric-grid.csv
func VapourPressure(t measure.Temperature, rh measure.RelHumidity) (measure.Pressure, error) {
	if err := air(t, rh, seaLevel); err != nil {
		return 0, err
	}
	return measure.Pressure(float64(rh) * saturation(float64(t))), nil // ch. 1 eq. 12
}

// HumidityRatioFromVapour returns the vapour per kilogram of dry air at a
// vapour pressure.
//
//	W = 0.621945 e / (p − e)
//
// Contract:
//
//   - Quantity: humidity ratio, kg water per kg dry air
//   - Inputs: e vapour pressure, kPa; p pressure of the air, kPa
//   - Valid: p 50 to 110 kPa; e 0 to 0.76 p; outside: fault.OutOfRange
//   - Assumes: ideal gases
//   - Error: 0.5 % of the real-gas table at 5 to 25 °C, 2 % at 85 °C
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv
func HumidityRatioFromVapour(e, p measure.Pressure) (measure.HumidityRatio, error) {
	if err := measure.Inside("pressure", "the pressure of the air", p, thinnestAir, thickAir, "kPa"); err != nil {
		return 0, err
	}
	// W = 2, the end of the range, is e = 2/(2 + 0.621945) p.
	if err := measure.Inside("vapour", "the vapour pressure", e, 0, p*0.76, "kPa"); err != nil {
		return 0, err
	}
	return measure.HumidityRatio(ratio(float64(e), float64(p))), nil
}

// HumidityRatioFromWetBulb returns the vapour in air whose wet bulb was read:
// two thermometers, one in a wet wick and fanned.
//
//	W = ((2501 − 2.326 b) Ws(b) − 1.006 (t − b)) / (2501 + 1.86 t − 4.186 b), and its form for ice below 0 °C
//
// Contract:
//
//   - Quantity: humidity ratio, kg water per kg dry air
//   - Inputs: t °C; b wet bulb, °C; p pressure of the air, kPa
//   - Valid: t -40 to 80 °C; b -40 °C to t, and so warm that the air holds vapour at all; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: adiabatic saturation: the wick is fanned with 3 m/s or more
//   - Error: exact for the balance; a wet bulb read to 0.2 °C gives 2 % at 20 °C and 50 %
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv; property: round trip with WetBulb
func HumidityRatioFromWetBulb(t, b measure.Temperature, p measure.Pressure) (measure.HumidityRatio, error) {
	err := fault.First(
		measure.Inside("temperature", "the temperature of the air", t, coldLoft, hotRoom, "°C"),
		measure.Inside("pressure", "the pressure of the air", p, thinnestAir, thickAir, "kPa"),
	)
	if err != nil {
		return 0, err
	}
	if err := measure.Inside("wet_bulb", "the wet bulb", b, coldLoft, t, "°C"); err != nil {
		return 0, err
	}
	w := ratioAtWetBulb(float64(t), float64(b), float64(p))
	if !(w > 0) {
		return 0, fault.OutOfRange("wet_bulb", "the wet bulb is colder than that of dry air at %.1f °C; wet the wick and read again", float64(t))
	}
	return measure.HumidityRatio(w), nil
}

// HumidityFromWetBulb returns the relative humidity of air whose wet bulb was
// read.
//
//	rh = p W / ((0.621945 + W) psat(t))
//
// Contract:
//
//   - Quantity: relative humidity, a fraction
//   - Inputs: t °C; b wet bulb, °C; p pressure of the air, kPa
//   - Valid: as HumidityRatioFromWetBulb
//   - Assumes: as HumidityRatioFromWetBulb
//   - Error: 0.02 for a wet bulb read to 0.2 °C
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv; property: round trip with WetBulb
func HumidityFromWetBulb(t, b measure.Temperature, p measure.Pressure) (measure.RelHumidity, error) {
	w, err := HumidityRatioFromWetBulb(t, b, p)
	if err != nil {
		return 0, err
	}
	e := float64(p) * float64(w) / (vapourRatio + float64(w))
	return measure.RelHumidity(min(1, e/saturation(float64(t)))), nil
}

// moist checks air stated by its humidity ratio.
func moist(t measure.Temperature, w measure.HumidityRatio) error {
	return fault.First(
		measure.Inside("temperature", "the temperature of the air", t, coldLoft, hotRoom, "°C"),
		measure.Inside("humidity_ratio", "the humidity ratio", w, 0, dampestRatio, "kg/kg"),
	)
}

// MoistAirEnthalpy returns the heat in the air and its vapour, from dry air and
// water of 0 °C on: the difference of two is what a heater must give.
//
//	h = 1.006 t + W (2501 + 1.86 t)
//
// Contract:
//
//   - Quantity: enthalpy, kJ per kg of dry air
//   - Inputs: t °C; W humidity ratio, kg/kg
//   - Valid: t -40 to 80 °C; W 0 to 2 kg/kg; outside: fault.OutOfRange
//   - Assumes: ideal gases, even heat capacities
//   - Error: 1 % of the real-gas table at 5 to 50 °C
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv, published/psychrometric-grid.csv
func MoistAirEnthalpy(t measure.Temperature, w measure.HumidityRatio) (Enthalpy, error) {
	if err := moist(t, w); err != nil {
		return 0, err
	}
	return Enthalpy(1.006*float64(t) + float64(w)*(2501+1.86*float64(t))), nil // ch. 1 eq. 30
}

// MoistAirVolume returns the space a kilogram of dry air takes with its vapour.
//
//	v = 287.042 T (1 + 1.607858 W) / p
//
// Contract:
//
//   - Quantity: specific volume, m³ per kg of dry air
//   - Inputs: t °C; W humidity ratio, kg/kg; p pressure of the air, kPa
//   - Valid: t -40 to 80 °C; W 0 to 2 kg/kg; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: ideal gases
//   - Error: under 0.1 %
//   - Source: ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv, published/psychrometric-grid.csv
func MoistAirVolume(t measure.Temperature, w measure.HumidityRatio, p measure.Pressure) (SpecificVolume, error) {
	err := fault.First(
		moist(t, w),
		measure.Inside("pressure", "the pressure of the air", p, thinnestAir, thickAir, "kPa"),
	)
	if err != nil {
		return 0, err
	}
	return SpecificVolume(1 / dryDensity(float64(t), float64(w), float64(p))), nil
}
