package furnish

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Three different things are written in per cent, and mixing them up is the
// commonest slip of the bench. Each has its own type: a measure.Dose is active
// substance on bone-dry fibre; a Strength is active substance in what was
// bought; a SolutionDose is solution, water and all, on bone-dry fibre.
type (
	// Strength is active substance over the mass of the product, a fraction.
	Strength float64
	// SolutionDose is millilitres of solution on a gram of bone-dry fibre, a
	// fraction: "10 % of the emulsion" is 10 mL on 100 g.
	SolutionDose float64
	// Concentration is grams of active substance in a litre of solution.
	Concentration float64
)

// Unit returns "": a fraction has none.
func (Strength) Unit() string { return "" }

// Unit returns the unit the type is stated in.
func (SolutionDose) Unit() string { return "mL/g" }

// Unit returns the unit the type is stated in.
func (Concentration) Unit() string { return "g/L" }

// Ranges that a studio can mean.
const (
	mostMass          = 1e7  // g
	mostVolume        = 1e7  // mL
	leastStrength     = 1e-3 // weaker is not sold
	leastConc         = 1e-3 // g/L
	mostConc          = 2e3  // g/L
	leastBulk         = 0.01 // g/mL, fumed powders
	mostBulk          = 5.0  // g/mL, heavy pigments
	mostDose          = measure.Dose(1)
	mostSolution      = SolutionDose(10)
	millilitresALitre = 1000
)

// checkShare is measure.Inside in per cent, as people read it.
func checkShare[T ~float64](what string, v, low, high T) error {
	return measure.Inside("", what, 100*v, 100*low, 100*high, "%")
}

func checkMass(what string, m measure.Mass) error {
	return measure.Inside("", what, m, 0, mostMass, "g")
}

// ActiveMass returns the active substance that a dose on fibre asks for.
//
//	m_active = d · m_fibre
//
// Contract:
//
//   - Quantity: active substance, g
//   - Inputs: m_fibre bone-dry fibre, g; d dose on fibre, fraction
//   - Valid: 0 ≤ m_fibre ≤ 10 t; 0 ≤ d ≤ 1; outside: fault.OutOfRange
//   - Assumes: nothing
//   - Error: exact
//   - Source: definition
//   - Checked: 0.5 % on 450 g is 2.25 g (published/dose-worked.csv); inverse of DoseOf
func ActiveMass(fibre measure.Mass, dose measure.Dose) (measure.Mass, error) {
	if err := fault.First(checkMass("the fibre", fibre), checkShare("the dose on fibre", dose, 0, mostDose)); err != nil {
		return 0, err
	}
	return measure.Mass(float64(dose) * float64(fibre)), nil
}

// DoseOf returns the dose that a mass of active substance is on fibre.
//
//	d = m_active / m_fibre
//
// Contract:
//
//   - Quantity: dose on bone-dry fibre, fraction
//   - Inputs: m_active g; m_fibre bone-dry fibre, g
//   - Valid: 0.001 g ≤ m_fibre ≤ 10 t; 0 ≤ m_active ≤ m_fibre; outside: fault.OutOfRange
//   - Assumes: nothing
//   - Error: exact
//   - Source: definition
//   - Checked: 2.25 g on 450 g is 0.5 % (published/dose-worked.csv); inverse of ActiveMass
func DoseOf(active, fibre measure.Mass) (measure.Dose, error) {
	if err := fault.First(
		measure.Inside("", "the fibre", fibre, 1e-3, mostMass, "g"),
		measure.Inside("", "the additive", active, 0, fibre, "g"),
	); err != nil {
		return 0, err
	}
	return measure.Dose(active / fibre), nil
}

// ProductMass returns what to weigh of a product that holds only a share of
// active substance.
//
//	m_product = m_active / w
//
// Contract:
//
//   - Quantity: product as bought, g
//   - Inputs: m_active active substance, g; w strength of the product, active over total mass, fraction
//   - Valid: 0 ≤ m_active ≤ 10 t; 0.001 ≤ w ≤ 1; outside: fault.OutOfRange
//   - Assumes: the product is stirred or shaken even
//   - Error: exact for the model; w is as good as the label
//   - Source: definition
//   - Checked: 2.25 g active out of a 5 % emulsion are 45 g (published/dose-worked.csv)
func ProductMass(active measure.Mass, strength Strength) (measure.Mass, error) {
	if err := fault.First(checkMass("the active substance", active), checkShare("the strength of the product", strength, leastStrength, 1)); err != nil {
		return 0, err
	}
	return measure.Mass(float64(active) / float64(strength)), nil
}

