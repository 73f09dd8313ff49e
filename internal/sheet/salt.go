package sheet

import (
	"math"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Salt keeps the air over its own wet slush at one humidity, by which a
// hygrometer is checked: a spoon of salt, wetted to a slush and not dissolved,
// beside the meter in a closed jar for a day.
type Salt struct {
	Formula     string
	Least, Most measure.Temperature // °C, where A and B hold
	A, B        float64             // RH = A·exp(B/T), %, T in kelvin
	Care        string              // why not to use it at home; "" for what a kitchen or garden has
}

// Reasons to leave a salt to laboratories, from memory; the maker's safety sheet
// goes first.
const (
	caustic  = "caustic: burns skin and eyes"
	oxidiser = "feeds fire"
	poison   = "poisonous"
	harmful  = "harmful: for laboratories"
)

// salts are the fixed points of [salt-humidity-handbook].
var salts = []Salt{
	{"NaOH.H2O", 15, 60, 5.48, 27, caustic},
	{"LiBr.2H2O", 10, 30, 0.23, 996, harmful},
	{"ZnBr2.2H2O", 5, 30, 1.69, 455, harmful},
	{"KOH.2H2O", 5, 30, 0.014, 1924, caustic},
	{"LiCl.H2O", 20, 65, 14.53, -75, harmful},
	{"CaBr2.6H2O", 11, 22, 0.17, 1360, harmful},
	{"LiI.3H2O", 15, 65, 0.15, 1424, harmful},
	{"CaCl2.6H2O", 15, 25, 0.11, 1653, ""},
	{"MgCl2.6H2O", 5, 45, 29.26, 34, ""},
	{"NaI.2H2O", 5, 45, 3.62, 702, harmful},
	{"Ca(NO3)2.4H2O", 10, 30, 1.89, 981, oxidiser},
	{"Mg(NO3)2.6H2O", 5, 35, 25.28, 220, oxidiser},
	{"NaBr.2H2O", 0, 35, 20.49, 308, harmful},
	{"NH4NO3", 10, 40, 3.54, 853, oxidiser},
	{"KI", 5, 30, 29.35, 254, harmful},
	{"SrCl2.6H2O", 5, 30, 31.58, 241, harmful},
	{"NaNO3", 10, 40, 26.94, 302, oxidiser},
	{"NaCl", 10, 40, 69.2, 25, ""},
	{"NH4Cl", 10, 40, 35.67, 235, harmful},
	{"KBr", 5, 25, 40.98, 203, harmful},
	{"(NH4)2SO4", 10, 40, 62.06, 79, ""},
	{"KCl", 5, 25, 49.38, 159, ""},
	{"Sr(NO3)2.4H2O", 5, 25, 28.34, 328, oxidiser},
	{"BaCl2.2H2O", 5, 25, 69.99, 75, poison},
	{"CsI", 5, 25, 70.77, 75, harmful},
	{"KNO3", 0, 50, 43.22, 225, oxidiser},
	{"K2SO4", 10, 50, 86.75, 34, ""},
}

// Salts are the salts with a known humidity, from the driest on.
func Salts() []Salt { return append([]Salt(nil), salts...) }

// SaltHumidity returns the relative humidity over a saturated salt.
//
//	RH = A · exp(B / (t + 273.15))
//
// Contract:
//
//   - Quantity: relative humidity, fraction
//   - Inputs: salt by its formula, with or without its water (MgCl2.6H2O, MgCl2); t temperature, °C
//   - Valid: the salts of Salts, each within its own temperatures; outside: fault.OutOfRange; another salt: fault.NotFound
//   - Assumes: slush and air closed in together, at one temperature, for a day
//   - Error: 2 points as the source says of most
//   - Source: salt-humidity-handbook
//   - Checked: published/salt-humidity-fixed-points.csv, 27 salts; published/check-moisture.csv; sodium chloride of [salt-humidity-nist-1954] to 0.5 points
func SaltHumidity(salt string, t measure.Temperature) (measure.RelHumidity, error) {
	bare := func(formula string) string {
		formula, _, _ = strings.Cut(formula, ".")
		return strings.ToLower(strings.TrimSpace(formula))
	}
	for _, s := range salts {
		if bare(s.Formula) != bare(salt) {
			continue
		}
		if !measure.Within(t, s.Least, s.Most) {
			return 0, fault.OutOfRange("", "The humidity over %s is known between %g and %g °C; this says %.4g °C.", s.Formula, float64(s.Least), float64(s.Most), float64(t))
		}
		const zeroCelsius = 273.15 // K
		return measure.RelHumidity(s.A * math.Exp(s.B/(float64(t)+zeroCelsius)) / 100), nil
	}
	return 0, fault.NotFound("No humidity is known here over %q; NaCl, MgCl2 and KCl are the usual ones.", salt)
}
