package drying

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// AirDensity is kilograms per cubic metre of air.
type AirDensity float64

// Unit returns the unit the type is stated in.
func (AirDensity) Unit() string { return "kg/m³" }

// Constants of moist air, as the handbook prints them (source:
// ashrae-psychrometrics).
const (
	kelvin = 273.15 // K at 0 °C, exact (source: definition)
	// triplePoint parts ice from water in the saturation formula, °C, exact.
	triplePoint = 0.01
	// vapourRatio is the molar mass of water over that of dry air; ± 1e-6.
	vapourRatio = 0.621945
	// gasDry is the gas constant of dry air, J/(kg K); ± 0.001.
	gasDry = 287.042
	// seaLevel is the standard atmosphere, kPa, exact (source: definition).
	seaLevel = 101.325
)

// Ranges of the rooms paper is dried in, and of the tables behind the formulas.
const (
	coldest, hottest       = -60.0, 100.0 // °C, saturation
	coldRoom, hotRoom      = 0.0, 80.0    // °C, a room or a warm cabinet
	driestAir, wettestAir  = 0.01, 1.0    // relative humidity, a fraction
	thinnestAir, thickAir  = 50.0, 110.0  // kPa
	lowestPlace, highPlace = -500.0, 5000.0
)

// AtmosphericPressure returns the standard atmosphere at an altitude.
//
//	p = 101.325 (1 − 2.25577e-5 z)^5.2559
//
// Contract:
//
//   - Quantity: pressure of the air, kPa
//   - Inputs: alt, metres above sea level
//   - Valid: -500 to 5000 m; outside: fault.OutOfRange
//   - Assumes: standard weather; real weather moves it by up to 4 %
//   - Error: under 0.01 % of the standard table
//   - Source: ashrae-psychrometrics
//   - Checked: published/psychrometric-atmosphere.csv, published/psychrometric-handbook.csv
func AtmosphericPressure(alt measure.Altitude) (measure.Pressure, error) {
	if err := measure.Inside("altitude", "the altitude", alt, lowestPlace, highPlace, "m"); err != nil {
		return 0, err
	}
	return measure.Pressure(seaLevel * math.Pow(1-2.25577e-5*float64(alt), 5.2559)), nil // ch. 1 eq. 3
}

// SaturationPressure returns the pressure of water vapour over water, and over
// ice below 0.01 °C.
//
//	ln p = c1/T + c2 + c3 T + c4 T² + c5 T³ + c6 T⁴ + c7 ln T
//
// Contract:
//
//   - Quantity: saturation pressure, kPa
//   - Inputs: t, °C
//   - Valid: -60 to 100 °C; outside: fault.OutOfRange
//   - Assumes: pure vapour; the air's own effect (0.4 %) is left out
//   - Error: 0.03 % of the handbook's table
//   - Source: hyland-wexler-1983
//   - Checked: published/psychrometric-saturation.csv, published/psychrometric-handbook.csv
func SaturationPressure(t measure.Temperature) (measure.Pressure, error) {
	if err := measure.Inside("temperature", "the temperature", t, coldest, hottest, "°C"); err != nil {
		return 0, err
	}
	return measure.Pressure(saturation(float64(t))), nil
}

// saturation is SaturationPressure without its range check, kPa.
func saturation(t float64) float64 {
	k := t + kelvin
	if t <= triplePoint { // ch. 1 eq. 5, over ice
		return math.Exp(-5.6745359e3/k+6.3925247-9.677843e-3*k+6.2215701e-7*k*k+
			2.0747825e-9*k*k*k-9.484024e-13*k*k*k*k+4.1635019*math.Log(k)) / 1000
	}
	return math.Exp(-5.8002206e3/k+1.3914993-4.8640239e-2*k+4.1764768e-5*k*k-
		1.4452093e-8*k*k*k+6.5459673*math.Log(k)) / 1000 // ch. 1 eq. 6
}

// air checks temperature, humidity and pressure of a room.
func air(t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) error {
	return fault.First(
		measure.Inside("temperature", "the temperature of the air", t, coldRoom, hotRoom, "°C"),
		measure.Inside("humidity", "the relative humidity", rh, driestAir, wettestAir, "as a fraction"),
		measure.Inside("pressure", "the pressure of the air", p, thinnestAir, thickAir, "kPa"),
	)
}

