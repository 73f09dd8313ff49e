package drying

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/source"
)

// The ways of drying, in the trade's words.
const (
	Stack    = "stack"    // between blotters and boards, with moving air
	Exchange = "exchange" // between blotters that are changed
	Board    = "board"    // brushed on a board or on glass
	Loft     = "loft"     // hung
	Free     = "free"     // unheld
)

const (
	// StackRetighten is when a stack wants tightening, h after loading: 4 to 6
	// (source: drybox-instructions).
	StackRetighten measure.Hours = 5
	// ChangeEvery is how often exchanged blotters are changed, h (source:
	// make-paper-videos).
	ChangeEvery measure.Hours = 8

	// referenceTemp and referenceHumidity are the room the waiting times are
	// stated for (source: memory, as the times themselves).
	referenceTemp     measure.Temperature = 20
	referenceHumidity measure.RelHumidity = 0.50
	// mostWeather is the factor above which paper is not said to dry at all: a
	// judgement, at 20 °C reached near 97 % relative humidity.
	mostWeather = 20
)

// wait is a waiting time with its 90 % band, hours.
type wait struct {
	low, mid, high measure.Hours
	source         string
}

// unforced are the waits at 20 °C and 50 % relative humidity without a fan.
var unforced = map[string]wait{
	Exchange: {48, 60, 72, source.KeyMemory}, // 4 to 6 changes of a 100 g/m² sheet
	Board:    {3, 6, 12, source.KeyMemory},   // pressed sheets, warm and dry
	Loft:     {24, 48, 72, source.KeyMemory}, // at 50-60 %; heavy sheets 3 to 5 days
	Free:     {24, 48, 96, source.KeyMemory},
}

// Unforced returns how long sheets dry without moving air, at 20 °C and 50 %
// relative humidity: low and high are a 90 % band around mid.
//
//	a table of waiting times, no formula
//
// Contract:
//
//   - Quantity: drying time, h, with its band
//   - Inputs: kind, one of exchange, board, loft, free
//   - Valid: those words; stack has a fan and StackLeast; others: fault.Invalid
//   - Assumes: pressed sheets near 100 g/m²; a room that is aired
//   - Error: the band itself
//   - Source: memory
//   - Checked: unverified, remembered values; property: low < mid < high
func Unforced(kind string) (low, mid, high measure.Hours, sourceKey string, err error) {
	w, ok := unforced[kind]
	if !ok {
		return 0, 0, 0, "", fault.Invalid("drying", "%q is not a way of drying without a fan; say exchange, board, loft or free", kind)
	}
	return w.low, w.mid, w.high, w.source, nil
}

// StackLeast returns the time a stack with a fan takes however light the load:
// water must first creep through sheet and blotter, whatever the air could
// carry. Makers say about a day, two for thick sheets; very thin sheets have
// dried in 8 hours.
//
//	a prior, no formula
//
// Contract:
//
//   - Quantity: drying time of a stack, h, at least; low and high are a 90 % band around mid
//   - Inputs: none
//   - Valid: a stack of boards and blotters with a fan
//   - Assumes: pressed sheets, dry blotters
//   - Error: the band itself
//   - Source: drying-box-page for 24 h; drying-box-printers for the upper end; memory for the lower
//   - Checked: unverified prior; reported 24 h, 24 to 48 h, 2 to 3 days with a small fan
func StackLeast() (low, mid, high measure.Hours, sourceKey string) {
	return 12, 24, 48, "drying-box-page"
}

// StackHours returns the drying time of a stack: what the air needs, or what
// the blotters need, whichever is longer.
//
//	hours = max(learned, least)
//
// Contract:
//
//   - Quantity: drying time, h
//   - Inputs: learned, of HoursLearned, h; least, of StackLeast, h
//   - Valid: 0 to 10000000 h; outside: fault.OutOfRange
//   - Assumes: the two delays do not add
//   - Error: as its inputs
//   - Source: derived
//   - Checked: property: not under either
func StackHours(learned, least measure.Hours) (measure.Hours, error) {
	err := fault.First(
		measure.Inside("learned", "the learned hours", learned, 0, 1e7, "h"),
		measure.Inside("least", "the least hours", least, 0, 1e7, "h"),
	)
	if err != nil {
		return 0, err
	}
	return max(learned, least), nil
}

// WeatherFactor returns how many times longer drying takes in this room than at
// 20 °C, 50 % relative humidity and sea level.
//
//	factor = capacity(20 °C, 50 %) / capacity(room), at equal airflow
//
// Contract:
//
//   - Quantity: a factor on drying time
//   - Inputs: t °C; rh relative humidity, a fraction; altitude m
//   - Valid: t 0 to 80 °C; rh 0.01 to 1; altitude -500 to 5000 m; outside: fault.OutOfRange; a factor over 20: fault.Infeasible
//   - Assumes: the air at the sheet moves as it does on another day
//   - Error: 2 % for the air; for blotters changed by hand it overstates the weather
//   - Source: derived from ashrae-psychrometrics
//   - Checked: 15 °C and 80 % take three times as long; property: 1 at the reference, rises with humidity
func WeatherFactor(t measure.Temperature, rh measure.RelHumidity, altitude measure.Altitude) (measure.Number, error) {
	reference, err := Capacity(1, referenceTemp, referenceHumidity, 0)
	if err != nil {
		return 0, err
	}
	room, err := Capacity(1, t, rh, altitude)
	if err != nil {
		return 0, err
	}
	if float64(room)*mostWeather < float64(reference) {
		return 0, fault.Infeasible("humidity", "paper hardly dries in air of %.0f °C and %.0f %% relative humidity; warm the room or dry its air", float64(t), 100*float64(rh))
	}
	return measure.Number(reference / room), nil
}

// UnforcedHours returns a waiting time in this weather.
//
//	hours = typical · weather factor
//
// Contract:
//
//   - Quantity: drying time, h
//   - Inputs: typical, a time of Unforced, h; weather, of WeatherFactor
//   - Valid: typical 0 to 10000 h; weather 0.01 to 20; outside: fault.OutOfRange
//   - Assumes: as WeatherFactor
//   - Error: as its inputs
//   - Source: derived
//   - Checked: property: proportional to both
func UnforcedHours(typical measure.Hours, weather measure.Number) (measure.Hours, error) {
	err := fault.First(
		measure.Inside("typical", "the typical hours", typical, 0, 10000, "h"),
		measure.Inside("weather", "the weather factor", weather, 0.01, mostWeather, ""),
	)
	if err != nil {
		return 0, err
	}
	return measure.Hours(float64(typical) * float64(weather)), nil
}

// Changes returns how often exchanged blotters are changed over a drying time.
//
//	changes = ⌈hours / 8⌉ − 1, at least 1
//
// Contract:
//
//   - Quantity: changes of blotters, whole
//   - Inputs: hours of drying
//   - Valid: 0 to 10000 h; outside: fault.OutOfRange
//   - Assumes: one change every 8 h, by night too; at night the first is later
//   - Error: one change
//   - Source: make-paper-videos
//   - Checked: two to three days are 5 to 8 changes; 4 to 6 are remembered, nights left out
func Changes(hours measure.Hours) (int, error) {
	if err := measure.Inside("hours", "the drying time", hours, 0, 10000, "h"); err != nil {
		return 0, err
	}
	return max(1, int(math.Ceil(float64(hours/ChangeEvery)))-1), nil
}
