package beating

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/num"
)

type (
	// Seconds is a drain time.
	Seconds float64
	// Viscosity is in mPa·s.
	Viscosity float64
	// CakeResistance is what a kilogram of fibre on a square metre holds back, m/kg.
	CakeResistance float64
	// MeshResistance is what the bare mesh holds back, 1/m.
	MeshResistance float64
)

// Unit returns the unit the type is stated in.
func (Seconds) Unit() string { return "s" }

// Unit returns the unit the type is stated in.
func (Viscosity) Unit() string { return "mPa·s" }

// Unit returns the unit the type is stated in.
func (CakeResistance) Unit() string { return "m/kg" }

// Unit returns the unit the type is stated in.
func (MeshResistance) Unit() string { return "1/m" }

// DrainTemperature is what drain times are stated at, °C; the laboratory
// testers are read at it too (csf-corrections-1993).
const DrainTemperature measure.Temperature = 20

// gravity is the standard acceleration, m/s² (exact by definition), and
// waterDensity that of cold water, kg/m³: 999.7 at 10 °C, 995.7 at 30 °C.
const (
	gravity      = 9.80665
	waterDensity = 998
)

// Limits of a drain test, from a tea strainer to a deckle box.
const (
	leastDrain, mostDrain     Seconds             = 0.5, 36_000
	leastMesh, mostMesh       measure.Area        = 0.0001, 4
	leastHead, mostHead       measure.Pressure    = 0.01, 50
	leastTest, mostTest       measure.Consistency = 0.05, 20
	leastCaught, mostCaught   measure.Volume      = 0.01, 100
	coldest, warmest          measure.Temperature = 1, 60
	leastViscous, mostViscous Viscosity           = 0.4, 1.8
	mostCake                  CakeResistance      = 1e15
	mostBare                  MeshResistance      = 1e15
)

// WaterViscosity returns how thick water is.
//
//	µ = 280.68·τ^−1.9 + 511.45·τ^−7.7 + 61.131·τ^−19.6 + 0.45903·τ^−40 µPa·s,  τ = T / 300 K
//
// Contract:
//
//   - Quantity: dynamic viscosity of water at the pressure of the air, mPa·s
//   - Inputs: temperature, °C
//   - Valid: 1 to 60 °C; outside: fault.OutOfRange
//   - Assumes: clean water; a few grams of fibre, size or alkali a litre do not show
//   - Error: 1 % for the formula, less for a ratio to 20 °C
//   - Source: iapws-liquid-water-2011; the ratios: iapws-viscosity-2008
//   - Checked: published/beating-viscosity.csv; property: falls with the temperature
func WaterViscosity(at measure.Temperature) (Viscosity, error) {
	if err := measure.Inside("temperature", "the temperature of the water", at, coldest, warmest, "°C"); err != nil {
		return 0, err
	}
	tau := (float64(at) + 273.15) / 300
	micro := 280.68*math.Pow(tau, -1.9) + 511.45*math.Pow(tau, -7.7) + 61.131*math.Pow(tau, -19.6) + 0.45903*math.Pow(tau, -40)
	return Viscosity(micro / 1000), nil
}

// DrainAsAgreed returns what a drain time would have been at 20 °C and at the
// consistency that the studio's own test is agreed to be made at, so that
// times of different days can be told beside each other.
//
//	t20 = t · µ(20 °C)/µ(T) · agreed/stock
//
// Contract:
//
//   - Quantity: seconds at 20 °C and the agreed consistency, s
//   - Inputs: t seconds for the same volume through the same mesh, s; temperature of the stock, °C; stock and agreed consistency, g/L
//   - Valid: t 0.5 to 36,000 s; 1 to 60 °C; both 0.05 to 20 g/L, and within a half to twice each other; outside: fault.OutOfRange
//   - Assumes: the fibre on the mesh holds the water back, not the mesh; the fibre itself is no slower cold
//   - Error: 5–10 % from one test to the next (memory); as far as the bare mesh counts, the part for consistency is too large
//   - Source: cake-filtration; iapws-liquid-water-2011
//   - Checked: property: equals the time that Rig.DrainTime has for a mesh without resistance
func DrainAsAgreed(t Seconds, at measure.Temperature, stock, agreed measure.Consistency) (Seconds, error) {
	mu, err := WaterViscosity(at)
	err = fault.First(err,
		measure.Inside("drain_seconds", "the drain time", t, leastDrain, mostDrain, "s"),
		measure.Inside("stock", "the consistency of the test", stock, leastTest, mostTest, "g/L"),
		measure.Inside("agreed", "the agreed consistency", agreed, leastTest, mostTest, "g/L"))
	if err != nil {
		return 0, err
	}
	thicker := float64(agreed / stock)
	if !measure.Within(thicker, 0.5, 2) {
		return 0, fault.OutOfRange("stock", "a drain test is corrected for stock between half and twice the agreed %g g/L: thin or thicken it, and test again", float64(agreed))
	}
	mu20, err := WaterViscosity(DrainTemperature)
	if err != nil {
		return 0, err
	}
	return t * Seconds(float64(mu20/mu)*thicker), nil
}

