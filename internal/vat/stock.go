package vat

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// StockFor returns the stock that holds a mass of solids.
//
//	V = m / c
//
// Contract:
//
//   - Quantity: volume of stock, L
//   - Inputs: m bone-dry solids, g; c consistency, g/L
//   - Valid: 0 ≤ m ≤ 100 kg; 0 < c ≤ 500 g/L; outside: fault.OutOfRange
//   - Assumes: well stirred
//   - Error: as the consistency
//   - Source: definition
//   - Checked: published/check-sheet-making.csv, laboratory sheets and one dip (SH008, SH011, SH012, SH028)
func StockFor(m measure.Mass, c measure.Consistency) (measure.Volume, error) {
	if !measure.Within(m, 0, 1e5) {
		return 0, fault.OutOfRange("", "A mass must be between 0 and 100 kg here; this says %.4g g.", float64(m))
	}
	if err := checkStock(c); err != nil {
		return 0, err
	}
	return measure.Volume(float64(m) / float64(c)), nil
}

// WaterToThin returns the water that brings stock to a thinner consistency.
//
//	V_water = V · (c / c_thin − 1)
//
// Contract:
//
//   - Quantity: water to add, L
//   - Inputs: V stock, L; c its consistency, c_thin the one wanted, g/L
//   - Valid: 0 ≤ V ≤ 10,000; 0 < c_thin ≤ c ≤ 500 g/L; outside: fault.OutOfRange
//   - Assumes: volumes add
//   - Error: as the consistency
//   - Source: derived, conservation of fibre
//   - Checked: published/check-sheet-making.csv, SH013; fibre is kept
func WaterToThin(v measure.Volume, c, thin measure.Consistency) (measure.Volume, error) {
	if !measure.Within(v, 0, MostVat) {
		return 0, fault.OutOfRange("", "A volume of stock must be between 0 and 10,000 L; this says %.4g L.", float64(v))
	}
	if err := fault.First(checkStock(c), checkStock(thin)); err != nil {
		return 0, err
	}
	if thin > c {
		return 0, fault.OutOfRange("", "Water only thins: the consistency wanted must be at most the %.4g g/L there is; this says %.4g g/L.", float64(c), float64(thin))
	}
	return measure.Volume(float64(v) * (float64(c)/float64(thin) - 1)), nil
}

// LeastVolume returns the vat in which pulling one sheet of a known mass thins
// the stock by no more than a share. Balance.LeastVolume is the same for a
// sheet known by its area and depth.
//
//	V = m / (c · d)
//
// Contract:
//
//   - Quantity: vat volume, L
//   - Inputs: m bone-dry solids of one sheet, g; c consistency, g/L; d greatest share of the vat's fibre one sheet may take, fraction
//   - Valid: m and c as StockFor; 0 < d ≤ 1; outside: fault.OutOfRange
//   - Assumes: water carried off is small beside the stock taken
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: a 20 cm round of 3.14 g at 5 g/L needs 12.6 L for 5 % (common practice); agrees with Balance.LeastVolume
func LeastVolume(m measure.Mass, c measure.Consistency, d measure.Share) (measure.Volume, error) {
	if !measure.Finite(d) || d <= 0 || d > 1 {
		return 0, fault.OutOfRange("", "The share one sheet may take must be above 0 and at most 100 %%; this says %.4g %%.", float64(d)*100)
	}
	taken, err := StockFor(m, c)
	return taken / measure.Volume(d), err
}

func checkStock(c measure.Consistency) error {
	if !measure.Finite(c) || c <= 0 || c > 500 {
		return fault.OutOfRange("", "A consistency must be above 0 and at most 500 g/L; this says %.4g g/L.", float64(c))
	}
	return nil
}
