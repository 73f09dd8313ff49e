// Package measure holds the quantities of the trade as defined types, and how
// people write and read them.
//
// Every quantity is a float64 in one stated unit; quantities of equal
// dimension but different meaning have different types, so that a wet-basis
// moisture cannot be used as a dry-basis one. Conversion to what people read
// happens at the edges only (Show, Parse): no computation depends on the
// system of units a studio prefers. Convert answers what a number is in another
// unit, with its arithmetic. What is read and printed stands in
// docs/models/units.md.
package measure

// Quantity is any of the types below: a number with a unit.
type Quantity interface {
	~float64
	Unit() string
}

type (
	// Number is a plain number: a factor, a ratio.
	Number float64
	// Mass is in grams.
	Mass float64
	// Area is in square metres.
	Area float64
	// Length is in millimetres.
	Length float64
	// Volume is in litres.
	Volume float64
	// Milliliters is a volume in millilitres, used for jugs and doses.
	Milliliters float64
	// GrammageDry is bone-dry solids per dried area, g/m².
	GrammageDry float64
	// GrammageConditioned is mass at stated room moisture per dried area, g/m².
	GrammageConditioned float64
	// GrammageFormed is bone-dry solids per formed (wet) area, g/m².
	GrammageFormed float64
	// Consistency is bone-dry solids per litre of stock, g/L.
	Consistency float64
	// MoistureDry is water over bone-dry mass, a fraction.
	MoistureDry float64
	// MoistureWet is water over total mass, a fraction.
	MoistureWet float64
	// Solids is bone-dry mass over total mass, a fraction.
	Solids float64
	// Share is a part of a whole, a fraction.
	Share float64
	// Dose is an additive's mass on bone-dry fibre, a fraction.
	Dose float64
	// Shrinkage is linear drying shrinkage, a fraction of the formed length.
	Shrinkage float64
	// Temperature is in degrees Celsius.
	Temperature float64
	// RelHumidity is relative humidity, a fraction.
	RelHumidity float64
	// HumidityRatio is kilograms of water vapour per kilogram of dry air.
	HumidityRatio float64
	// Pressure is in kilopascals.
	Pressure float64
	// Force is in kilonewtons.
	Force float64
	// Airflow is in cubic metres per second.
	Airflow float64
	// Altitude is metres above sea level.
	Altitude float64
	// Rate is kilograms of water per hour.
	Rate float64
	// Kilograms is a mass in kilograms, used for water and posts.
	Kilograms float64
	// Hours is a time in hours.
	Hours float64
	// Minutes is a time in minutes.
	Minutes float64
	// Days is a time in days.
	Days float64
	// Sheets counts sheets.
	Sheets float64
	// Loads counts fillings of a beater or a dryer.
	Loads float64
	// Posts counts posts.
	Posts float64
	// Cost is money in the studio's currency, major units.
	Cost float64
	// Density is grams per cubic centimetre.
	Density float64
)

// Unit returns "": a plain number has none.
func (Number) Unit() string { return "" }

// Unit returns the unit the type is stated in.
func (Mass) Unit() string { return "g" }

// Unit returns the unit the type is stated in.
func (Area) Unit() string { return "m²" }

// Unit returns the unit the type is stated in.
func (Length) Unit() string { return "mm" }

// Unit returns the unit the type is stated in.
func (Volume) Unit() string { return "L" }

// Unit returns the unit the type is stated in.
func (Milliliters) Unit() string { return "mL" }

// Unit returns the unit the type is stated in.
func (GrammageDry) Unit() string { return "g/m²" }

// Unit returns the unit the type is stated in.
func (GrammageConditioned) Unit() string { return "g/m²" }

// Unit returns the unit the type is stated in.
func (GrammageFormed) Unit() string { return "g/m²" }

// Unit returns the unit the type is stated in.
func (Consistency) Unit() string { return "g/L" }

// Unit returns "": a fraction has none.
func (MoistureDry) Unit() string { return "" }

// Unit returns "": a fraction has none.
func (MoistureWet) Unit() string { return "" }

// Unit returns "": a fraction has none.
func (Solids) Unit() string { return "" }

// Unit returns "": a fraction has none.
func (Share) Unit() string { return "" }

// Unit returns "": a fraction has none.
func (Dose) Unit() string { return "" }

// Unit returns "": a fraction has none.
func (Shrinkage) Unit() string { return "" }

// Unit returns the unit the type is stated in.
func (Temperature) Unit() string { return "°C" }

// Unit returns "": a fraction has none.
func (RelHumidity) Unit() string { return "" }

// Unit returns the unit the type is stated in.
func (HumidityRatio) Unit() string { return "kg/kg" }

// Unit returns the unit the type is stated in.
func (Pressure) Unit() string { return "kPa" }

// Unit returns the unit the type is stated in.
func (Force) Unit() string { return "kN" }

// Unit returns the unit the type is stated in.
func (Airflow) Unit() string { return "m³/s" }

// Unit returns the unit the type is stated in.
func (Altitude) Unit() string { return "m" }

// Unit returns the unit the type is stated in.
func (Rate) Unit() string { return "kg/h" }

// Unit returns the unit the type is stated in.
func (Kilograms) Unit() string { return "kg" }

// Unit returns the unit the type is stated in.
func (Hours) Unit() string { return "h" }

// Unit returns the unit the type is stated in.
func (Minutes) Unit() string { return "min" }

// Unit returns the unit the type is stated in.
func (Days) Unit() string { return "days" }

// Unit returns the unit the type is stated in.
func (Sheets) Unit() string { return "sheets" }

// Unit returns the unit the type is stated in.
func (Loads) Unit() string { return "loads" }

// Unit returns the unit the type is stated in.
func (Posts) Unit() string { return "posts" }

// Unit returns "money": the currency is the studio's.
func (Cost) Unit() string { return "money" }

// Unit returns the unit the type is stated in.
func (Density) Unit() string { return "g/cm³" }