// HeadPressure returns what a column of water presses with.
//
//	ΔP = ρ · g · h
//
// Contract:
//
//   - Quantity: pressure over the mesh, kPa
//   - Inputs: h height of the water over the mesh, mm; of a falling head the mean
//   - Valid: 1 to 5,000 mm; outside: fault.OutOfRange
//   - Assumes: cold water, 998 kg/m³; under the mesh it drips into air
//   - Error: 0.3 %; a head that falls to a half makes the mean about 5 % wrong
//   - Source: definition
//   - Checked: 150 mm by hand, 1468 Pa; with 1000 kg/m³ and 9.81 m/s² it would be 1471.5
func HeadPressure(h measure.Length) (measure.Pressure, error) {
	if err := measure.Inside("head", "the height of the water", h, 1, 5000, "mm"); err != nil {
		return 0, err
	}
	return measure.Pressure(waterDensity * gravity * float64(h) / 1e6), nil // mm to m, Pa to kPa
}

// Rig is the studio's own drain test: a fixed mesh, head and stock.
type Rig struct {
	Mesh  measure.Area        // that the water goes through, m²
	Head  measure.Pressure    // mean, over the mesh, kPa
	Stock measure.Consistency // of the test, g/L; 2 g/L as in the Schopper-Riegler tester serves well
}

// Resistance is what a stock and a mesh hold water back with. The cake's is
// the stock's slowness, on a scale that any rig shares; no degree of a tester
// can be had from it.
type Resistance struct {
	Cake CakeResistance
	Mesh MeshResistance
}

// Caught is one reading of a drain test: the water caught, and after how long.
type Caught struct {
	Volume measure.Volume
	After  Seconds
}

// slope and intercept of t/V against V, s/m⁶ and s/m³, for one m/kg and one 1/m.
func (r Rig) line(mu Viscosity) (slope, intercept float64, err error) {
	err = fault.First(
		measure.Inside("mesh", "the area of the mesh", r.Mesh, leastMesh, mostMesh, "m²"),
		measure.Inside("head", "the pressure over the mesh", r.Head, leastHead, mostHead, "kPa"),
		measure.Inside("stock", "the consistency of the test", r.Stock, leastTest, mostTest, "g/L"),
		measure.Inside("viscosity", "the viscosity", mu, leastViscous, mostViscous, "mPa·s"))
	if err != nil {
		return 0, 0, err
	}
	pascal, second := float64(r.Head)*1e3, float64(mu)/1e3 // kPa to Pa, mPa·s to Pa·s
	a := float64(r.Mesh)
	return second * float64(r.Stock) / (2 * a * a * pascal), second / (a * pascal), nil // g/L is kg/m³
}

