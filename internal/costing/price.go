package costing

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Customs of pricing (common practice; every studio has its own).
const (
	OnMaterials  measure.Share  = 0.15 // put on fibre and chemicals for what is spilled, tested and fetched
	ShopPays     measure.Share  = 0.50 // of the retail price
	LeastRunFrom measure.Sheets = 20   // the smallest run taken on, for a watermark or a colour of one's own
	LeastRunTo   measure.Sheets = 50
)

// StudioFormula returns what a making must bring by the customary sum of small
// studios.
//
//	price = (materials · (1 + on materials) + labour) · (1 + overhead)
//
// Contract:
//
//   - Quantity: price of the whole making, major units of the studio's currency
//   - Inputs: materials and labour, major units; on materials (OnMaterials) and overhead, shares
//   - Valid: costs 0 to 1,000,000,000; shares 0 to 10; outside: fault.OutOfRange
//   - Assumes: watermark, colour to a sample and small runs are charged apart
//   - Error: exact; the shares are custom
//   - Source: practice
//   - Checked: worked by hand: 40 of materials and 120 of work with 15 % and 20 % are 199.20; property: without shares it is the plain sum
func StudioFormula(materials, labour measure.Cost, onMaterials, overhead measure.Share) (measure.Cost, error) {
	if err := measure.Inside("materials", "the cost of materials", materials, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("labour", "the cost of work", labour, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("on_materials", "what is put on materials, as a share,", onMaterials, 0, mostShare, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("overhead", "the overhead as a share of the direct cost", overhead, 0, mostShare, ""); err != nil {
		return 0, err
	}
	return (materials*measure.Cost(1+onMaterials) + labour) * measure.Cost(1+overhead), nil
}

// FloorWithSeconds returns the price of a good sheet when retree and broken are
// sold too, each at its allowance off that price, so that all together pay.
//
//	price = total / (good + (1 − RetreeOff)·retree + (1 − BrokenOff)·broken)
//
// Contract:
//
//   - Quantity: price of one good sheet, major units of the studio's currency
//   - Inputs: total of the making, major units; good, retree and broken sheets
//   - Valid: total 0 to 1,000,000,000; good 1 to 10,000,000; retree, broken 0 to 10,000,000; outside: fault.OutOfRange
//   - Assumes: every second finds a buyer; where that is not sure, PerGoodSheet is the safe side
//   - Error: exact; the allowances are a trade's custom
//   - Source: modern-paper-making
//   - Checked: worked by hand: 240 over 40 good, 10 retree and 5 broken is 240 / 53; property: what is sold pays the total, and it is PerGoodSheet without seconds
func FloorWithSeconds(total measure.Cost, good, retree, broken measure.Sheets) (measure.Cost, error) {
	if err := measure.Inside("total", "the total cost", total, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("good", "the number of good sheets", good, 1, mostSheets, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("retree", "the number of retree sheets", retree, 0, mostSheets, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("broken", "the number of broken sheets", broken, 0, mostSheets, ""); err != nil {
		return 0, err
	}
	worth := float64(good) + float64(1-RetreeOff)*float64(retree) + float64(1-BrokenOff)*float64(broken)
	return total / measure.Cost(worth), nil
}

// RunCharge returns the charge for a run, which never counts fewer sheets than
// the smallest run the studio takes on.
//
//	charge = set-up + per sheet · max(sheets, least)
//
// Contract:
//
//   - Quantity: charge for the run, major units of the studio's currency
//   - Inputs: set-up (watermark, colour, cleaning the beater) and cost per sheet, major units; sheets wanted; least, the smallest run
//   - Valid: costs 0 to 1,000,000,000; sheets and least 1 to 10,000,000; outside: fault.OutOfRange
//   - Assumes: set-up does not grow with the run
//   - Error: exact; smallest runs of 20 to 50 sheets are custom
//   - Source: practice
//   - Checked: worked by hand: 60 and 4 a sheet for 12 sheets of at least 25 is 160; property: never falls with the run
func RunCharge(setUp, perSheet measure.Cost, sheets, least measure.Sheets) (measure.Cost, error) {
	if err := runCosts(setUp, perSheet); err != nil {
		return 0, err
	}
	if err := measure.Inside("sheets", "the number of sheets", sheets, 1, mostSheets, ""); err != nil {
		return 0, err
	}
	if err := measure.Inside("least", "the smallest run", least, 1, mostSheets, ""); err != nil {
		return 0, err
	}
	return setUp + perSheet*measure.Cost(max(sheets, least)), nil
}

// LeastRun returns the smallest run that pays for its set-up at a price: what a
// minimum run rests on.
//
//	sheets = ⌈set-up / (price − per sheet)⌉
//
// Contract:
//
//   - Quantity: sheets, whole and at least one
//   - Inputs: set-up, cost per sheet and price of a sheet, major units
//   - Valid: costs 0 to 1,000,000,000; a price not above the cost of a sheet: fault.Infeasible; outside: fault.OutOfRange
//   - Assumes: as RunCharge
//   - Error: exact
//   - Source: derived, docs/models/costing.md
//   - Checked: worked by hand: 60 at 6.50 with 4 a sheet is 24; property: it pays, and one sheet fewer does not
func LeastRun(setUp, perSheet, price measure.Cost) (measure.Sheets, error) {
	if err := runCosts(setUp, perSheet); err != nil {
		return 0, err
	}
	if err := measure.Inside("price", "the price of a sheet", price, 0, mostCost, ""); err != nil {
		return 0, err
	}
	if price <= perSheet {
		return 0, fault.Infeasible("price", "no run pays for its set-up: the price of a sheet must be above what a sheet costs")
	}
	n := max(1, math.Ceil(float64(setUp/(price-perSheet))-1e-9)) // 1e-9 sheet: 60/2.5 is 24, not 25
	if n > float64(mostSheets) {
		return 0, fault.Infeasible("price", "no run pays for its set-up: the price is hardly above what a sheet costs")
	}
	return measure.Sheets(n), nil
}

func runCosts(setUp, perSheet measure.Cost) error {
	if err := measure.Inside("set_up", "the cost of setting up", setUp, 0, mostCost, ""); err != nil {
		return err
	}
	return measure.Inside("per_sheet", "the cost of a sheet", perSheet, 0, mostCost, "")
}
