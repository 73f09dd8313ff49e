package cooking

import (
	"fmt"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

const (
	// MostLyeShare is the strongest lye any step may reach, by mass. Ours: 10 %
	// warms water by 28 °C; a recipe in print asks for 27 % in hot water, which
	// boils out of the cup.
	MostLyeShare measure.Share = 0.10
	// HottestForLye is the warmest water that lye may go into, °C: industry
	// says lukewarm, 27 to 38 (source: lye-mixing).
	HottestForLye measure.Temperature = 38
	// lyeHeat is the heat of dissolving lye, kJ/mol, into much water; 38 into
	// little (source: memory).
	lyeHeat = 44.5
	// Specific heats, J/(g K): water, ± 0.02, and lye in it, 1 to 2 (source: memory).
	waterWarms, lyeWarms = 4.18, 1.5
)

// LyeShare returns the strength of lye by mass.
//
//	w = m / (m + 997 V)
//
// Contract:
//
//   - Quantity: lye over lye and water, a fraction
//   - Inputs: m lye, g; V water, L
//   - Valid: m 0 to 1000000 g; V 0.0001 to 100000 L; outside: fault.OutOfRange
//   - Assumes: dry lye, water at room temperature
//   - Error: 0.5 %
//   - Source: definition
//   - Checked: published/cook-worked.csv
func LyeShare(m measure.Mass, v measure.Volume) (measure.Share, error) {
	if err := fault.First(measure.Inside("alkali", "the lye", m, 0, mostDry, "g"), checkVolume(v)); err != nil {
		return 0, err
	}
	return measure.Share(float64(m) / (float64(m) + 1000*waterDensity*float64(v))), nil
}

// LyeWarms returns by how much dissolving lye warms its water, none of the heat
// lost.
//
//	ΔT = w · 44500/39.997 / (4.18 (1 − w) + 1.5 w)
//
// Contract:
//
//   - Quantity: rise in temperature, degrees Celsius; a difference, so a plain number
//   - Inputs: w lye by mass, a fraction
//   - Valid: 0 to 0.5; outside: fault.OutOfRange
//   - Assumes: all dissolves at once in a vessel that takes up no heat
//   - Error: 15 % at 27 %, where the heat of dissolving is lower; 5 % up to 10 %
//   - Source: memory for the heats; lye-mixing states 75 to 88 °C at 27 %
//   - Checked: published/cook-worked.csv, which is arithmetic on the remembered heats; property: stronger is hotter
func LyeWarms(w measure.Share) (measure.Number, error) {
	if err := measure.Inside("alkali", "the lye by mass", w, 0, 0.5, "as a fraction"); err != nil {
		return 0, err
	}
	share := float64(w)
	return measure.Number(share * lyeHeat * 1000 / 39.997 / (waterWarms*(1-share) + lyeWarms*share)), nil
}

// CheckLye refuses to dissolve a caustic alkali in hot water or too strong. The
// field of the fault is water_c or the one named.
func CheckLye(field string, m measure.Mass, v measure.Volume, water measure.Temperature) error {
	w, err := LyeShare(m, v)
	if err != nil {
		return err
	}
	var l fault.List
	if !(water <= HottestForLye) {
		l.Add(fault.OutOfRange("water_c", "Lye goes into cool or lukewarm water only, from 0 to %g °C, and never the water on the lye: it heats as it dissolves, boils and is thrown out of the vessel. This says %.4g °C.", float64(HottestForLye), float64(water)))
	}
	if !(w <= MostLyeShare) {
		l.Add(fault.OutOfRange(field, "Lye must stay at or under %g %% by mass in every step; this makes %.3g %%, which heats violently and burns at once. Sprinkle it into the full cool pot instead, at 1 to 2 %%.", 100*float64(MostLyeShare), 100*float64(w)))
	}
	return l.OrNil()
}

// Causticised is what soda ash and slaked lime make of each other in water.
type Causticised struct {
	Lye, SodaAshLeft, LimeLeft, Chalk measure.Mass
}

// Causticise returns what soda ash and slaked lime together become: lye, and
// chalk that settles. A recipe that asks for both asks for lye.
//
//	Na2CO3 + Ca(OH)2 → 2 NaOH + CaCO3, until one is used up
//
// Contract:
//
//   - Quantity: lye, what is left of either, and chalk, g
//   - Inputs: soda soda ash, g; lime slaked lime, g
//   - Valid: each 0 to 1000000 g; outside: fault.OutOfRange
//   - Assumes: goes to the end; in truth 90 to 98 % of it, less in strong liquor, and slowly while cold
//   - Error: at most this much lye; 10 % less at cooking strength
//   - Source: definition, ciaaw-weights
//   - Checked: published/cook-worked.csv, published/check-cooking.csv; property: alkalinity is kept
func Causticise(soda, lime measure.Mass) (Causticised, error) {
	if err := fault.First(
		measure.Inside("alkali", "the soda ash", soda, 0, mostDry, "g"),
		measure.Inside("alkali", "the slaked lime", lime, 0, mostDry, "g"),
	); err != nil {
		return Causticised{}, err
	}
	moles := min(float64(soda)/molar("Na2CO3"), float64(lime)/molar("Ca(OH)2"))
	return Causticised{
		Lye:         measure.Mass(2 * moles * molar("NaOH")),
		SodaAshLeft: max(0, soda-measure.Mass(moles*molar("Na2CO3"))),
		LimeLeft:    max(0, lime-measure.Mass(moles*molar("Ca(OH)2"))),
		Chalk:       measure.Mass(moles * molar("CaCO3")),
	}, nil
}

// molar is the molar mass of a formula of this package; a test reads them all.
func molar(formula string) float64 {
	m, err := MolarMass(formula)
	if err != nil {
		panic("cooking: " + err.Error())
	}
	return float64(m)
}

// Causticity returns the share of a liquor's alkali that is lye, the rest being
// soda ash, both as sodium oxide.
//
//	lye / (lye + soda ash), as Na2O
//
// Contract:
//
//   - Quantity: a fraction
//   - Inputs: lye and soda ash in the liquor, g/L
//   - Valid: each 0 to 500 g/L, not both 0; outside: fault.OutOfRange
//   - Assumes: no sulphide
//   - Error: 0.1 %
//   - Source: definition
//   - Checked: published/check-cooking.csv
func Causticity(lye, soda Strength) (measure.Share, error) {
	if err := fault.First(
		measure.Inside("alkali", "the lye", lye, 0, 500, "g/L"),
		measure.Inside("alkali", "the soda ash", soda, 0, 500, "g/L"),
	); err != nil {
		return 0, err
	}
	a, b := float64(lye)/molar("NaOH"), 2*float64(soda)/molar("Na2CO3")
	if a+b == 0 {
		return 0, fault.OutOfRange("alkali", "the liquor must hold between 0 and 500 g/L of lye or soda ash, and some of either")
	}
	return measure.Share(a / (a + b)), nil
}

// AshLyeStrength returns how much potassium carbonate an ash liquor holds, from
// the vinegar that takes it to neutral: ashTest says how. At a sourer end
// vinegar, a weak acid, is added without being taken up: at pH 5 the liquor
// would read 1.6 times as strong, at pH 4 nearly seven times.
//
//	s = a · V_vinegar / V_liquor · M(K2CO3) / (2 · M(acetic acid)) · 10
//
// Contract:
//
//   - Quantity: potassium carbonate in the liquor, g/L
//   - Inputs: vinegar and liquor, mL; a acetic acid in the vinegar, g in 100 mL
//   - Valid: vinegar 0 to 100000 mL, liquor 1 to 10000 mL, a 1 to 30; outside: fault.OutOfRange
//   - Assumes: all its alkali is potassium carbonate; lye in it counts as such
//   - Error: 10 % with kitchen vinegar and strips; 2 % of it where the test ends
//   - Source: derived, ciaaw-weights
//   - Checked: property: inverse of VinegarFor; the balance of acetate where the test ends
func AshLyeStrength(vinegar, liquor measure.Milliliters, a measure.Number) (Strength, error) {
	if err := fault.First(
		measure.Inside("vinegar", "the vinegar", vinegar, 0, 1e5, "mL"),
		measure.Inside("liquor", "the liquor", liquor, 1, 10000, "mL"),
		measure.Inside("vinegar", "the acid in the vinegar", a, 1, 30, "%"),
	); err != nil {
		return 0, err
	}
	moles := float64(a) / 100 * float64(vinegar) / aceticAcid
	return Strength(moles / 2 * molar("K2CO3") / float64(liquor) * 1000), nil
}

// The strip's pH where the test of an ash liquor ends: all of the alkali is
// taken up, and hardly more vinegar than that (source: derived).
const ashEndLow, ashEndHigh PH = 6.5, 7

// ashTest is how AshLyeStrength is measured.
func ashTest() string {
	return fmt.Sprintf("Into a measured cup of cool liquor goes vinegar in small portions, noted, until a strip stays at pH %.2g to %.2g after the gas is boiled off.", float64(ashEndLow), float64(ashEndHigh))
}

// pots are what people cook in, by name and other names, and why alkali must
// not stand hot in some of them (source: alkali-metals for aluminium, zinc, tin
// and brass; memory for copper, bare iron, coatings and plastic). Steel alone is
// no answer: plain and galvanised steel is steel too.
var pots = []struct {
	names []string
	why   string
}{
	{[]string{"stainless steel", "stainless"}, ""},
	{[]string{"enamel"}, ""},
	{[]string{"glass"}, ""},
	{[]string{"aluminium", "aluminum"}, "alkali dissolves it and gives off hydrogen, which burns: 1 g of it makes 1.36 L"},
	{[]string{"galvanised", "galvanized", "zinc"}, "alkali dissolves the zinc and gives off hydrogen"},
	{[]string{"tin", "tin-plate", "tinned"}, "alkali dissolves tin and gives off hydrogen"},
	{[]string{"brass", "bronze"}, "alkali attacks it and stains the fibre"},
	{[]string{"copper"}, "alkali attacks it and stains the fibre"},
	{[]string{"iron", "cast iron", "chipped enamel"}, "bare iron stains fibre black with the plant's tannin"},
	{[]string{"non-stick", "teflon"}, "alkali lifts the coating, and the pan under it is aluminium"},
	{[]string{"plastic"}, "it softens at the boil; polythene and polypropylene buckets are for cool liquor"},
}

// PotMaterials returns the pots that are known by name, the good ones first.
func PotMaterials() []string {
	out := make([]string, len(pots))
	for i, p := range pots {
		out[i] = p.names[0]
	}
	return out
}

// CheckPot refuses a pot that alkali attacks, or that attacks the fibre.
func CheckPot(field, material string) error {
	m := source.Plain(material)
	for _, p := range pots {
		if !slices.ContainsFunc(p.names, func(n string) bool { return source.Plain(n) == m }) {
			continue
		}
		if p.why == "" {
			return nil
		}
		return fault.Invalid(field, "Cook in stainless steel, sound enamel or glass, never in %s: %s.", p.names[0], p.why)
	}
	return fault.Invalid(field, "It must be one of stainless steel, enamel, glass.")
}