// ConcentrationOf returns how much active substance is in a litre of a product.
//
//	c = 1000 · w · ρ
//
// Contract:
//
//   - Quantity: concentration, g/L
//   - Inputs: w strength, fraction by mass; ρ density of the liquid, g/mL
//   - Valid: 0.001 ≤ w ≤ 1; 0.5 ≤ ρ ≤ 2; outside: fault.OutOfRange
//   - Assumes: nothing
//   - Error: exact; taking ρ = 1 for a thin emulsion is within 3 % (memory)
//   - Source: definition
//   - Checked: 5 % at 1 g/mL is 50 g/L (published/dose-worked.csv)
func ConcentrationOf(strength Strength, density measure.Density) (Concentration, error) {
	if err := fault.First(
		checkShare("the strength of the product", strength, leastStrength, 1),
		measure.Inside("", "the density of the liquid", density, 0.5, 2, "g/mL"),
	); err != nil {
		return 0, err
	}
	return Concentration(1000 * float64(strength) * float64(density)), nil
}

// SolutionVolume returns the solution that holds a mass of active substance.
//
//	V = 1000 · m_active / c
//
// Contract:
//
//   - Quantity: volume of solution, mL
//   - Inputs: m_active g; c concentration, g/L
//   - Valid: 0 ≤ m_active ≤ 10 t; 0.001 ≤ c ≤ 2000 g/L; outside: fault.OutOfRange
//   - Assumes: the solution is stirred even
//   - Error: exact
//   - Source: definition
//   - Checked: 2.25 g at 50 g/L are 45 mL (published/dose-worked.csv); inverse of ActiveInSolution
func SolutionVolume(active measure.Mass, c Concentration) (measure.Milliliters, error) {
	if err := fault.First(checkMass("the active substance", active), checkConcentration(c)); err != nil {
		return 0, err
	}
	return measure.Milliliters(millilitresALitre * float64(active) / float64(c)), nil
}

// ActiveInSolution returns the active substance in a volume of solution.
//
//	m_active = c · V / 1000
//
// Contract:
//
//   - Quantity: active substance, g
//   - Inputs: V mL; c concentration, g/L
//   - Valid: 0 ≤ V ≤ 10 m³; 0.001 ≤ c ≤ 2000 g/L; outside: fault.OutOfRange
//   - Assumes: the solution is stirred even
//   - Error: exact
//   - Source: definition
//   - Checked: 4 L at 1.5 g/L hold 6 g (published/dose-worked.csv); inverse of SolutionVolume
func ActiveInSolution(v measure.Milliliters, c Concentration) (measure.Mass, error) {
	if err := fault.First(measure.Inside("", "the solution", v, 0, mostVolume, "mL"), checkConcentration(c)); err != nil {
		return 0, err
	}
	return measure.Mass(float64(c) * float64(v) / millilitresALitre), nil
}

func checkConcentration(c Concentration) error {
	return measure.Inside("", "the concentration", c, leastConc, mostConc, "g/L")
}

// SolutionOnFibre returns the solution that a recipe in per cent of solution
// asks for.
//
//	V = s · m_fibre
//
// Contract:
//
//   - Quantity: volume of solution, mL
//   - Inputs: m_fibre bone-dry fibre, g; s millilitres of solution on a gram of fibre
//   - Valid: 0 ≤ m_fibre ≤ 10 t; 0 ≤ s ≤ 10; outside: fault.OutOfRange
//   - Assumes: the recipe means millilitres on grams, as studio recipes do
//   - Error: exact
//   - Source: practice
//   - Checked: 10 % of solution on 450 g are 45 mL (published/dose-worked.csv)
func SolutionOnFibre(fibre measure.Mass, s SolutionDose) (measure.Milliliters, error) {
	if err := fault.First(checkMass("the fibre", fibre), checkSolution(s)); err != nil {
		return 0, err
	}
	return measure.Milliliters(float64(s) * float64(fibre)), nil
}

