package cooking

import (
	"slices"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// Alkali is what a cook is dosed with, as it is weighed.
type Alkali struct {
	Name    string
	Aliases []string
	Formula string       // of the pure substance
	Usual   source.Value // on dry fibre, a fraction of its own mass
	Caustic bool         // to be handled as lye: it burns, not only irritates
	Metal   string       // the metal whose salt it is: sodium, potassium, calcium
	Takes   int          // moles of acid that a mole takes up
	Note    string
}

// The alkalis by name. A request and a recipe name them so.
const (
	SodaAsh         = "soda ash"
	Monohydrate     = "soda ash monohydrate"
	WashingSoda     = "washing soda crystals"
	Lye             = "lye"
	PotashLye       = "potash lye"
	PotashCarbonate = "potassium carbonate"
	SlakedLime      = "slaked lime"
	WoodAshLye      = "wood-ash lye"
)

// alkalis is the shelf. Charges of the hydrates and of potash are those of soda
// ash by equal alkalinity; how harsh an alkali is does not follow from it.
var alkalis = []Alkali{
	{SodaAsh, []string{"sodium carbonate", "washing soda, anhydrous", "soda"}, "Na2CO3", source.Said(0.18, 0.20, 0.30, "cooking-bark-sheet", "20 % stated; others say 18, 22, 25 and 30 %"), false, "sodium", 2,
		"The usual alkali: gentle, and its liquor is the easiest to be rid of. Light and dense grades weigh almost twice as much by the spoon."},
	{Monohydrate, []string{"sodium carbonate monohydrate"}, "Na2CO3.H2O", source.Said(0.211, 0.234, 0.351, source.KeyDerived, "soda ash by equal alkalinity"), false, "sodium", 2,
		"Soda ash with one water: 1.17 g stands for 1 g of soda ash."},
	{WashingSoda, []string{"washing soda", "soda crystals", "sodium carbonate decahydrate", "sal soda"}, "Na2CO3.10H2O", source.Said(0.486, 0.540, 0.810, source.KeyDerived, "soda ash by equal alkalinity"), false, "sodium", 2,
		"Clear crystals, almost two thirds water: 2.7 g stand for 1 g of soda ash. Crystals that went white and powdery have lost water: weigh them as soda ash, or buy fresh. Some boxes sold as washing soda hold soda ash: read the label."},
	{Lye, []string{"caustic soda", "sodium hydroxide"}, "NaOH", source.Said(0.08, 0.09, 0.20, "plants-paper-2007", "9 % stated; 15 % (washi-process-page) and 20 % (cooking-bark-sheet) elsewhere. Begin at 8 to 10 %"), true, "sodium", 1,
		"Burns skin and eyes at cooking strength too. Only where soda ash fails."},
	{PotashLye, []string{"caustic potash", "potassium hydroxide"}, "KOH", source.Said(0.112, 0.126, 0.281, source.KeyDerived, "lye by equal alkalinity"), true, "potassium", 1,
		"As corrosive as lye."},
	{PotashCarbonate, []string{"potash", "pearl ash"}, "K2CO3", source.Said(0.235, 0.261, 0.391, source.KeyDerived, "soda ash by equal alkalinity; recipes are remembered at 20-30 %"), false, "potassium", 2,
		"What wood ash gives. Handle it as soda ash."},
	{SlakedLime, []string{"lime", "hydrated lime", "calcium hydroxide"}, "Ca(OH)2", source.Said(0.12, 0.20, 0.22, "washi-process-page", "20 % stated; 12 % as a cold soak (do-paper-page)"), true, "calcium", 2,
		"Dissolves to 1.7 g/L cold and less when hot: most of it lies as a reserve, so stir, and rinse far longer. Chalk left in the fibre is a reserve against acid."},
	{WoodAshLye, []string{"ash lye", "ash liquor", "wood ash"}, "K2CO3", source.Said(0.235, 0.261, 0.391, source.KeyDerived, "as potassium carbonate, by equal alkalinity with soda ash"), true, "potassium", 2,
		"Counted as the potassium carbonate in it. No two ashes are alike: measure the strength. Over pH 11 it counts as caustic."},
}

// Alkalis returns the shelf, the usual alkali first.
func Alkalis() []Alkali { return slices.Clone(alkalis) }

// AlkaliNames returns the names of the shelf.
func AlkaliNames() []string {
	out := make([]string, len(alkalis))
	for i, a := range alkalis {
		out[i] = a.Name
	}
	return out
}

// GetAlkali returns an alkali by its name or another that it goes by.
func GetAlkali(name string) (Alkali, bool) {
	name = source.Plain(name)
	for _, a := range alkalis {
		if source.Plain(a.Name) == name || slices.ContainsFunc(a.Aliases, func(s string) bool { return source.Plain(s) == name }) {
			return a, true
		}
	}
	return Alkali{}, false
}

// weights are grams in a mole of atoms, the conventional values; each within
// 0.005 (source: ciaaw-weights).
var weights = map[string]float64{
	"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.98976928, "Mg": 24.305, "Al": 26.9815384,
	"S": 32.06, "Cl": 35.45, "K": 39.0983, "Ca": 40.078, "Ti": 47.867,
}

// MolarMass returns grams in a mole of a substance written as a formula, with
// brackets and water of crystallisation: Al2(SO4)3.18H2O.
//
//	M = Σ n · atomic weight
//
// Contract:
//
//   - Quantity: molar mass, g/mol
//   - Inputs: the formula
//   - Valid: atoms H, C, N, O, Na, Mg, Al, S, Cl, K, Ca, Ti; else fault.Invalid
//   - Assumes: elements as they occur in nature
//   - Error: under 0.01 g/mol
//   - Source: ciaaw-weights
//   - Checked: published/check-cooking.csv
func MolarMass(formula string) (measure.Number, error) {
	sum := 0.0
	for part := range strings.SplitSeq(formula, ".") {
		many, rest := leadingCount(part)
		m, rest, ok := group(rest, 0)
		if !ok || rest != "" || m == 0 {
			return 0, fault.Invalid("formula", "%q is not a formula of known atoms; write it like Na2CO3 or Na2CO3.10H2O", formula)
		}
		sum += many * m
	}
	return measure.Number(sum), nil
}

// group reads atoms and bracketed groups up to the end or a closing bracket.
func group(s string, deep int) (sum float64, rest string, ok bool) {
	for s != "" && s[0] != ')' {
		var one float64
		if s[0] == '(' {
			if deep > 3 {
				return 0, s, false
			}
			one, s, ok = group(s[1:], deep+1)
			if !ok || s == "" {
				return 0, s, false
			}
			s = s[1:] // the closing bracket
		} else {
			n := 1
			for n < len(s) && s[n] >= 'a' && s[n] <= 'z' {
				n++
			}
			if one, ok = weights[s[:n]]; !ok {
				return 0, s, false
			}
			s = s[n:]
		}
		var many float64
		many, s = leadingCount(s)
		sum += many * one
	}
	return sum, s, deep > 0 || s == ""
}

// leadingCount takes the count off the front of a text; none means one.
func leadingCount(s string) (float64, string) {
	n := 0
	for n < len(s) && n < 4 && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	if many, err := strconv.Atoi(s[:n]); err == nil {
		return float64(many), s[n:]
	}
	return 1, s
}

// mole is grams in a mole of the alkali. The shelf's formulas are read by a
// test: none fails.
func (a Alkali) mole() float64 {
	m, err := MolarMass(a.Formula)
	if err != nil {
		panic("cooking: " + a.Name + ": " + err.Error())
	}
	return float64(m)
}

// Equivalents returns the moles of acid that a mass of an alkali takes up.
//
//	n = takes · m / M
//
// Contract:
//
//   - Quantity: alkalinity, mol
//   - Inputs: a the alkali; m its mass, g
//   - Valid: an alkali of the shelf, else fault.Invalid; m 0 to 1000000 g; outside: fault.OutOfRange
//   - Assumes: pure, and every carbonate driven to carbon dioxide
//   - Error: the purity, 1 to 5 % as bought; wood ash liquor as its measurement
//   - Source: definition, ciaaw-weights
//   - Checked: published/check-cooking.csv
func Equivalents(a Alkali, m measure.Mass) (measure.Number, error) {
	if a.Takes == 0 {
		return 0, fault.Invalid("alkali", "it must be one of %s", strings.Join(AlkaliNames(), ", "))
	}
	if err := measure.Inside("alkali", "the alkali", m, 0, mostDry, "g"); err != nil {
		return 0, err
	}
	return measure.Number(float64(a.Takes) * float64(m) / a.mole()), nil
}

// EqualAlkalinity returns how much of one alkali takes up as much acid as a mass
// of another. That is not equal harshness: 0.75 g of lye stands for 1 g of soda
// ash here, and does far more to fibre and to hands.
//
//	m₂ = m₁ · (takes₁ / M₁) / (takes₂ / M₂)
//
// Contract:
//
//   - Quantity: mass of the other alkali, g
//   - Inputs: m mass, g, of the alkali from; to the other
//   - Valid: alkalis of the shelf, else fault.Invalid; m 0 to 1000000 g; outside: fault.OutOfRange
//   - Assumes: as Equivalents
//   - Error: 0.1 % and the purities
//   - Source: definition, ciaaw-weights
//   - Checked: published/check-cooking.csv; property: there and back
func EqualAlkalinity(m measure.Mass, from, to Alkali) (measure.Mass, error) {
	n, err := Equivalents(from, m)
	if err != nil {
		return 0, err
	}
	one, err := Equivalents(to, 1)
	if err != nil {
		return 0, err
	}
	return measure.Mass(n / one), nil
}

// NotEqualHarshness is what to say beside an equal alkalinity.
const NotEqualHarshness = "Equal alkalinity is not equal harshness: lye and lime reach a far higher pH than soda ash, open fibre faster and cost it more strength. Go over to a harsher alkali at half the equal amount, and test early."

// AsSodiumOxide returns the sodium oxide with the alkalinity of a mass of
// alkali: how mills state alkali.
//
//	m(Na2O) = m · takes / M · M(Na2O) / 2
//
// Contract:
//
//   - Quantity: mass as sodium oxide, g
//   - Inputs: a the alkali; m its mass, g
//   - Valid: as Equivalents
//   - Assumes: as Equivalents
//   - Error: 0.1 %
//   - Source: definition, ciaaw-weights
//   - Checked: published/check-cooking.csv
func AsSodiumOxide(a Alkali, m measure.Mass) (measure.Mass, error) {
	n, err := Equivalents(a, m)
	if err != nil {
		return 0, err
	}
	oxide, err := MolarMass("Na2O")
	return measure.Mass(n * oxide / 2), err
}
