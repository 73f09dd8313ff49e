package costing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Limits of what is taken for one making: beyond them a slip of the keyboard
// is likelier than the thing.
const (
	mostHours  measure.Hours  = 10_000        // five years of one person
	mostMass   measure.Mass   = 10_000_000    // g, ten tonnes
	mostSheets measure.Sheets = 10_000_000    //
	mostCost   measure.Cost   = 1_000_000_000 // major units
	mostShare  measure.Share  = 10            // an overhead of ten times the direct cost
)

// What faulty sheets are sold at less, a share of the full price
// (modern-paper-making; a trade's allowance, others give more).
const (
	RetreeOff measure.Share = 0.10
	BrokenOff measure.Share = 0.20
)

// Labour returns what working hours cost.
//
//	labour = hours · rate
//
// Contract:
//
//   - Quantity: cost, major units of the studio's currency
//   - Inputs: hours hands-on, h; rate per hour, major units
//   - Valid: hours 0 to 10,000; rate 0 to 1,000,000,000; outside: fault.OutOfRange
//   - Assumes: one rate; waiting is not paid
//   - Error: exact
//   - Source: derived, docs/models/costing.md
//   - Checked: published/price-of-a-sheet.csv
func Labour(hours measure.Hours, rate measure.Cost) (measure.Cost, error) {
	if err := measure.Inside("hours", "the hours", hours, 0, mostHours, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("rate", "the rate per hour", rate, 0, mostCost, ""); err != nil {
		return 0, err
	}
	return rate * measure.Cost(hours), nil
}

// Material returns what a mass of material costs.
//
//	material = mass / 1000 · price
//
// Contract:
//
//   - Quantity: cost, major units of the studio's currency
//   - Inputs: mass as bought, g (air-dry, not bone-dry); price per kilogram as bought, major units
//   - Valid: mass 0 to 10,000,000 g; price 0 to 1,000,000,000; outside: fault.OutOfRange
//   - Assumes: the price holds for the whole mass
//   - Error: exact
//   - Source: derived, docs/models/costing.md
//   - Checked: worked by hand: 1102 g at 18.50 is 20.387
func Material(mass measure.Mass, pricePerKg measure.Cost) (measure.Cost, error) {
	if err := measure.Inside("mass", "the mass in grams", mass, 0, mostMass, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("price_per_kg", "the price per kilogram", pricePerKg, 0, mostCost, ""); err != nil {
		return 0, err
	}
	return pricePerKg * measure.Cost(mass/1000), nil // 1000 g in a kilogram
}

// WithOverhead returns a direct cost with a share on top for rent, power, wear
// and office.
//
//	total = direct · (1 + share)
//
// Contract:
//
//   - Quantity: cost, major units of the studio's currency
//   - Inputs: direct cost, major units; share, the overhead as a fraction of it
//   - Valid: direct 0 to 1,000,000,000; share 0 to 10; outside: fault.OutOfRange
//   - Assumes: overhead follows the direct cost
//   - Error: exact; the share is the studio's own judgement
//   - Source: practice
//   - Checked: worked by hand: 200 with 15 % is 230; property: share 0 changes nothing
func WithOverhead(direct measure.Cost, share measure.Share) (measure.Cost, error) {
	if err := measure.Inside("direct", "the direct cost", direct, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("overhead", "the overhead as a share of the direct cost", share, 0, mostShare, ""); err != nil {
		return 0, err
	}
	return direct * measure.Cost(1+share), nil
}

// PerGoodSheet returns what each good sheet must bring so that the making is
// paid for, the lost sheets with it.
//
//	cost per good sheet = total / good
//
// Contract:
//
//   - Quantity: cost of one good sheet, major units of the studio's currency
//   - Inputs: total of the making, major units; good sheets
//   - Valid: total 0 to 1,000,000,000; good 1 to 10,000,000; outside: fault.OutOfRange
//   - Assumes: retree, broken and broke bring nothing
//   - Error: exact; on the safe side where retree is sold
//   - Source: derived, docs/models/costing.md
//   - Checked: published/price-of-a-sheet.csv
func PerGoodSheet(total measure.Cost, good measure.Sheets) (measure.Cost, error) {
	if err := measure.Inside("total", "the total cost", total, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("good", "the number of good sheets", good, 1, mostSheets, ""); err != nil {
		return 0, err
	}
	return total / measure.Cost(good), nil
}

// PerGoodFromMade returns the cost of a good sheet from that of a made one.
//
//	per good = per made / (1 − rejected)
//
// Contract:
//
//   - Quantity: cost of one good sheet, major units of the studio's currency
//   - Inputs: cost of one made sheet, major units; rejected, the share of made sheets that are not good
//   - Valid: cost 0 to 1,000,000,000; rejected 0 to 0.99; outside: fault.OutOfRange
//   - Assumes: rejected sheets bring nothing
//   - Error: exact
//   - Source: derived, docs/models/costing.md
//   - Checked: published/price-of-a-sheet.csv; property: agrees with PerGoodSheet
func PerGoodFromMade(perMade measure.Cost, rejected measure.Share) (measure.Cost, error) {
	if err := measure.Inside("per_made", "the cost of a made sheet", perMade, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if math.IsNaN(float64(rejected)) || rejected < 0 || rejected > 0.99 {
		return 0, fault.OutOfRange("rejected", "the share rejected must be between 0 and 99 %%")
	}
	return perMade / measure.Cost(1-rejected), nil
}

// RetailFloor returns the lowest retail price at which sheets sold to a shop,
// at its share of that price, still pay for themselves.
//
//	retail = cost / share
//
// Contract:
//
//   - Quantity: price of one sheet, major units of the studio's currency
//   - Inputs: cost of a good sheet, major units; wholesale, the share of the retail price a shop pays
//   - Valid: cost 0 to 1,000,000,000; wholesale 0.05 to 1; outside: fault.OutOfRange
//   - Assumes: no tax in either price
//   - Error: exact; that shops pay half is customary
//   - Source: practice
//   - Checked: worked by hand: 8.05 at half is 16.10; property: at 1 it is the cost
func RetailFloor(perGood measure.Cost, wholesale measure.Share) (measure.Cost, error) {
	if err := measure.Inside("per_good", "the cost of a good sheet", perGood, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if math.IsNaN(float64(wholesale)) || wholesale < 0.05 || wholesale > 1 {
		return 0, fault.OutOfRange("wholesale", "the share of the retail price a shop pays must be between 5 and 100 %%")
	}
	return perGood / measure.Cost(wholesale), nil
}

// Graded returns the price of a faulty sheet.
//
//	price = full · (1 − off)
//
// Contract:
//
//   - Quantity: price of one sheet, major units of the studio's currency
//   - Inputs: full price, major units; off, the allowance as a share of it (RetreeOff, BrokenOff)
//   - Valid: full 0 to 1,000,000,000; off 0 to 1; outside: fault.OutOfRange
//   - Assumes: one allowance for a grade
//   - Error: exact
//   - Source: modern-paper-making
//   - Checked: worked by hand: 10.00 is 9.00 as retree and 8.00 as broken
func Graded(full measure.Cost, off measure.Share) (measure.Cost, error) {
	if err := measure.Inside("full", "the full price", full, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("off", "the allowance as a share of the price", off, 0, 1, ""); err != nil {
		return 0, err
	}
	return full * measure.Cost(1-off), nil
}
