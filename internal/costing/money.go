package costing

import (
	"math"
	"strconv"

	"github.com/bojanz/currency"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Money returns a cost as people in that locale write it, rounded to the
// currency's smallest coin, halves away from nought: "€8.05", "8,05 €", "¥805". An unknown or empty
// locale is written as in English. A correction may be negative.
//
// Contract:
//
//   - Quantity: text of an amount of money
//   - Inputs: cost, major units; code, three letters (iso-4217); locale, such as en, de-CH, ja
//   - Valid: −1e9 to 1e9, else fault.OutOfRange; a code of iso-4217, else fault.Invalid
//   - Assumes: what is beyond the ninth decimal is an error of reckoning, not meant
//   - Error: half a smallest coin
//   - Source: iso-4217
//   - Checked: worked by hand in four currencies with 0, 2 and 3 digits
func Money(cost measure.Cost, code, locale string) (string, error) {
	a, err := amount(cost, code)
	if err != nil {
		return "", err
	}
	return currency.NewFormatter(currency.NewLocale(locale)).Format(a), nil
}

// MinorUnits returns a cost in the currency's smallest coin, rounded as Money does:
// the form in which money is stored.
//
// Contract:
//
//   - Quantity: whole smallest coins
//   - Inputs: cost, major units; code, three letters (iso-4217)
//   - Valid: −1e9 to 1e9, else fault.OutOfRange; a code of iso-4217, else fault.Invalid
//   - Assumes: as Money
//   - Error: half a smallest coin
//   - Source: iso-4217
//   - Checked: worked by hand; property: FromMinor takes it back
func MinorUnits(cost measure.Cost, code string) (int64, error) {
	a, err := amount(cost, code)
	if err != nil {
		return 0, err
	}
	n, err := a.Int64()
	if err != nil {
		return 0, fault.OutOfRange("cost", "the amount does not fit: it must be between %.0f and %.0f", -float64(mostCost), float64(mostCost))
	}
	return n, nil
}

// FromMinor returns the cost of so many smallest coins.
//
// Contract:
//
//   - Quantity: cost, major units
//   - Inputs: n smallest coins; code, three letters (iso-4217)
//   - Valid: the amount within −1e9 to 1e9, else fault.OutOfRange; a code of iso-4217, else fault.Invalid
//   - Assumes: nothing
//   - Error: exact to a part in 10^15
//   - Source: iso-4217
//   - Checked: worked by hand; property: MinorUnits takes it back
func FromMinor(n int64, code string) (measure.Cost, error) {
	digits, ok := currency.GetDigits(code)
	if !ok {
		return 0, unknownCode(code)
	}
	cost := measure.Cost(float64(n) / math.Pow10(int(digits)))
	if err := within(cost); err != nil {
		return 0, err
	}
	return cost, nil
}

// amount is a cost as an exact decimal, rounded to the smallest coin.
func amount(cost measure.Cost, code string) (currency.Amount, error) {
	if err := within(cost); err != nil {
		return currency.Amount{}, err
	}
	if _, ok := currency.GetDigits(code); !ok {
		return currency.Amount{}, unknownCode(code)
	}
	// Nine decimals, not the binary value: a sum meant as 1.005 is a hair below
	// it as a float and would round down.
	a, err := currency.NewAmount(strconv.FormatFloat(float64(cost), 'f', 9, 64), code)
	if err != nil {
		return currency.Amount{}, fault.Invalid("cost", "the amount cannot be read as money: %v", err)
	}
	return a.Round(), nil
}

func within(cost measure.Cost) error {
	if math.IsNaN(float64(cost)) || cost < -mostCost || cost > mostCost {
		return fault.OutOfRange("cost", "an amount of money must be between %.0f and %.0f", -float64(mostCost), float64(mostCost))
	}
	return nil
}

func unknownCode(code string) error {
	return fault.Invalid("currency", "%q is not a currency: three letters such as EUR, GBP, JPY or USD", code)
}