// DoseFromSolution returns the dose of active substance that a recipe in per
// cent of solution comes to.
//
//	d = s · c / 1000
//
// Contract:
//
//   - Quantity: dose, active on bone-dry fibre, fraction
//   - Inputs: s millilitres of solution on a gram of fibre; c concentration, g/L
//   - Valid: 0 ≤ s ≤ 10; 0.001 ≤ c ≤ 2000 g/L; outside: fault.OutOfRange
//   - Assumes: the recipe means millilitres on grams
//   - Error: exact
//   - Source: derived
//   - Checked: 10 % of a 5 % emulsion is 0.5 % (published/dose-worked.csv); property: the same as by way of the volume
func DoseFromSolution(s SolutionDose, c Concentration) (measure.Dose, error) {
	if err := fault.First(checkSolution(s), checkConcentration(c)); err != nil {
		return 0, err
	}
	return measure.Dose(float64(s) * float64(c) / millilitresALitre), nil
}

func checkSolution(s SolutionDose) error {
	return measure.Inside("", "the solution on fibre", s, 0, mostSolution, "mL/g")
}

// SpoonMass returns what level spoonfuls weigh: spoons are not grams.
//
//	m = b · V
//
// Contract:
//
//   - Quantity: mass of the product, g
//   - Inputs: V volume of the spoons, mL; b bulk density, g/mL
//   - Valid: 0 ≤ V ≤ 10 m³; 0.01 ≤ b ≤ 5 g/mL; outside: fault.OutOfRange
//   - Assumes: level, neither heaped nor packed
//   - Error: exact for the model; the bulk of a powder is uncertain by a third
//   - Source: definition
//   - Checked: 30 g in two tablespoons of 15 mL is 1 g/mL (published/dose-worked.csv): right for a liquid, half for light chalk
func SpoonMass(v measure.Milliliters, bulk measure.Density) (measure.Mass, error) {
	if err := fault.First(
		measure.Inside("", "the volume of the spoons", v, 0, mostVolume, "mL"),
		measure.Inside("", "the bulk density", bulk, leastBulk, mostBulk, "g/mL"),
	); err != nil {
		return 0, err
	}
	return measure.Mass(float64(v) * float64(bulk)), nil
}

// Portion is one additive of several: its dose and how much of it stays.
type Portion struct {
	Dose     measure.Dose
	Retained measure.Share
}

// RetainedMean returns the share retained of several additives together: the
// one share that, on the sum of the doses, leaves as much in the sheet.
//
//	r = Σ d·r / Σ d
//
// Contract:
//
//   - Quantity: share retained, fraction
//   - Inputs: d dose of each, fraction on bone-dry fibre; r share of each retained
//   - Valid: 0 ≤ d ≤ 1; 0 ≤ r ≤ 1; outside: fault.OutOfRange
//   - Assumes: one additive does not hold or free another
//   - Error: exact for the model; without any dose it is 0
//   - Source: derived
//   - Checked: property: between the least and the most; the mass kept is the sum of what each keeps
func RetainedMean(portions []Portion) (measure.Share, error) {
	var doses, kept float64
	for _, p := range portions {
		if err := fault.First(
			checkShare("the dose on fibre", p.Dose, 0, mostDose),
			checkShare("the share retained", p.Retained, 0, 1),
		); err != nil {
			return 0, err
		}
		doses += float64(p.Dose)
		kept += float64(p.Dose) * float64(p.Retained)
	}
	if doses == 0 {
		return 0, nil
	}
	return measure.Share(min(1, kept/doses)), nil
}

// AidForVat returns the made-up formation aid that a vat wants to begin with.
//
//	V_aid = f · V
//
// Contract:
//
//   - Quantity: stock solution of formation aid, L
//   - Inputs: V vat, L; f litres of stock to a litre of vat: Additive.StockInVat
//   - Valid: 0 ≤ V ≤ 10 m³; 0 ≤ f ≤ 0.5; outside: fault.OutOfRange
//   - Assumes: cool water and a fresh stock; warm or stirred long it thins and wants more
//   - Error: a factor of two; the feel of the water decides
//   - Source: practice
//   - Checked: published/dose-worked.csv
func AidForVat(vat measure.Volume, perLitre measure.Share) (measure.Volume, error) {
	if err := fault.First(
		measure.Inside("", "the vat", vat, 0, mostVolume/millilitresALitre, "L"),
		measure.Inside("", "the formation aid to a litre of vat", perLitre, 0, 0.5, "L"),
	); err != nil {
		return 0, err
	}
	return measure.Volume(float64(perLitre) * float64(vat)), nil
}
