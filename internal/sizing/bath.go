package sizing

import (
	"vatside/internal/fault"
	"vatside/internal/measure"
)

type (
	// BathStrength is size over the mass of the bath, a fraction.
	BathStrength float64
	// Uptake is grams of bath that a gram of dry sheet takes up: the pick-up.
	Uptake float64
)

// Unit returns "": a fraction has none.
func (BathStrength) Unit() string { return "" }

// Unit returns the unit the type is stated in.
func (Uptake) Unit() string { return "g/g" }

// Ranges that a studio can mean.
const (
	strongest  = BathStrength(0.5)
	mostUptake = Uptake(10) // waterleaf holds no more without dripping
	mostMass   = measure.Mass(1e7)
	mostBath   = measure.Volume(1e4)
	mostSheets = measure.Sheets(1e6)
	gramsLitre = 1000 // of bath; within 2 % up to 6 % of size
)

// checkShare is measure.Inside in per cent, as people read it.
func checkShare[T ~float64](what string, v, low, high T) error {
	return measure.Inside("", what, 100*v, 100*low, 100*high, "%")
}

func checkStrength(s BathStrength) error {
	return checkShare("the strength of the bath", s, 0, strongest)
}

func checkUptake(p Uptake) error {
	return measure.Inside("", "the pick-up", p, 0, mostUptake, "g/g")
}

func checkSheets(n measure.Sheets, each measure.Mass) error {
	return fault.First(
		measure.Inside("", "the sheets", n, 0, mostSheets, ""),
		measure.Inside("", "the mass of a sheet", each, 0, mostMass/1000, "g"),
	)
}

// Strength returns the strength of a bath of size in water.
//
//	b = m_size / (m_size + 1000 · V)
//
// Contract:
//
//   - Quantity: size over bath, fraction by mass
//   - Inputs: m_size g; V water, L
//   - Valid: 0 ≤ m_size ≤ V·1000 g; 0.001 L ≤ V ≤ 10 m³; outside: fault.OutOfRange
//   - Assumes: cold water, 1 kg to the litre; size as weighed, its own moisture counted as size
//   - Error: 2 %; the moisture of leaf gelatin alone is 12 % of it
//   - Source: definition
//   - Checked: published/size-worked.csv; inverse of SizeMass
func Strength(size measure.Mass, water measure.Volume) (BathStrength, error) {
	if err := fault.First(
		measure.Inside("", "the water", water, 1e-3, mostBath, "L"),
		measure.Inside("", "the size", size, 0, measure.Mass(gramsLitre*water), "g"),
	); err != nil {
		return 0, err
	}
	return BathStrength(float64(size) / (float64(size) + gramsLitre*float64(water))), nil
}

// SizeMass returns the size to weigh for a bath.
//
//	m_size = b · 1000 · V
//
// Contract:
//
//   - Quantity: size, g
//   - Inputs: V finished bath, L; b strength, fraction by mass
//   - Valid: 0 ≤ V ≤ 10 m³; 0 ≤ b ≤ 0.5; outside: fault.OutOfRange
//   - Assumes: the bath weighs 1 kg to the litre
//   - Error: 2 % up to 6 % of size
//   - Source: definition
//   - Checked: published/size-worked.csv; inverse of Strength
func SizeMass(bath measure.Volume, b BathStrength) (measure.Mass, error) {
	if err := fault.First(measure.Inside("", "the bath", bath, 0, mostBath, "L"), checkStrength(b)); err != nil {
		return 0, err
	}
	return measure.Mass(float64(b) * gramsLitre * float64(bath)), nil
}

// AlumMass returns the alum that hardens gelatin.
//
//	m_alum = a · m_gelatin
//
// Contract:
//
//   - Quantity: alum, g
//   - Inputs: m_gelatin g; a alum on gelatin, fraction
//   - Valid: 0 ≤ m_gelatin ≤ 10 t; 0 ≤ a ≤ 0.25; outside: fault.OutOfRange
//   - Assumes: papermaker's alum as bought
//   - Error: exact; that 0 to 5 % suffices is remembered, and alum shortens the paper's life
//   - Source: alum-size-page
//   - Checked: published/size-worked.csv
func AlumMass(gelatin measure.Mass, alum measure.Share) (measure.Mass, error) {
	if err := fault.First(
		measure.Inside("", "the gelatin", gelatin, 0, mostMass, "g"),
		checkShare("the alum on gelatin", alum, 0, 0.25),
	); err != nil {
		return 0, err
	}
	return measure.Mass(float64(alum) * float64(gelatin)), nil
}

