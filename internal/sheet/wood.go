package sheet

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// WoodMoisture returns the moisture that wood settles at in a room: drying
// boards, mould and deckle frames, press boards. It is not for paper.
//
//	M = (18/W) · [ K·h/(1 − K·h) + (K₁·K·h + 2·K₁·K₂·K²·h²)/(1 + K₁·K·h + K₁·K₂·K²·h²) ]
//
// Contract:
//
//   - Quantity: moisture on dry basis, fraction
//   - Inputs: T temperature, °C; h relative humidity, fraction
//   - Valid: −5 ≤ T ≤ 60 °C; 0 ≤ h ≤ 0.95; outside: fault.OutOfRange
//   - Assumes: any common wood, given weeks; no varnish
//   - Error: within 0.06 points of the printed table; woods differ by a point (memory)
//   - Source: wood-emc-simpson-1998; wood-handbook
//   - Checked: published/emc-wood-table.csv, 192 of 193 cells (one is a misprint); published/check-moisture.csv; monotone in h
func WoodMoisture(t measure.Temperature, rh measure.RelHumidity) (measure.MoistureDry, error) {
	if !measure.Within(t, -5, 60) {
		return 0, fault.OutOfRange("", "A temperature must be between -5 and 60 °C for the moisture of wood; this says %.4g °C.", float64(t))
	}
	if !measure.Within(rh, 0, 0.95) {
		return 0, fault.OutOfRange("", "Relative humidity must be between 0 and 95 %% for the moisture of wood; this says %.4g %%.", float64(rh)*100)
	}
	x := float64(t)
	// coefficients in °C, [wood-emc-simpson-1998]
	w := 349 + 1.29*x + 0.0135*x*x
	k := 0.805 + 0.000736*x - 0.00000273*x*x
	k1 := 6.27 - 0.00938*x - 0.000303*x*x
	k2 := 1.91 + 0.0407*x - 0.000293*x*x
	a := k * float64(rh)
	return measure.MoistureDry(18 / w * (a/(1-a) + (k1*a+2*k1*k2*a*a)/(1+k1*a+k1*k2*a*a))), nil
}