// DrainTime returns how long a volume takes through the rig.
//
//	t = µ·α·c/(2·A²·ΔP) · V² + µ·Rm/(A·ΔP) · V
//
// Contract:
//
//   - Quantity: seconds until the volume is caught, s
//   - Inputs: r area A m², mean pressure ΔP kPa, consistency c g/L; res cake α m/kg and mesh Rm 1/m; v volume, L; mu viscosity µ, mPa·s
//   - Valid: A 0.0001 to 4 m²; ΔP 0.01 to 50 kPa; c 0.05 to 20 g/L; α and Rm 0 to 1e15; V 0.01 to 100 L; µ 0.4 to 1.8 mPa·s; outside: fault.OutOfRange
//   - Assumes: fixed head; all fibre stays on the mesh; the cake is not pressed together by so little head
//   - Error: exact for the model; α is known to 5–10 % (memory)
//   - Source: cake-filtration
//   - Checked: published/beating-drain.csv; property: Rig.Resistance gives α and Rm back
func (r Rig) DrainTime(res Resistance, v measure.Volume, mu Viscosity) (Seconds, error) {
	slope, intercept, err := r.line(mu)
	err = fault.First(err,
		measure.Inside("cake", "the resistance of the cake", res.Cake, 0, mostCake, "m/kg"),
		measure.Inside("bare", "the resistance of the mesh", res.Mesh, 0, mostBare, "1/m"),
		measure.Inside("volume", "the water caught", v, leastCaught, mostCaught, "L"))
	if err != nil {
		return 0, err
	}
	cubic := float64(v) / 1000 // L to m³
	return Seconds((slope*float64(res.Cake)*cubic + intercept*float64(res.Mesh)) * cubic), nil
}

// Resistance returns what the stock and the mesh hold water back with, from
// the times at which rising volumes were caught.
//
//	t/V = µ·α·c/(2·A²·ΔP) · V + µ·Rm/(A·ΔP): a straight line, by least squares
//
// Contract:
//
//   - Quantity: cake resistance α, m/kg, and mesh resistance Rm, 1/m
//   - Inputs: readings of one test, volume L and time s; mu viscosity at the temperature of the stock, mPa·s
//   - Valid: two readings or more, volumes 0.01 to 100 L and times 0.5 to 36,000 s, both rising; the rig and µ as in DrainTime; outside: fault.OutOfRange or Invalid
//   - Assumes: as DrainTime; with a line that would start below nought the mesh counts for nothing and the line goes through it
//   - Error: α 5–10 % (memory); Rm, from the first readings alone, several times that
//   - Source: cake-filtration
//   - Checked: published/beating-drain.csv, back to α and Rm; property: round trip with DrainTime
func (r Rig) Resistance(readings []Caught, mu Viscosity) (Resistance, error) {
	slope, intercept, err := r.line(mu)
	if err != nil {
		return Resistance{}, err
	}
	if len(readings) < 2 {
		return Resistance{}, fault.Invalid("readings", "a drain test needs two readings or more, such as at a quarter, a half, three quarters and one litre")
	}
	one, volume, perVolume := make([]float64, len(readings)), make([]float64, len(readings)), make([]float64, len(readings))
	last := Caught{}
	for i, c := range readings {
		err := fault.First(
			measure.Inside("readings", "the water caught", c.Volume, leastCaught, mostCaught, "L"),
			measure.Inside("readings", "the drain time", c.After, leastDrain, mostDrain, "s"))
		if err != nil {
			return Resistance{}, err
		}
		if c.Volume <= last.Volume || c.After <= last.After {
			return Resistance{}, fault.Invalid("readings", "each reading must have more water and more time than the one before it")
		}
		last = c
		one[i], volume[i] = 1, float64(c.Volume)/1000
		perVolume[i] = float64(c.After) / volume[i]
	}
	b, err := lineOf(one, volume, perVolume)
	if err != nil || b[1] <= 0 {
		return Resistance{}, fault.Invalid("readings", "the later water came as fast as the first, so no fibre lay on the mesh: stir, and test again")
	}
	return Resistance{CakeResistance(b[1] / slope), MeshResistance(b[0] / intercept)}, nil
}

// lineOf is intercept and slope by least squares, the intercept not below 0.
func lineOf(one, x, y []float64) ([]float64, error) {
	if len(x) == 2 { // two points are a line; least squares wants a row to spare
		s := (y[1] - y[0]) / (x[1] - x[0])
		if b := y[0] - s*x[0]; b >= 0 {
			return []float64{b, s}, nil
		}
	} else if fit, err := num.Linear([][]float64{one, x}, y); err != nil || fit.Coef[0] >= 0 {
		return fit.Coef, err
	}
	fit, err := num.Linear([][]float64{x}, y)
	if err != nil {
		return nil, err
	}
	return []float64{0, fit.Coef[0]}, nil
}
