package cooking

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Solution is what alkali puts into water: moles to a kilogram of it.
type Solution struct {
	Sodium, Potassium, Calcium float64
	Carbonate                  float64
}

// mostSalt is the strongest that is answered, mol/kg of any ion. The balance was
// held against print to 100 g of alkali to a kilogram, 1.9 to 2.5 mol/kg of sodium.
const mostSalt = 3.0

// Interaction of hydroxide, carbonate and bicarbonate with sodium and potassium,
// kg/mol; ± 0.03 (source: specific-ion-interaction). What is not named is 0.
const (
	naOH, kOH     = 0.04, 0.09
	naCO3, kCO3   = -0.08, 0.02
	naHCO3, kHCO3 = 0.0, -0.06
	ionSize       = 1.5 // kg½/mol½, the same for all in this theory
)

// caOH is the equilibrium constant of Ca++ + OH- = CaOH+, log10; ± 0.05 (source:
// alkali-solutions-usgs).
var caOH = math.Pow(10, 1.22)

// waterK is the logarithm of the ion product of water; -13.995 at 25 °C (source:
// alkali-solutions-usgs, the coefficients from memory).
func waterK(t measure.Temperature) float64 {
	k := float64(t) + kelvin
	return 293.29227 + 0.1360833*k - 10576.913/k - 123.73158*math.Log10(k) - 6.996455e-5*k*k
}

// carbonateK is the logarithm of the second constant of carbonic acid, HCO3- =
// H+ + CO3--; -10.329 at 25 °C (source: plummer-busenberg-1982, the
// coefficients from memory).
func carbonateK(t measure.Temperature) float64 {
	k := float64(t) + kelvin
	return -107.8871 - 0.03252849*k + 5151.79/k + 38.92561*math.Log10(k) - 563713.9/(k*k)
}

// slope is the slope of the logarithm of activity in water, 0.509 at 25 °C,
// from the dielectric constant of water and its density (source:
// dielectric-water-1956, the coefficients from memory).
func slope(t measure.Temperature) float64 {
	c, k := float64(t), float64(t)+kelvin
	epsilon := 87.740 - 0.40008*c + 9.398e-4*c*c - 1.410e-6*c*c*c
	density := 1 - (c-4)*(c-4)/2.15e5 // g/mL, within 0.004 to 100 °C
	return 1.82483e6 * math.Sqrt(density) / math.Pow(epsilon*k, 1.5)
}

// PHOf returns the pH of an alkaline solution before fibre goes in.
//
//	[Na] + [K] + 2[Ca] + [CaOH] + [H] = [OH] + [HCO3] + 2[CO3]
//	log γ = −z² A√I/(1 + 1.5√I) + Σ ε·m
//
// A hot liquor reads lower though it is stronger: water itself splits more, so
// the same hydroxide stands at a lower pH. Compare readings at one temperature.
//
// Contract:
//
//   - Quantity: pH
//   - Inputs: s moles of sodium, potassium, calcium and carbonate to a kilogram of water; t temperature, °C
//   - Valid: each 0 to 3 mol/kg; alkaline, metal charge at least that of carbonate; 0 to 100 °C; outside: fault.OutOfRange
//   - Assumes: all dissolved; no air, no fibre, pure alkali; carbon dioxide as such is left out, which holds above pH 8.5
//   - Error: 0.1 at 20 to 25 °C and 1 to 50 g/kg; 0.2 up to 100 °C and to 100 g/kg; unchecked beyond; a meter in strong soda reads 0.1 to 0.3 low
//   - Source: alkali-solutions-usgs; specific-ion-interaction; plummer-busenberg-1982; dielectric-water-1956
//   - Checked: published/alkali-solution-ph.csv, published/check-cooking.csv; property: more alkali, higher pH
func PHOf(s Solution, t measure.Temperature) (PH, error) {
	for _, v := range []measure.Number{measure.Number(s.Sodium), measure.Number(s.Potassium), measure.Number(s.Calcium), measure.Number(s.Carbonate)} {
		if err := measure.Inside("solution", "each ion", v, 0, mostSalt, "mol/kg"); err != nil {
			return 0, err
		}
	}
	if err := measure.Inside("temperature", "the liquor", t, coldest, hottest, "°C"); err != nil {
		return 0, err
	}
	if metal := s.Sodium + s.Potassium + 2*s.Calcium; metal < 2*s.Carbonate*(1-1e-9) {
		return 0, fault.OutOfRange("solution", "the carbonate must be at most half the metal's charge: this is baking soda or sourer, and no cooking liquor")
	}
	water, second, a := math.Pow(10, waterK(t)), math.Pow(10, carbonateK(t)), slope(t)
	low, high := 4.0, 16.0
	for high-low > 1e-6 {
		mid := (low + high) / 2
		if s.charge(mid, water, second, a) > 0 {
			low = mid // metal outweighs: more alkaline than that
		} else {
			high = mid
		}
	}
	return PH((low + high) / 2), nil
}

