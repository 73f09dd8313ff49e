package studio

import (
	"fmt"
	"strings"
	"time"

	"vatside/internal/beating"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/sizing"
)

// Measured is what was measured besides the card's own blanks, each kind in the
// maker's order.
type Measured struct {
	Beats     []BeatSeen
	Calipers  []Caliper
	Diagonals []Diagonals
	Sized     []Sized
	Cobbs     []Cobb
	Inks      []InkStrip
	Soaked    []Soaked
	Hands     []HandSays
	Steeped   []Steeped
	Moistures []MoistureCheck
	Added     []Added // in the order in which it went in
	Pressed   []Pressed
	Dried     []Dried
	Spoilt    []Spoilt
	Water     []WaterUsed
	Photos    []PhotoSeen
}

// BeatReading is a look at one load while it is beaten: where the roll stands,
// how slowly a handful of stock drains, or both.
type BeatReading struct {
	Load    int           `json:"load"`           // from 1
	Hours   float64       `json:"hours"`          // of beating until then
	Roll    string        `json:"roll,omitempty"` // where the roll stands, in words or turns
	Scale   beating.Scale `json:"scale"`
	Value   *float64      `json:"value,omitempty"` // as read; nil: only the roll was noted
	WaterC  *float64      `json:"water_c,omitempty"`
	StockGL *float64      `json:"stock_g_l,omitempty"` // of a drain test
}

// BeatSeen is a reading with its time.
type BeatSeen struct {
	BeatReading
	At time.Time
}

// Caliper is a sheet's thickness at several places.
type Caliper struct {
	ThicknessMM []float64 `json:"thickness_mm"`
}

// Diagonals are both diagonals of a dry sheet and its two sides.
type Diagonals struct {
	FirstMM  float64 `json:"first_mm"`
	SecondMM float64 `json:"second_mm"`
	LongMM   float64 `json:"long_mm"`
	ShortMM  float64 `json:"short_mm"`
}

// Sized is sheets weighed together before the bath and drained after it.
type Sized struct {
	DryG    float64 `json:"dry_g"`
	WetG    float64 `json:"wet_g"`
	BathPct float64 `json:"bath_pct"` // strength by mass; 0: not said
}

// Cobb is a Cobb test: a piece before and after water stood on it.
type Cobb struct {
	DryG    float64 `json:"dry_g"`
	WetG    float64 `json:"wet_g"`
	AreaCM2 float64 `json:"area_cm2"`
	Seconds float64 `json:"seconds"`
}

// InkStrip is what a line of ink did.
type InkStrip struct {
	Says sizing.InkStrip `json:"says"`
}

// Soaked is a sheet before a bath, wet, and dried again, both ways. After 0: not
// dried yet.
type Soaked struct {
	BeforeLongMM  float64 `json:"before_long_mm"`
	BeforeShortMM float64 `json:"before_short_mm"`
	WetLongMM     float64 `json:"wet_long_mm"`
	WetShortMM    float64 `json:"wet_short_mm"`
	AfterLongMM   float64 `json:"after_long_mm"`
	AfterShortMM  float64 `json:"after_short_mm"`
}

// HandSays is what hand and ear say of the paper, in words or from 1 to 5.
type HandSays struct {
	Handle string `json:"handle,omitempty"`
	Rattle string `json:"rattle,omitempty"`
	Tooth  string `json:"tooth,omitempty"`
	Remark string `json:"remark,omitempty"`
}

// Steeped is fibre that soaked before the beater.
type Steeped struct {
	Hours float64 `json:"hours"`
}

// MoistureCheck is a handful of the fibre as it lay, weighed, dried and weighed
// again.
type MoistureCheck struct {
	WetG float64 `json:"wet_g"`
	DryG float64 `json:"dry_g"`
}

// Added is something put into the stock; one of the two amounts is enough.
// Entries are in the order in which things went in.
type Added struct {
	What  string  `json:"what"`
	Grams float64 `json:"grams"` // as it comes out of its bag; 0: not said
	ML    float64 `json:"ml"`    // of a solution or a liquid; 0: not said
	When  string  `json:"when,omitempty"`
}

// Pressed is a post under the press.
type Pressed struct {
	Post    int     `json:"post"`     // 0: all of them alike
	ForceKN float64 `json:"force_kn"` // 0: not said
	Minutes float64 `json:"minutes"`
}

// Dried is how long sheets took from the press to dry. Air not said is 0.
type Dried struct {
	Hours float64 `json:"hours"`
	Where string  `json:"where,omitempty"` // which dryer, or how
	AirC  float64 `json:"air_c"`
	RHPct float64 `json:"rh_pct"`
}

