package drying

import (
	"math"

	"vatside/internal/measure"
)

// The line on which water and steam meet, from freezing to the critical point (source: iapws-if97, region 4). It is a second saturation
// formula beside the handbook's: that one reaches into ice, this one turns
// round in closed form and goes on over 100 °C.
const (
	steamColdest = 0.0      // °C; the formulation's own range, as the next three
	steamHottest = 373.946  // °C, critical point
	steamLeast   = 0.611213 // kPa, at 0 °C
	steamMost    = 22064.0  // kPa, at the critical point
)

// steam are the coefficients of the line, n1 to n10 (source: iapws-if97, table 34).
var steam = [...]float64{
	0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
	0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
}

// SteamPressure returns the pressure at which water of a temperature boils.
//
//	p = (2C / (−B + √(B² − 4AC)))⁴ MPa, A, B, C quadratic in ϑ = T + n9/(T − n10)
//
// Contract:
//
//   - Quantity: pressure of saturated steam, kPa
//   - Inputs: t, °C
//   - Valid: 0 to 373.946 °C; outside: fault.OutOfRange
//   - Assumes: pure water
//   - Error: 0.05 % (the formulation's own)
//   - Source: iapws-if97
//   - Checked: published/check-psychrometrics.csv; property: round trip with BoilingPointAt
func SteamPressure(t measure.Temperature) (measure.Pressure, error) {
	if err := measure.Inside("temperature", "the temperature of the water", t, steamColdest, steamHottest, "°C"); err != nil {
		return 0, err
	}
	n, k := steam, float64(t)+kelvin
	theta := k + n[8]/(k-n[9])
	a := theta*theta + n[0]*theta + n[1]
	b := n[2]*theta*theta + n[3]*theta + n[4]
	c := n[5]*theta*theta + n[6]*theta + n[7]
	root := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return measure.Pressure(math.Pow(root, 4) * 1000), nil // eq. 30, MPa to kPa
}

// BoilingPointAt returns the temperature at which water boils under a pressure.
//
//	T = (n10 + D − √((n10 + D)² − 4 (n9 + n10 D))) / 2, D = 2G / (−F − √(F² − 4EG)), β = p^¼
//
// Contract:
//
//   - Quantity: boiling point, °C
//   - Inputs: p pressure, kPa
//   - Valid: 0.611213 to 22064 kPa; outside: fault.OutOfRange
//   - Assumes: pure water; alkali and salt raise it by under 1 °C in a cooking liquor
//   - Error: 0.015 °C near 100 °C (0.05 % of the pressure)
//   - Source: iapws-if97
//   - Checked: published/check-psychrometrics.csv; property: round trip with SteamPressure
func BoilingPointAt(p measure.Pressure) (measure.Temperature, error) {
	if err := measure.Inside("pressure", "the pressure", p, steamLeast, steamMost, "kPa"); err != nil {
		return 0, err
	}
	n, beta := steam, math.Pow(float64(p)/1000, 0.25)
	e := beta*beta + n[2]*beta + n[5]
	f := n[0]*beta*beta + n[3]*beta + n[6]
	g := n[1]*beta*beta + n[4]*beta + n[7]
	d := n[9] + 2*g/(-f-math.Sqrt(f*f-4*e*g))
	k := (d - math.Sqrt(d*d-4*(n[8]+n[9]*(d-n[9])))) / 2 // eq. 31
	return measure.Temperature(k - kelvin), nil
}

// BoilingPoint returns the temperature at which water boils in an open pot at
// an altitude, in standard weather.
//
//	T = boiling point at 101.325 (1 − 2.25577e-5 z)^5.2559 kPa
//
// Contract:
//
//   - Quantity: boiling point, °C
//   - Inputs: altitude, metres above sea level
//   - Valid: -500 to 5000 m; outside: fault.OutOfRange
//   - Assumes: standard weather; real weather moves it by up to 1 °C
//   - Error: 0.02 °C in standard weather
//   - Source: derived from iapws-if97 and ashrae-psychrometrics
//   - Checked: published/check-psychrometrics.csv
func BoilingPoint(altitude measure.Altitude) (measure.Temperature, error) {
	p, err := AtmosphericPressure(altitude)
	if err != nil {
		return 0, err
	}
	return BoilingPointAt(p)
}
