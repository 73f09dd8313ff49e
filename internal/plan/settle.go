package plan

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"vatside/internal/fibre"
	"vatside/internal/measure"
)

// What is taken where neither the request nor the studio says otherwise.
// Common practice of small studios; each use is told in a warning.
const (
	usualVat        = 80.0  // L
	usualLeastShare = 0.75  // of the vat: below that a mould no longer dips
	usualStock      = 30.0  // g/L
	usualJug        = 1000  // mL
	usualRated      = 680.0 // g, a common small beater [hollander-beaters-1998]
	usualBeaterL    = 22.7  // L, the same
	usualPress      = 60.0  // kN, a six-ton bottle jack [bottle-jack-press-page]
	usualFelts      = 24
	usualPlaces     = 20
	usualAirflow    = 0.03 // m³/s
	usualTemp       = 20.0 // °C
	usualRH         = 50.0 // %
	usualRate       = 25.0 // an hour, from memory
	usualDay        = 6.0  // hands-on hours a day
	usualConfidence = 95.0
	usualTests      = 3
	usualTolerance  = 8.0
	usualWithin     = 90.0
	usualTrim       = 5.0 // mm an edge
	dipConsistency  = 3.5 // g/L for several dips; 2–5 g/L, from memory
	dipDepth        = 6.0 // mm a dip, from memory
)

// part is one fibre of the furnish with its row of the handbook.
type part struct {
	fibre.Fibre
	share float64
	price float64 // per kg as bought
	given bool    // the price is the maker's
}

// settled is a request with every gap filled, and what was filled from
// nowhere better than common practice.
type settled struct {
	Request
	parts                         []part
	forming, drying, edges, use   string
	hours                         measure.Hours
	conf, tolerance, within       float64
	tests, good                   int
	vat, least                    measure.Volume
	stock                         measure.Consistency
	jug                           float64
	rated                         measure.Mass
	beaterWater                   measure.Volume
	force                         measure.Force
	felts, places                 int
	airflow                       measure.Airflow
	temp                          measure.Temperature
	rh                            measure.RelHumidity
	altitude                      measure.Altitude
	rate, day                     float64
	currency                      string
	trim, toleranceLong, tolShort float64
	dose                          measure.Dose
	assumed                       []string
	signature                     string // furnish and beating, for belief keys
}

// settle fills what the request leaves open. The request has passed Check.
func settle(r Request) (settled, error) {
	s := settled{Request: r}
	s.forming, s.edges = or(r.Paper.Forming, "western"), or(r.Sheet.Edges, "deckle")
	s.use = strings.ToLower(strings.TrimSpace(r.Paper.Use))
	s.conf = deref(r.ConfidencePct, usualConfidence) / 100
	s.tolerance = deref(r.Paper.TolerancePct, usualTolerance) / 100
	s.within = deref(r.Paper.ShareWithinPct, usualWithin) / 100
	s.tests = usualTests
	if r.TestSheets != nil {
		s.tests = *r.TestSheets
	}
	if r.GoodSheets != nil {
		s.good = *r.GoodSheets
	}
	for _, p := range r.Paper.Furnish {
		f, err := fibre.Find("paper.furnish", p.Fibre)
		if err != nil {
			return s, err
		}
		part := part{Fibre: f, share: p.SharePct / 100, price: f.Price.Mid}
		if p.PriceKg != nil {
			part.price, part.given = *p.PriceKg, true
		}
		s.parts = append(s.parts, part)
	}
	for _, a := range r.Paper.Additives {
		s.dose += measure.Dose(a.DosePct / 100)
	}
	s.settleKit(r.Studio)
	s.settleBeating(r.Paper)
	s.drying = r.Paper.Drying
	if s.drying == "" {
		s.drying = "stack"
		s.assume("drying in a stack between blotters")
	}
	s.trim = deref(r.Sheet.TrimMM, usualTrim)
	tol := func(side float64) float64 {
		return deref(r.Sheet.ToleranceMM, math.Max(3, 0.02*side))
	}
	s.toleranceLong, s.tolShort = tol(r.Sheet.LongMM), tol(r.Sheet.ShortMM)
	s.signature = s.sign()
	return s, nil
}