// charge is the positive less the negative charge in a kilogram of water, mol,
// were its pH as given.
func (s Solution) charge(ph, water, second, a float64) float64 {
	h := math.Pow(10, -ph)
	salt := s.Sodium + s.Potassium + s.Calcium + s.Carbonate
	strength, charge := salt, 0.0
	for range 40 { // the activities settle in a few rounds
		root := math.Sqrt(strength)
		d := a * root / (1 + ionSize*root)
		gamma := func(z, na, k float64) float64 {
			return math.Pow(10, -z*z*d+na*s.Sodium+k*s.Potassium)
		}
		one := gamma(1, 0, 0)
		oh := water * activity(2*(s.Sodium+s.Potassium)+3*s.Calcium-s.Carbonate) / (h * gamma(1, naOH, kOH))
		// bicarbonate to a mole of carbonate
		bi := h / second * gamma(2, naCO3, kCO3) / gamma(1, naHCO3, kHCO3)
		carbonate := s.Carbonate / (1 + bi)
		paired := caOH * gamma(2, 0, 0) * gamma(1, naOH, kOH) / one * oh // to a mole of free calcium
		free := s.Calcium / (1 + paired)
		charge = s.Sodium + s.Potassium + 2*free + free*paired + h/one - oh - carbonate*bi - 2*carbonate
		// Far from balance the ions are past counting: there the sign is enough.
		strength = min(6, (s.Sodium+s.Potassium+4*free+free*paired+h/one+oh+carbonate*bi+4*carbonate)/2)
	}
	return charge
}

// activity is that of the water itself, by Raoult's law on all ions that are
// dissolved, mol/kg: the metals, carbonate, and the hydroxide that makes up the
// charge. 0.90 at the strongest.
func activity(dissolved float64) float64 { return 1 / (1 + dissolved/55.51) }

// Plus returns what two alkalis put into one water.
func (s Solution) Plus(other Solution) Solution {
	return Solution{s.Sodium + other.Sodium, s.Potassium + other.Potassium, s.Calcium + other.Calcium, s.Carbonate + other.Carbonate}
}

// Dissolved returns what a mass of alkali puts into water: slaked lime only as
// far as it dissolves.
func Dissolved(a Alkali, perKilogram measure.Mass, t measure.Temperature) (Solution, error) {
	if a.Takes == 0 {
		return Solution{}, fault.Invalid("alkali", "it must be one that is on the shelf, such as soda ash")
	}
	if err := measure.Inside("alkali", "the alkali", perKilogram, 0, 900, "g to a kilogram of water"); err != nil {
		return Solution{}, err
	}
	n := float64(perKilogram) / a.mole()
	switch a.Formula {
	case "NaOH":
		return Solution{Sodium: n}, nil
	case "KOH":
		return Solution{Potassium: n}, nil
	case "K2CO3":
		return Solution{Potassium: 2 * n, Carbonate: n}, nil
	case "Ca(OH)2":
		most, err := LimeDissolves(t)
		return Solution{Calcium: min(n, float64(most)/a.mole())}, err
	}
	return Solution{Sodium: 2 * n, Carbonate: n}, nil // soda ash and its hydrates
}

// curve is a quantity against temperature in equal or unequal steps.
type curve []struct{ at, is float64 }

// read goes straight between the points and stays level beyond them.
func (c curve) read(at float64) float64 {
	for i := 1; i < len(c); i++ {
		if at < c[i].at {
			share := max(0, (at-c[i-1].at)/(c[i].at-c[i-1].at))
			return c[i-1].is + share*(c[i].is-c[i-1].is)
		}
	}
	return c[len(c)-1].is
}

// Solubilities against °C: lime in g to a kilogram of water, soda ash in g to
// 100 g; ± 4 % (sources: lime-solubility, soda-solubility). The lime's 50 °C is
// printed as 1.38 and meant as 1.28. The soda ash's peak at 35 °C is stated.
var (
	limeCurve = curve{{0, 1.85}, {10, 1.76}, {20, 1.65}, {30, 1.53}, {40, 1.41}, {50, 1.28}, {60, 1.16}, {70, 1.06}, {80, 0.98}, {100, 0.82}}
	sodaCurve = curve{{0, 7}, {10, 12.2}, {20, 21.8}, {25, 29.4}, {30, 39.7}, {35.4, 49.7}, {40, 48.8}, {50, 47.3}, {60, 46.4}, {80, 45.1}, {100, 44.7}}
)

// LimeDissolves returns the slaked lime that a kilogram of water takes up.
//
//	straight between the points of the table
//
// Contract:
//
//   - Quantity: calcium hydroxide, g to a kilogram of water
//   - Inputs: t temperature, °C
//   - Valid: 0 to 100 °C; outside: fault.OutOfRange
//   - Assumes: pure water and lime; soda in it takes the calcium out as chalk
//   - Error: 4 % to 40 °C, 10 % above; over 70 °C the points are remembered
//   - Source: lime-solubility
//   - Checked: published/limewater.csv, another program and data base within 16 %; published/check-cooking.csv is a transcription of the same table
func LimeDissolves(t measure.Temperature) (measure.Mass, error) {
	if err := measure.Inside("temperature", "the water", t, coldest, hottest, "°C"); err != nil {
		return 0, err
	}
	return measure.Mass(limeCurve.read(float64(t))), nil
}

// SodaAshDissolves returns the soda ash that a kilogram of water takes up.
//
//	straight between the points of the table
//
// Contract:
//
//   - Quantity: sodium carbonate without water, g to a kilogram of water
//   - Inputs: t temperature, °C
//   - Valid: 0 to 100 °C; outside: fault.OutOfRange
//   - Assumes: pure water
//   - Error: 2 %; 3 % between the points around 35 °C
//   - Source: soda-solubility
//   - Checked: published/check-cooking.csv: a transcription of the same table, and one value of another
func SodaAshDissolves(t measure.Temperature) (measure.Mass, error) {
	if err := measure.Inside("temperature", "the water", t, coldest, hottest, "°C"); err != nil {
		return 0, err
	}
	return measure.Mass(10 * sodaCurve.read(float64(t))), nil
}