// OnFibre returns the size that a sheet takes out of the bath, on its own mass.
//
//	d = b · p
//
// Contract:
//
//   - Quantity: size on the dry sheet, fraction
//   - Inputs: b strength of the bath, fraction by mass; p pick-up, g bath per g dry sheet
//   - Valid: 0 ≤ b ≤ 0.5; 0 ≤ p ≤ 10; b·p ≤ 1; outside: fault.OutOfRange
//   - Assumes: the sheet takes size and water as they are in the bath; the dry sheet is weighed as it lies
//   - Error: exact for the model; 6 % more on bone-dry fibre; the pick-up is uncertain by a third until weighed
//   - Source: derived, docs/models/sizing.md
//   - Checked: published/size-worked.csv; inverse of BathFor
func OnFibre(b BathStrength, p Uptake) (measure.Dose, error) {
	if err := fault.First(checkStrength(b), checkUptake(p)); err != nil {
		return 0, err
	}
	d := measure.Dose(float64(b) * float64(p))
	if err := checkShare("the size on the sheet", d, 0, 1); err != nil {
		return 0, err
	}
	return d, nil
}

// BathFor returns the strength of the bath that puts a wanted share of size on
// the sheet: the inverse of OnFibre.
//
//	b = d / p
//
// Contract:
//
//   - Quantity: size over bath, fraction by mass
//   - Inputs: d wanted size on the dry sheet, fraction; p pick-up, g/g
//   - Valid: 0 ≤ d ≤ 1; 0.05 ≤ p ≤ 10; d/p ≤ 0.5; outside: fault.OutOfRange
//   - Assumes: as OnFibre
//   - Error: as OnFibre
//   - Source: derived, docs/models/sizing.md
//   - Checked: property: inverse of OnFibre
func BathFor(wanted measure.Dose, p Uptake) (BathStrength, error) {
	if err := fault.First(
		checkShare("the size on the sheet", wanted, 0, 1),
		measure.Inside("", "the pick-up", p, 0.05, mostUptake, "g/g"),
	); err != nil {
		return 0, err
	}
	b := BathStrength(float64(wanted) / float64(p))
	if err := checkStrength(b); err != nil {
		return 0, err
	}
	return b, nil
}

// BathVolume returns the bath that a pile of sheets needs.
//
//	V = n·m·p / 1000 + V_heel
//
// Contract:
//
//   - Quantity: bath, L
//   - Inputs: n sheets; m dry mass of one, g; p pick-up, g/g; V_heel what must stay in the tray to work in, L
//   - Valid: 0 ≤ n ≤ 1e6; 0 ≤ m ≤ 10 kg; 0 ≤ p ≤ 10; 0 ≤ V_heel ≤ 10 m³; outside: fault.OutOfRange
//   - Assumes: the bath weighs 1 kg to the litre; what drips off runs back into the tray
//   - Error: 2 % beside the pick-up's own
//   - Source: derived, docs/models/sizing.md
//   - Checked: published/size-worked.csv; property: what the sheets took and the heel are the bath
func BathVolume(n measure.Sheets, each measure.Mass, p Uptake, heel measure.Volume) (measure.Volume, error) {
	if err := fault.First(checkSheets(n, each), checkUptake(p), measure.Inside("", "the heel of the tray", heel, 0, mostBath, "L")); err != nil {
		return 0, err
	}
	return measure.Volume(float64(n)*float64(each)*float64(p)/gramsLitre) + heel, nil
}

// PickUp returns the bath a sheet took up, from its mass before and after.
//
//	p = (m_wet − m_dry) / m_dry
//
// Contract:
//
//   - Quantity: pick-up, g bath per g dry sheet
//   - Inputs: m_dry the sheet as it lies, g; m_wet the same sheet sized and drained, g
//   - Valid: 0.1 g ≤ m_dry ≤ 10 kg; m_dry ≤ m_wet ≤ 11·m_dry; outside: fault.OutOfRange
//   - Assumes: nothing dripped between bath and scale
//   - Error: with a scale of 0.1 g and a sheet of 16 g, 0.01 g/g; sheets differ by a tenth
//   - Source: definition
//   - Checked: property: the sheet and what it took up are the wet sheet
func PickUp(dry, wet measure.Mass) (Uptake, error) {
	if err := fault.First(
		measure.Inside("", "the dry sheet", dry, 0.1, mostMass/1000, "g"),
		measure.Inside("", "the wet sheet", wet, dry, dry*measure.Mass(1+mostUptake), "g"),
	); err != nil {
		return 0, err
	}
	return Uptake((wet - dry) / dry), nil
}

// WaterToDry returns the water that sized sheets carry to the dryer again.
//
//	water = n·m·p·(1 − b) / 1000
//
// Contract:
//
//   - Quantity: water, kg
//   - Inputs: n sheets; m dry mass of one, g; p pick-up, g/g; b strength of the bath, fraction
//   - Valid: 0 ≤ n ≤ 1e6; 0 ≤ m ≤ 10 kg; 0 ≤ p ≤ 10; 0 ≤ b ≤ 0.5; outside: fault.OutOfRange
//   - Assumes: back to the moisture they had before
//   - Error: exact for the model
//   - Source: derived, docs/models/sizing.md
//   - Checked: property: water and size are the bath taken up
func WaterToDry(n measure.Sheets, each measure.Mass, p Uptake, b BathStrength) (measure.Kilograms, error) {
	if err := fault.First(checkSheets(n, each), checkUptake(p), checkStrength(b)); err != nil {
		return 0, err
	}
	return measure.Kilograms(float64(n) * float64(each) * float64(p) * (1 - float64(b)) / 1000), nil
}