func (s *settled) settleKit(k Studio) {
	s.vat = measure.Volume(s.taken(k.VatL, usualVat, "a vat of %g L"))
	s.least = measure.Volume(deref(k.VatLeastL, float64(s.vat)*usualLeastShare))
	s.stock = measure.Consistency(s.taken(k.StockGL, usualStock, "stock of %g g/L"))
	s.jug = s.taken(k.JugML, usualJug, "a jug of %g mL")
	s.rated, s.beaterWater = usualRated, usualBeaterL
	if k.Beater != nil {
		s.rated, s.beaterWater = measure.Mass(k.Beater.RatedDryG), measure.Volume(k.Beater.WaterL)
	} else {
		s.assume("a beater that takes %g g in %g L", usualRated, usualBeaterL)
	}
	s.force = usualPress
	if k.Press != nil {
		s.force = measure.Force(k.Press.ForceKN)
	} else {
		s.assume("a press of %g kN", usualPress)
	}
	s.felts = usualFelts
	if k.Felts != nil {
		s.felts = *k.Felts
	} else {
		s.assume("%d felts", usualFelts)
	}
	s.places, s.airflow = usualPlaces, usualAirflow
	if k.Dryer != nil {
		s.places, s.airflow = k.Dryer.Places, measure.Airflow(k.Dryer.AirflowM3S)
	} else {
		s.assume("a dryer of %d places", usualPlaces)
	}
	s.temp, s.rh = usualTemp, usualRH/100
	if k.Air != nil {
		s.temp, s.rh = measure.Temperature(k.Air.TempC), measure.RelHumidity(k.Air.RHPct/100)
	} else {
		s.assume("a room at %g °C and %g %% RH", usualTemp, usualRH)
	}
	s.altitude = measure.Altitude(deref(k.AltitudeM, 0))
	s.rate = s.taken(k.RateHour, usualRate, "%g an hour for work")
	s.day = deref(k.HandsADay, usualDay)
	s.currency = or(k.Currency, "USD")
}

func (s *settled) settleBeating(p Paper) {
	if p.BeatingHours != nil {
		s.hours = measure.Hours(*p.BeatingHours)
		return
	}
	for _, part := range s.parts { // the part that wants longest sets the load
		v, ok := part.HoursFor(s.use)
		if !ok {
			v, _ = part.HoursFor("")
		}
		s.hours = max(s.hours, measure.Hours(v.Mid))
	}
	s.assume("%.2g h of beating", float64(s.hours))
}

func (s *settled) taken(v *float64, usual float64, words string) float64 {
	if v != nil {
		return *v
	}
	s.assume(words, usual)
	return usual
}

func (s *settled) assume(words string, args ...any) {
	s.assumed = append(s.assumed, fmt.Sprintf(words, args...))
}

// sign names the stock: fibres with shares, largest first, and the hours they
// are beaten, so that evidence is kept for the stock it came from.
func (s *settled) sign() string {
	names := make([]string, len(s.parts))
	order := append([]part(nil), s.parts...)
	sort.SliceStable(order, func(i, j int) bool { return order[i].share > order[j].share })
	for i, p := range order {
		names[i] = fmt.Sprintf("%s %.0f", p.Name, p.share*100)
	}
	return fmt.Sprintf("%s, %.3g h", strings.Join(names, " + "), float64(s.hours))
}

// mix returns the mean of a value over the furnish by share.
func (s *settled) mix(of func(part) float64) float64 {
	sum := 0.0
	for _, p := range s.parts {
		sum += p.share * of(p)
	}
	return sum
}

func or(s, usual string) string {
	if strings.TrimSpace(s) == "" {
		return usual
	}
	return s
}

func deref(v *float64, usual float64) float64 {
	if v == nil {
		return usual
	}
	return *v
}
