package furnish

import (
	"math"

	"vatside/internal/measure"
)

// PH is the acidity of water: minus the logarithm of the activity of its
// hydrogen ions.
type PH float64

// Unit returns "": pH has none.
func (PH) Unit() string { return "" }

// Equilibria of calcite and carbonic acid in water at 25 °C, log10 (source:
// calcite-equilibrium; each within 0.02, calcite between -8.48 and -8.45).
var (
	carbonic1 = math.Pow(10, -6.352)  // CO2 + H2O = H+ + HCO3-
	carbonic2 = math.Pow(10, -10.329) // HCO3- = H+ + CO3--
	calcite   = math.Pow(10, -8.48)   // CaCO3 = Ca++ + CO3--
	water     = math.Pow(10, -14.0)
	dissolved = math.Pow(10, -1.468) // CO2 in water over its pressure in atmospheres; memory
)

// davies is the slope of the logarithm of activity in water at 25 °C; ± 0.001
// (source: calcite-equilibrium).
const davies = 0.509

// ChalkPH returns the acidity of water on chalk: what a reserve of chalk holds
// a wet paper at, and beyond which it cannot drive it.
//
//	2[Ca] + [H] = [HCO3] + 2[CO3] + [OH]
//
// Contract:
//
//   - Quantity: pH at 25 °C
//   - Inputs: co2 share of carbon dioxide in the air the water is in balance with; 0: no air, only chalk
//   - Valid: 0, or 1e-5 to 1; outside: fault.OutOfRange
//   - Assumes: pure calcite and water at balance at sea level; ion pairs left out; activities after Davies
//   - Error: 0.05; paper holds other salts and acids, so a sheet may read half a unit lower
//   - Source: calcite-equilibrium
//   - Checked: published/check-permanence.csv; property: more carbon dioxide, lower pH
func ChalkPH(co2 measure.Share) (PH, error) {
	if co2 != 0 {
		if err := checkShare("carbon dioxide in the air", co2, 1e-5, 1); err != nil {
			return 0, err
		}
	}
	low, high := 4.0, 12.0
	for high-low > 1e-6 {
		mid := (low + high) / 2
		if chargeOnChalk(mid, float64(co2)) > 0 {
			low = mid // calcium outweighs: the water is more alkaline than that
		} else {
			high = mid
		}
	}
	return PH((low + high) / 2), nil
}

// chargeOnChalk is the positive less the negative charge in a litre of water
// saturated with chalk, mol, were its pH as given.
func chargeOnChalk(ph, co2 float64) float64 {
	h := math.Pow(10, -ph) // an activity
	var charge, strength float64
	for range 30 { // the activities settle in a few rounds
		root := math.Sqrt(strength)
		one := math.Pow(10, -davies*(root/(1+root)-0.3*strength))
		two := math.Pow(one, 4)
		// Carbonate, by its activity: in balance with the air; or, without air,
		// all carbon came with as much calcium.
		carbonate := carbonic1 * carbonic2 * dissolved * co2 / (h * h)
		if co2 == 0 {
			all := h*h/(carbonic1*carbonic2) + h/(carbonic2*one) + 1/two
			carbonate = math.Sqrt(calcite / (two * all))
		}
		calcium, bicarbonate := calcite/(carbonate*two), carbonate*h/(carbonic2*one)
		hydrogen, hydroxide := h/one, water/(h*one)
		charge = 2*calcium + hydrogen - bicarbonate - 2*carbonate/two - hydroxide
		// Far from balance the ions are past counting: there the sign is enough.
		strength = min(0.5, (4*(calcium+carbonate/two)+hydrogen+bicarbonate+hydroxide)/2)
	}
	return charge
}
