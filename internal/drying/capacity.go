package drying

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Efficiency of a stack: the share of the air's capacity it really uses. The
// airflow of a real stack is as little known as the efficiency, so the two are
// one belief: what a weighed run reveals is their product.
const (
	// Efficiency is the prior's middle, a number, 0.2 to 0.6 (source: memory).
	Efficiency measure.Number = 0.35
	// EfficiencyLow and EfficiencyHigh are the ends of its 90 % band (source:
	// memory).
	EfficiencyLow  measure.Number = 0.2
	EfficiencyHigh measure.Number = 0.6
)

// Capacity returns the water a flow of room air can carry off at most: it
// enters as the room has it and leaves saturated at its wet bulb.
//
//	capacity = Q · ρ · (W(saturated at wet bulb) − W) · 3600
//
// Contract:
//
//   - Quantity: water carried off, kg/h
//   - Inputs: airflow Q through the stack, m³/s; t °C and rh of the room; altitude m; ρ is dry air per m³ of room air
//   - Valid: airflow 0 to 50 m³/s; t 0 to 80 °C; rh 0.01 to 1; altitude -500 to 5000 m; outside: fault.OutOfRange
//   - Assumes: no heat but the air's own; the room is aired, so its humidity holds
//   - Error: exact as a bound; real stacks reach 0.2 to 0.6 of it (from memory)
//   - Source: derived from ashrae-psychrometrics, docs/models/drying.md
//   - Checked: published/drying-power.csv; property: rises with airflow, falls with humidity, nothing at saturation
func Capacity(airflow measure.Airflow, t measure.Temperature, rh measure.RelHumidity, altitude measure.Altitude) (measure.Rate, error) {
	if err := measure.Inside("airflow", "the airflow", airflow, 0, 50, "m³/s"); err != nil {
		return 0, err
	}
	p, err := AtmosphericPressure(altitude)
	if err != nil {
		return 0, err
	}
	w, err := HumidityRatio(t, rh, p)
	if err != nil {
		return 0, err
	}
	gain, err := Uptake(t, rh, p)
	if err != nil {
		return 0, err
	}
	return measure.Rate(float64(airflow) * dryDensity(float64(t), float64(w), float64(p)) * float64(gain) * 3600), nil
}

// Uptake returns the vapour a kilogram of dry air can still take up on its way
// to saturation at its wet bulb.
//
//	ΔW = W(saturated at wet bulb) − W
//
// Contract:
//
//   - Quantity: gain in humidity ratio, kg water per kg dry air
//   - Inputs: t °C; rh relative humidity, a fraction; p kPa
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; p 50 to 110 kPa; outside: fault.OutOfRange
//   - Assumes: as WetBulb
//   - Error: 1 %
//   - Source: derived from ashrae-psychrometrics
//   - Checked: published/drying-power.csv
func Uptake(t measure.Temperature, rh measure.RelHumidity, p measure.Pressure) (measure.HumidityRatio, error) {
	w, err := HumidityRatio(t, rh, p)
	if err != nil {
		return 0, err
	}
	b, err := WetBulb(t, rh, p)
	if err != nil {
		return 0, err
	}
	return measure.HumidityRatio(max(0, ratio(saturation(float64(b)), float64(p))-float64(w))), nil
}

// HoursAtLeast returns the time under which no stack dries: all its water
// carried off at full capacity.
//
//	hours = water / capacity
//
// Contract:
//
//   - Quantity: drying time, h, at least
//   - Inputs: water to carry off, kg; capacity of the air, kg/h
//   - Valid: water 0 to 10000 kg; capacity over 0.000001 to 10000 kg/h; outside: fault.OutOfRange; no capacity at all: fault.Infeasible
//   - Assumes: weather holds
//   - Error: exact as a bound
//   - Source: derived
//   - Checked: published/drying-power.csv; property: rises with water, falls with airflow
func HoursAtLeast(water measure.Kilograms, capacity measure.Rate) (measure.Hours, error) {
	if err := measure.Inside("water", "the water to dry out", water, 0, 10000, "kg"); err != nil {
		return 0, err
	}
	if err := measure.Inside("capacity", "the capacity of the air", capacity, 0, 10000, "kg/h"); err != nil {
		return 0, err
	}
	if water == 0 {
		return 0, nil
	}
	if capacity < 1e-6 {
		return 0, fault.Infeasible("capacity", "air as damp as this carries no water off; warm the room, dry its air or wait for other weather")
	}
	return measure.Hours(float64(water) / float64(capacity)), nil
}

// HoursLearned returns the time a stack takes that uses only a share of the
// air's capacity.
//
//	hours = at least / efficiency
//
// Contract:
//
//   - Quantity: drying time, h
//   - Inputs: atLeast, the bound of HoursAtLeast, h; efficiency, a number
//   - Valid: atLeast 0 to 100000 h; efficiency 0.01 to 1; outside: fault.OutOfRange
//   - Assumes: the same stack, fan and blotters as in the run the efficiency was learned from
//   - Error: by the prior a factor of 1.7 either way; after one weighed run about 20 % (estimate)
//   - Source: derived
//   - Checked: published/drying-power.csv; property: never under the bound
func HoursLearned(atLeast measure.Hours, efficiency measure.Number) (measure.Hours, error) {
	err := fault.First(
		measure.Inside("at_least", "the bound on the hours", atLeast, 0, 100000, "h"),
		measure.Inside("efficiency", "the efficiency of the dryer", efficiency, 0.01, 1, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Hours(float64(atLeast) / float64(efficiency)), nil
}

// BlotterWater returns the water that blotters bring into the stack when they
// go in damp; dry blotters only pass on what the sheets give them.
//
//	water = blotters · dry mass · moisture above the room's / 1000
//
// Contract:
//
//   - Quantity: water to dry out on top of the sheets', kg
//   - Inputs: blotters, pieces; each, bone-dry grams of one; moisture above what room-dry blotters hold, on dry mass
//   - Valid: blotters 0 to 100000; each 0 to 10000 g; moisture 0 to 5; outside: fault.OutOfRange
//   - Assumes: blotters alike
//   - Error: as good as the weighing of one damp and one dry blotter
//   - Source: derived
//   - Checked: worked example; property: nothing for dry blotters
func BlotterWater(blotters int, each measure.Mass, moisture measure.MoistureDry) (measure.Kilograms, error) {
	err := fault.First(
		measure.Inside("blotters", "the number of blotters", blotters, 0, 100000, ""),
		measure.Inside("each", "the dry mass of a blotter", each, 0, 10000, "g"),
		measure.Inside("moisture", "the moisture of the blotters", moisture, 0, 5, "on dry mass"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Kilograms(float64(blotters) * float64(each) * float64(moisture) / 1000), nil
}