// Spoilt is sheets lost, with the reason. It tells why and counts nothing: the
// posts and the grades count.
type Spoilt struct {
	Sheets int    `json:"sheets"`
	Why    string `json:"why"`
}

// WaterUsed is water drawn for the making.
type WaterUsed struct {
	Litres float64 `json:"litres"`
}

// Kind returns KindSteeped.
func (Steeped) Kind() Kind { return KindSteeped }

// Kind returns KindMoisture.
func (MoistureCheck) Kind() Kind { return KindMoisture }

// Kind returns KindAdded.
func (Added) Kind() Kind { return KindAdded }

// Kind returns KindPressed.
func (Pressed) Kind() Kind { return KindPressed }

// Kind returns KindDried.
func (Dried) Kind() Kind { return KindDried }

// Kind returns KindSpoilt.
func (Spoilt) Kind() Kind { return KindSpoilt }

// Kind returns KindWater.
func (WaterUsed) Kind() Kind { return KindWater }

// Kind returns KindBeat.
func (BeatReading) Kind() Kind { return KindBeat }

// Kind returns KindCaliper.
func (Caliper) Kind() Kind { return KindCaliper }

// Kind returns KindDiagonals.
func (Diagonals) Kind() Kind { return KindDiagonals }

// Kind returns KindSized.
func (Sized) Kind() Kind { return KindSized }

// Kind returns KindCobb.
func (Cobb) Kind() Kind { return KindCobb }

// Kind returns KindInk.
func (InkStrip) Kind() Kind { return KindInk }

// Kind returns KindSoaked.
func (Soaked) Kind() Kind { return KindSoaked }

// Kind returns KindHand.
func (HandSays) Kind() Kind { return KindHand }

// Bounds of what a bench can read; ours, wide.
const (
	mostLoads    = 1000
	mostBeat     = 24    // h of one load: what the curve goes to
	mostReadings = 1000  // of a caliper
	mostCaliper  = 50    // mm
	mostSeconds  = 36000 // of a test
	mostBath     = 50    // % size in a bath
	mostHours    = 10000 // of a soak or in a dryer: over a year
	mostForce    = 5000  // kN of a press
)

// agreedStock is the consistency that drain times are told at, so that those of
// different days stand beside each other.
const agreedStock = beating.SchopperRieglerStock

func (b BeatReading) check(f *fault.List) {
	checkInt(f, "load", b.Load, 1, mostLoads, "loads")
	checkNumber(f, "hours", b.Hours, 0, mostBeat, "h")
	checkText(f, "roll", b.Roll, shortText)
	if b.Value == nil {
		if strings.TrimSpace(b.Roll) == "" {
			f.Add(fault.Invalid("value", "write what the test said, or where the roll stands"))
		}
		return
	}
	if b.WaterC != nil {
		checkNumber(f, "water_c", *b.WaterC, 1, 60, "°C")
	}
	if b.StockGL != nil {
		checkNumber(f, "stock_g_l", *b.StockGL, float64(agreedStock)/2, float64(agreedStock)*2, "g/L")
	}
	if len(*f) > 0 {
		return
	}
	v, err := b.Reading()
	if err == nil {
		err = takes(b.Scale, v)
	}
	for _, e := range fault.All(err) {
		e.Field = "value"
		f.Add(e)
	}
}

// takes reports why a scale does not take a reading; any curve on it tells.
func takes(s beating.Scale, r beating.Reading) error {
	abaca, _ := fibre.Get("abaca")
	rate, err := beating.HandbookRate(s, abaca)
	if err != nil {
		return err
	}
	c, err := beating.NewCurve(s, rate)
	if err == nil {
		_, err = c.With(r)
	}
	return err
}

// Reading is the reading as a curve takes it: a drain time as it would be at
// 20 °C and the agreed consistency. Value must be said. Faults: OutOfRange.
func (b BeatReading) Reading() (beating.Reading, error) {
	r := beating.Reading{At: measure.Hours(b.Hours), Value: *b.Value}
	if b.Scale != beating.ByDrainTime {
		return r, nil
	}
	at, stock := beating.DrainTemperature, agreedStock
	if b.WaterC != nil {
		at = measure.Temperature(*b.WaterC)
	}
	if b.StockGL != nil {
		stock = measure.Consistency(*b.StockGL)
	}
	t, err := beating.DrainAsAgreed(beating.Seconds(r.Value), at, stock, agreedStock)
	r.Value = float64(t)
	return r, err
}