// HumidityRatio returns the vapour in the air per kilogram of dry air.
//
//	W = 0.621945 e / (p − e), e = rh · psat(t)
//
// Contract:
//
//   - Quantity: humidity ratio, kg water per kg dry air
//   - Inputs: t °C; rh relative humidity, a fraction; p kPa
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: ideal gases
//   - Error: 0.5 % of the real-gas table at 5 to 25 °C, 1 % at 50 °C, 2 % at 85 °C
//   - Source: ashrae-psychrometrics
//   - Checked: published/psychrometric-grid.csv, published/psychrometric-handbook.csv
func HumidityRatio(t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) (measure.HumidityRatio, error) {
	if err := air(t, rh, p); err != nil {
		return 0, err
	}
	e := float64(rh) * saturation(float64(t))
	if e >= float64(p) {
		return 0, measure.Inside("humidity", "the vapour pressure of the air", measure.Pressure(e), 0, p, "kPa")
	}
	return measure.HumidityRatio(ratio(e, float64(p))), nil
}

// ratio is the humidity ratio at vapour pressure e, both in kPa.
func ratio(e, p float64) float64 { return vapourRatio * e / (p - e) } // ch. 1 eq. 20

// DewPoint returns the temperature at which the air's vapour is saturated.
//
//	psat(t) = rh · psat(t room)
//
// Contract:
//
//   - Quantity: dew point, °C; below 0.01 °C it is a frost point
//   - Inputs: t °C; rh relative humidity, a fraction
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; outside: fault.OutOfRange
//   - Assumes: as SaturationPressure
//   - Error: 0.01 °C of the formula; saturation gives the rest
//   - Source: ashrae-psychrometrics
//   - Checked: published/psychrometric-grid.csv
func DewPoint(t measure.Temperature, rh measure.RelHumidity) (measure.Temperature, error) {
	if err := air(t, rh, seaLevel); err != nil {
		return 0, err
	}
	e := float64(rh) * saturation(float64(t))
	return measure.Temperature(bisect(coldest, float64(t), func(x float64) bool { return saturation(x) > e })), nil
}

// WetBulb returns the temperature a wet sheet takes in moving air, by the heat
// balance of the handbook.
//
//	W = ((2501 − 2.326 b) Ws(b) − 1.006 (t − b)) / (2501 + 1.86 t − 4.186 b), and its form for ice below 0 °C
//
// Contract:
//
//   - Quantity: wet-bulb temperature, °C
//   - Inputs: t °C; rh relative humidity, a fraction; p kPa
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: adiabatic saturation, no warmth from walls or sun
//   - Error: 0.002 °C of the formula; a sheet in still air is warmer
//   - Source: ashrae-psychrometrics
//   - Checked: published/psychrometric-grid.csv, published/psychrometric-handbook.csv
func WetBulb(t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) (measure.Temperature, error) {
	w, err := HumidityRatio(t, rh, p)
	if err != nil {
		return 0, err
	}
	dew, err := DewPoint(t, rh)
	if err != nil {
		return 0, err
	}
	tooWarm := func(b float64) bool { return ratioAtWetBulb(float64(t), b, float64(p)) > float64(w) }
	return measure.Temperature(bisect(float64(dew), float64(t), tooWarm)), nil
}

// ratioAtWetBulb is the humidity ratio of air at t whose wet bulb is b.
func ratioAtWetBulb(t, b, p float64) float64 {
	ws := ratio(saturation(b), p)
	if b >= 0 { // ch. 1 eq. 33
		return ((2501-2.326*b)*ws - 1.006*(t-b)) / (2501 + 1.86*t - 4.186*b)
	}
	return ((2830-0.24*b)*ws - 1.006*(t-b)) / (2830 + 1.86*t - 2.1*b) // ch. 1 eq. 35
}

// bisect halves lo to hi until above turns from false to true within 1e-10.
func bisect(lo, hi float64, above func(float64) bool) float64 {
	for i := 0; i < 60 && hi-lo > 1e-10; i++ {
		if mid := (lo + hi) / 2; above(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// MoistAirDensity returns the mass of air and vapour in a cubic metre.
//
//	ρ = p (1 + W) / (287.042 T (1 + 1.607858 W))
//
// Contract:
//
//   - Quantity: density of moist air, kg/m³
//   - Inputs: t °C; rh relative humidity, a fraction; p kPa
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: ideal gases
//   - Error: under 0.1 %
//   - Source: ashrae-psychrometrics
//   - Checked: published/psychrometric-grid.csv
func MoistAirDensity(t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) (AirDensity, error) {
	w, err := HumidityRatio(t, rh, p)
	if err != nil {
		return 0, err
	}
	return AirDensity((1 + float64(w)) * dryDensity(float64(t), float64(w), float64(p))), nil
}

// dryDensity is the mass of dry air alone in a cubic metre of moist air.
func dryDensity(t, w, p float64) float64 {
	return p * 1000 / (gasDry * (t + kelvin) * (1 + 1.607858*w)) // ch. 1 eq. 26
}
