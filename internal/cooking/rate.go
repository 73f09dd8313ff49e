package cooking

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

const (
	// gas is the gas constant, J/(mol K), exact (source: definition).
	gas = 8.314462618
	// boil is where a cook is counted from, °C.
	boil measure.Temperature = 100
)

// Activation returns how steeply cooking goes with temperature, kJ/mol: of
// kenaf bast under pressure in another liquor, so of low confidence; 60 to 107.5
// is the band. The studio's own cooks replace it (Law).
func Activation() source.Value {
	v := source.Said(60, 81.6, 107.5, "kenaf-sulphate-pulp", "kenaf bast 81.6, core 107.5, under pressure in another liquor: low confidence for an open pot")
	v.Grade = source.Practice // carried over to another process, a study is no better
	return v
}

// TimeFactor returns how many times as long a cook takes at a temperature as at
// 100 °C.
//
//	f = exp(E/R · (1/T − 1/373.15))
//
// Contract:
//
//   - Quantity: time over time at 100 °C
//   - Inputs: t liquor, °C; e activation energy, kJ/mol, 60 to 107.5 around 81.6
//   - Valid: t 40 to 180 °C; e 20 to 200 kJ/mol; outside: fault.OutOfRange
//   - Assumes: one reaction, the same from first to last; low confidence: measured on another process
//   - Error: with the band of e 10 % at 1000 m, 18 % at 2000 m, 26 % at 3000 m
//   - Source: kenaf-sulphate-pulp; the law is Arrhenius's
//   - Checked: published/cook-altitude.csv; property: falls with temperature, 1 at 100 °C
func TimeFactor(t measure.Temperature, e measure.Number) (measure.Number, error) {
	if err := fault.First(
		measure.Inside("temperature", "the liquor", t, 40, 180, "°C"),
		measure.Inside("rate", "the activation energy", e, 20, 200, "kJ/mol"),
	); err != nil {
		return 0, err
	}
	return measure.Number(math.Exp(float64(e) * 1000 / gas * inverse(t))), nil
}

// inverse is 1/T less that at 100 °C, 1/K.
func inverse(t measure.Temperature) float64 {
	return 1/(float64(t)+kelvin) - 1/(float64(boil)+kelvin)
}

// HoursAt returns how long a cook takes at a temperature.
//
//	h = h₁₀₀ · f(t)
//
// Contract:
//
//   - Quantity: cooking, h
//   - Inputs: sea hours at 100 °C; t liquor, °C; e activation energy, kJ/mol
//   - Valid: sea 0 to 100 h; t and e as TimeFactor; outside: fault.OutOfRange
//   - Assumes: as TimeFactor
//   - Error: as TimeFactor; the end test decides, not the clock
//   - Source: kenaf-sulphate-pulp
//   - Checked: property: round trip with HoursAtBoil
func HoursAt(sea measure.Hours, t measure.Temperature, e measure.Number) (measure.Hours, error) {
	if err := measure.Inside("hours", "the cook", sea, 0, 100, "h"); err != nil {
		return 0, err
	}
	f, err := TimeFactor(t, e)
	return sea * measure.Hours(f), err
}

// HoursAtBoil returns what hours at a temperature are worth at 100 °C.
//
//	h₁₀₀ = h / f(t)
//
// Contract:
//
//   - Quantity: cooking at 100 °C, h
//   - Inputs: clock hours at t; t liquor, °C; e activation energy, kJ/mol
//   - Valid: clock 0 to 500 h; t and e as TimeFactor; outside: fault.OutOfRange
//   - Assumes: as TimeFactor
//   - Error: as TimeFactor
//   - Source: kenaf-sulphate-pulp
//   - Checked: property: inverse of HoursAt
func HoursAtBoil(clock measure.Hours, t measure.Temperature, e measure.Number) (measure.Hours, error) {
	if err := measure.Inside("hours", "the cook", clock, 0, 500, "h"); err != nil {
		return 0, err
	}
	f, err := TimeFactor(t, e)
	if err != nil {
		return 0, err
	}
	return clock / measure.Hours(f), nil
}

// MillRate returns how fast wood is cooked in a mill at a temperature, by the
// scale that mills count cooks on. In an open pot it only compares: a whole
// cook makes 2 to 4 of it.
//
//	H' = exp(43.2 − 16115/T), an hour
//
// Contract:
//
//   - Quantity: relative rate, 1/h; 1 near 100 °C
//   - Inputs: t liquor, °C
//   - Valid: 40 to 200 °C; outside: fault.OutOfRange
//   - Assumes: wood in kraft liquor, 134 kJ/mol: steeper than bast
//   - Error: exact for the scale; printed tables reckon with 273 and lie 1.5 % lower
//   - Source: mill-cooking-scale
//   - Checked: published/check-cooking.csv, published/cooking-hemp-hurds-1916.csv
func MillRate(t measure.Temperature) (measure.Number, error) {
	if err := measure.Inside("temperature", "the liquor", t, 40, 200, "°C"); err != nil {
		return 0, err
	}
	return measure.Number(math.Exp(43.2 - 16115/(float64(t)+kelvin))), nil
}

// Point is the temperature of the pot at a time of the cook.
type Point struct {
	At   measure.Hours
	Temp measure.Temperature
}

// MillCook returns what a course of temperatures is worth on the mill's scale.
//
//	H = ∫ exp(43.2 − 16115/T) dt, straight between the readings
//
// Contract:
//
//   - Quantity: relative cooking, a number
//   - Inputs: readings in order of time, h and °C
//   - Valid: 2 to 1000 readings, times rising, 40 to 200 °C; outside: fault.OutOfRange
//   - Assumes: straight between readings
//   - Error: 0.01 % of the integral
//   - Source: mill-cooking-scale
//   - Checked: published/check-cooking.csv
func MillCook(readings []Point) (measure.Number, error) {
	if len(readings) < 2 || len(readings) > 1000 {
		return 0, fault.OutOfRange("readings", "there must be between 2 and 1000 readings of time and temperature")
	}
	sum := 0.0
	const steps = 200 // Simpson's rule on each stretch
	for i := 1; i < len(readings); i++ {
		a, b := readings[i-1], readings[i]
		if !(b.At >= a.At) || !measure.Finite(b.At) || !measure.Finite(a.At) {
			return 0, fault.OutOfRange("readings", "the times of the readings must rise between 0 and the end of the cook")
		}
		width := float64(b.At-a.At) / steps
		for k := range steps + 1 {
			r, err := MillRate(a.Temp + (b.Temp-a.Temp)*measure.Temperature(k)/steps)
			if err != nil {
				return 0, err
			}
			weight := 2.0
			switch {
			case k == 0 || k == steps:
				weight = 1
			case k%2 == 1:
				weight = 4
			}
			sum += weight * width / 3 * float64(r)
		}
	}
	return measure.Number(sum), nil
}