func (b Caliper) check(f *fault.List) {
	if n := len(b.ThicknessMM); n < 1 || n > mostReadings {
		f.Add(fault.OutOfRange("thickness_mm", "between 1 and %d readings", mostReadings))
	}
	for i, t := range b.ThicknessMM {
		checkNumber(f, fmt.Sprintf("thickness_mm[%d]", i), t, 0.001, mostCaliper, "mm")
	}
}

func (b Diagonals) check(f *fault.List) {
	checkOver(f, "first_mm", b.FirstMM, mostMM, "mm")
	checkOver(f, "second_mm", b.SecondMM, mostMM, "mm")
	checkOver(f, "long_mm", b.LongMM, mostMM, "mm")
	checkOver(f, "short_mm", b.ShortMM, mostMM, "mm")
}

func (b Sized) check(f *fault.List) {
	checkOver(f, "dry_g", b.DryG, mostGrams, "g")
	checkOver(f, "wet_g", b.WetG, mostGrams, "g")
	checkNumber(f, "bath_pct", b.BathPct, 0, mostBath, "%")
	checkWetter(f, b.DryG, b.WetG)
}

func (b Cobb) check(f *fault.List) {
	checkOver(f, "dry_g", b.DryG, mostGrams, "g")
	checkOver(f, "wet_g", b.WetG, mostGrams, "g")
	checkNumber(f, "area_cm2", b.AreaCM2, 10, 1000, "cm²")
	checkOver(f, "seconds", b.Seconds, mostSeconds, "s")
	checkWetter(f, b.DryG, b.WetG)
}

// checkWetter wants a wet piece no lighter than it was dry: then the two were
// written the wrong way round.
func checkWetter(f *fault.List, dry, wet float64) {
	if wet < dry {
		f.Add(fault.Invalid("wet_g", "wet it weighs no less than dry; look whether the two are the right way round"))
	}
}

func (b InkStrip) check(f *fault.List) {
	if b.Says.String() == "" {
		f.Add(fault.Invalid("says", "say what the ink did, from 1 to 6"))
	}
}

func (b Soaked) check(f *fault.List) {
	for _, s := range []struct {
		field string
		mm    float64
	}{{"before_long_mm", b.BeforeLongMM}, {"before_short_mm", b.BeforeShortMM}, {"wet_long_mm", b.WetLongMM}, {"wet_short_mm", b.WetShortMM}} {
		checkOver(f, s.field, s.mm, mostMM, "mm")
	}
	checkNumber(f, "after_long_mm", b.AfterLongMM, 0, mostMM, "mm")
	checkNumber(f, "after_short_mm", b.AfterShortMM, 0, mostMM, "mm")
}

func (b HandSays) check(f *fault.List) {
	if strings.TrimSpace(b.Handle+b.Rattle+b.Tooth+b.Remark) == "" {
		f.Add(fault.Invalid("handle", "say at least one of handle, rattle and tooth"))
	}
	checkText(f, "handle", b.Handle, shortText)
	checkText(f, "rattle", b.Rattle, shortText)
	checkText(f, "tooth", b.Tooth, shortText)
	checkText(f, "remark", b.Remark, longText)
}

func (b Steeped) check(f *fault.List) { checkOver(f, "hours", b.Hours, mostHours, "h") }

func (b MoistureCheck) check(f *fault.List) {
	checkOver(f, "dry_g", b.DryG, mostGrams, "g")
	checkOver(f, "wet_g", b.WetG, mostGrams, "g")
	checkWetter(f, b.DryG, b.WetG)
}

func (b Added) check(f *fault.List) {
	if strings.TrimSpace(b.What) == "" {
		f.Add(fault.Invalid("what", "say what was put in"))
	}
	checkText(f, "what", b.What, shortText)
	checkText(f, "when", b.When, shortText)
	checkNumber(f, "grams", b.Grams, 0, mostGrams, "g")
	checkNumber(f, "ml", b.ML, 0, mostGrams, "mL")
	if b.Grams == 0 && b.ML == 0 {
		f.Add(fault.Invalid("grams", "say how much, by weight or by volume"))
	}
}

func (b Pressed) check(f *fault.List) {
	checkInt(f, "post", b.Post, 0, mostSheets, "posts")
	checkNumber(f, "force_kn", b.ForceKN, 0, mostForce, "kN")
	checkOver(f, "minutes", b.Minutes, mostMinutes, "minutes")
}

