package costing

import (
	"vatside/internal/measure"
)

// mostWet is the wettest lot that is still sold by weight: nine parts of water
// in ten. Beyond it the price is that of water.
const mostWet measure.MoistureWet = 0.95

// AsItLies returns the price of a kilogram of a lot as it lies now, when it was
// bought at another moisture: what was paid for is its solids.
//
//	price now = price bought · (1 − moisture now) / (1 − moisture bought)
//
// Contract:
//
//   - Quantity: price of a kilogram as it lies, major units of the studio's currency
//   - Inputs: price per kilogram as bought, major units; bought, now: moisture on wet basis, fractions
//   - Valid: price 0 to 1,000,000,000; both moistures 0 to 0.95; outside: fault.OutOfRange
//   - Assumes: the lot lost or took up water and nothing else
//   - Error: exact; a moisture guessed 2 points wrong moves the price by about 2 %
//   - Source: derived, docs/models/costing.md
//   - Checked: published/check-costing.csv; property: the whole lot keeps its worth, and there and back is the same
func AsItLies(pricePerKg measure.Cost, bought, now measure.MoistureWet) (measure.Cost, error) {
	if err := measure.Inside("price_per_kg", "the price per kilogram", pricePerKg, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("bought", "the moisture as bought, as a fraction of the weight,", bought, 0, mostWet, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("now", "the moisture now, as a fraction of the weight,", now, 0, mostWet, ""); err != nil {
		return 0, err
	}
	return pricePerKg * measure.Cost((1-now)/(1-bought)), nil
}

// HourlyOverhead returns what rent, power, wear and office cost for each hour
// of work that is paid for. It is the other way to carry overhead: by the hour
// instead of by a share of the direct cost.
//
//	overhead = yearly cost / hours
//
// Contract:
//
//   - Quantity: cost of an hour, major units of the studio's currency
//   - Inputs: yearly cost, major units; hours of the year spent on makings, h
//   - Valid: yearly 0 to 1,000,000,000; hours 1 to 10,000; outside: fault.OutOfRange
//   - Assumes: dear and cheap papers use the room alike, hour for hour
//   - Error: exact; hours on makings are fewer than hours in the studio
//   - Source: practice
//   - Checked: worked by hand: 6,000 over 1,200 h is 5; property: a year of hours carries the year's cost
func HourlyOverhead(yearly measure.Cost, hours measure.Hours) (measure.Cost, error) {
	if err := measure.Inside("yearly", "the overhead of a year", yearly, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("hours", "the hours on makings in a year", hours, 1, mostHours, ""); err != nil {
		return 0, err
	}
	return yearly / measure.Cost(hours), nil
}

// MinutesEach returns the working time of one sheet, everybody's hours
// counted, from the first step to the last.
//
//	minutes = 60 · hours · hands / sheets
//
// Contract:
//
//   - Quantity: working time of one sheet, min
//   - Inputs: hours the work lasted, h; hands, people at work; sheets made
//   - Valid: hours 0 to 10,000; hands 1 to 1,000; sheets 1 to 10,000,000; outside: fault.OutOfRange
//   - Assumes: all hands work all the hours
//   - Error: exact
//   - Source: derived, docs/models/costing.md
//   - Checked: published/check-costing.csv
func MinutesEach(hours measure.Hours, hands int, sheets measure.Sheets) (measure.Minutes, error) {
	if err := measure.Inside("hours", "the hours", hours, 0, mostHours, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("hands", "the number of people at work", hands, 1, 1000, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("sheets", "the number of sheets", sheets, 1, mostSheets, ""); err != nil {
		return 0, err
	}
	return measure.Minutes(60 * float64(hours) * float64(hands) / float64(sheets)), nil
}
