package drying

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Season is the air of the drying room over a part of the year.
type Season struct {
	Name     string
	Temp     measure.Temperature
	Humidity measure.RelHumidity
}

// Year is the room's air over the year: one entry that always holds, four
// seasons from winter on, or twelve months from January on.
type Year []Season

// In returns the air of a month, 1 for January. A year of four starts with
// winter, which is December to February in the north and June to August in the
// south; a year of twelve is already the place's own.
func (y Year) In(month int, south bool) (Season, error) {
	if err := measure.Inside("month", "the month", month, 1, 12, ""); err != nil {
		return Season{}, err
	}
	switch len(y) {
	case 1:
		return y[0], nil
	case 4:
		if south {
			month += 6
		}
		return y[month%12/3], nil // December, 12, is 0: winter
	case 12:
		return y[month-1], nil
	}
	return Season{}, fault.Invalid("year", "the room's air is given once, for four seasons or for twelve months, not for %d", len(y))
}

// Factor returns how many times longer drying takes in a season than in the
// room that waiting times are stated for.
//
//	factor = WeatherFactor(temperature, humidity, altitude)
//
// Contract:
//
//   - Quantity: a factor on drying time
//   - Inputs: the season; altitude m
//   - Valid: as WeatherFactor
//   - Assumes: as WeatherFactor; the season's middle stands for every day in it
//   - Error: a wet week in a dry season takes half as long again or more; read the room's own meter on the day
//   - Source: derived from ashrae-psychrometrics
//   - Checked: as WeatherFactor; worked example
func (s Season) Factor(altitude measure.Altitude) (measure.Number, error) {
	return WeatherFactor(s.Temp, s.Humidity, altitude)
}