func (b Dried) check(f *fault.List) {
	checkOver(f, "hours", b.Hours, mostHours, "h")
	checkText(f, "where", b.Where, shortText)
	checkNumber(f, "air_c", b.AirC, 0, 150, "°C")
	checkNumber(f, "rh_pct", b.RHPct, 0, 100, "%")
}

func (b Spoilt) check(f *fault.List) {
	checkInt(f, "sheets", b.Sheets, 1, mostSheets, "sheets")
	if strings.TrimSpace(b.Why) == "" {
		f.Add(fault.Invalid("why", "say why, such as kissed, bubble, torn, thick corner or drip"))
	}
	checkText(f, "why", b.Why, shortText)
}

func (b WaterUsed) check(f *fault.List) { checkOver(f, "litres", b.Litres, mostGrams, "L") }

// take adds one event.
func (m *Measured) take(h Holding) {
	switch b := h.Body.(type) {
	case BeatReading:
		m.Beats = append(m.Beats, BeatSeen{b, h.Event.At})
	case Caliper:
		m.Calipers = append(m.Calipers, b)
	case Diagonals:
		m.Diagonals = append(m.Diagonals, b)
	case Sized:
		m.Sized = append(m.Sized, b)
	case Cobb:
		m.Cobbs = append(m.Cobbs, b)
	case InkStrip:
		m.Inks = append(m.Inks, b)
	case Soaked:
		m.Soaked = append(m.Soaked, b)
	case HandSays:
		m.Hands = append(m.Hands, b)
	case Photo:
		m.Photos = append(m.Photos, PhotoSeen{b, h.Event.ID, h.Event.At})
	case Steeped:
		m.Steeped = append(m.Steeped, b)
	case MoistureCheck:
		m.Moistures = append(m.Moistures, b)
	case Added:
		m.Added = append(m.Added, b)
	case Pressed:
		m.Pressed = append(m.Pressed, b)
	case Dried:
		m.Dried = append(m.Dried, b)
	case Spoilt:
		m.Spoilt = append(m.Spoilt, b)
	case WaterUsed:
		m.Water = append(m.Water, b)
	}
}

// Besides are the bodies of what a card's More carries, by kind.
func (m Measured) Besides() []Body {
	var list []Body
	list = appendBodies(list, m.Calipers)
	list = appendBodies(list, m.Diagonals)
	list = appendBodies(list, m.Sized)
	list = appendBodies(list, m.Cobbs)
	list = appendBodies(list, m.Inks)
	list = appendBodies(list, m.Soaked)
	list = appendBodies(list, m.Hands)
	list = appendBodies(list, m.Steeped)
	list = appendBodies(list, m.Moistures)
	list = appendBodies(list, m.Added)
	list = appendBodies(list, m.Pressed)
	list = appendBodies(list, m.Dried)
	list = appendBodies(list, m.Spoilt)
	return appendBodies(list, m.Water)
}

func appendBodies[B Body](list []Body, more []B) []Body {
	for _, b := range more {
		list = append(list, b)
	}
	return list
}

// KindPhoto is a photo taken of a making.
const KindPhoto Kind = "photo"

// Photo is a photo of a making. The file itself lies beside the studio's file,
// under its hash.
type Photo struct {
	Hash    string `json:"hash"`   // SHA-256 of the file, in hex
	Format  string `json:"format"` // JPEG, PNG, WebP, TIFF, HEIC
	Width   int    `json:"width"`  // upright, in pixels
	Height  int    `json:"height"`
	Caption string `json:"caption,omitempty"`
}

// PhotoSeen is a photo with its time and the entry that tells of it.
type PhotoSeen struct {
	Photo
	Event string
	At    time.Time
}

// Kind returns KindPhoto.
func (Photo) Kind() Kind { return KindPhoto }

// mostPixels is the longest side of a photo, in pixels; ours: what JPEG can say.
const mostPixels = 65535

func (b Photo) check(f *fault.List) {
	if len(b.Hash) != 64 || strings.Trim(b.Hash, "0123456789abcdef") != "" {
		f.Add(fault.Invalid("hash", "the hash is 64 digits from 0 to f"))
	}
	if strings.TrimSpace(b.Format) == "" {
		f.Add(fault.Invalid("format", "say which format the photo is in"))
	}
	checkText(f, "format", b.Format, shortText)
	checkInt(f, "width", b.Width, 1, mostPixels, "pixels")
	checkInt(f, "height", b.Height, 1, mostPixels, "pixels")
	checkText(f, "caption", b.Caption, shortText)
}
