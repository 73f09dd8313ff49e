package studio

import (
	"strconv"

	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// blank is a number of the equipment that may stay unsaid.
type blank struct {
	name, label, hint string
	kind              measure.Kind
	unit              string // it is kept in; "" for counts and money
	of                func(*kit) **float64
}

// kit is the equipment with every number by itself, so that each may be left
// blank; pairs that only mean something together are put together when read.
type kit struct {
	plan.Studio
	rated, beaterWater, force, places, airflow, temp, rh, felts *float64
}

func blanks(group string) []blank {
	switch group {
	case "Vat and stock":
		return []blank{
			{"vat", "The vat holds, when you work", "", measure.OfVolume, "L", func(k *kit) **float64 { return &k.VatL }},
			{"least", "Least level you can work at", "Empty: three quarters of it.", measure.OfVolume, "L", func(k *kit) **float64 { return &k.VatLeastL }},
			{"stock", "Stock, as you make it up", "Bone-dry fibre in a litre. Empty: 30 g/L.", measure.OfConsistency, "g/L", func(k *kit) **float64 { return &k.StockGL }},
			{"jug", "The jug holds", "The card counts in this jug.", measure.OfSmallVolume, "mL", func(k *kit) **float64 { return &k.JugML }},
		}
	case "Beater":
		return []blank{
			{"rated", "A load takes, bone-dry", "", measure.OfMass, "g", func(k *kit) **float64 { return &k.rated }},
			{"water", "The water that is in", "", measure.OfVolume, "L", func(k *kit) **float64 { return &k.beaterWater }},
		}
	case "Felts and press":
		return []blank{
			{"felts", "Felts", "", measure.OfCount, "", func(k *kit) **float64 { return &k.felts }},
			{"force", "The press gives at most", "What the jack or the plate says. A metric ton is about 9.8 kN.", measure.OfForce, "kN", func(k *kit) **float64 { return &k.force }},
		}
	case "Dryer":
		return []blank{
			{"places", "Sheets it holds", "", measure.OfCount, "", func(k *kit) **float64 { return &k.places }},
			{"airflow", "Air it moves", "What the fan's plate says, less what the stack holds back.", measure.OfAirflow, "m³/s", func(k *kit) **float64 { return &k.airflow }},
		}
	case "Room":
		return []blank{
			{"temp", "Temperature", "", measure.OfTemperature, "°C", func(k *kit) **float64 { return &k.temp }},
			{"rh", "Humidity", "", measure.OfPercent, "%", func(k *kit) **float64 { return &k.rh }},
			{"altitude", "Above the sea", "It sets where water boils and how air dries.", measure.OfAltitude, "m", func(k *kit) **float64 { return &k.AltitudeM }},
		}
	case "Work":
		return []blank{
			{"rate", "An hour of work costs", "", measure.OfNumber, "", func(k *kit) **float64 { return &k.RateHour }},
			{"day", "Hours by hand in a day", "Empty: six.", measure.OfHours, "h", func(k *kit) **float64 { return &k.HandsADay }},
			{"fibre", "Fibre on the shelf, air-dry", "All kinds together; a plan that needs more says so.", measure.OfMass, "g", func(k *kit) **float64 { return &k.FibreStock }},
		}
	}
	return nil
}

var groups = []Group{
	{Name: "Studio"},
	{Name: "Vat and stock"},
	{Name: "Moulds", Note: "The formed size, inside the deckle. A plan picks the one that dries to the size wanted; with none it says what to look for.", Moulds: true},
	{Name: "Felts and press"}, {Name: "Beater"}, {Name: "Dryer"}, {Name: "Room"}, {Name: "Work"},
}

// Rows of moulds: those there are and two to fill in, within these bounds.
const (
	leastRows = 3
	mostRows  = 60
)

func set(base page.Base, f *page.Form) Data {
	f.At = faultsAt()
	f.Fill("rows", strconv.Itoa(leastRows))
	d := Data{Base: base, Typed: string(base.Speech.System), Revision: f.Get("revision"), Kept: f.Values.Has("typed")}
	d.Rows, _ = strconv.Atoi(f.Get("rows"))
	d.Rows = min(max(d.Rows, leastRows), mostRows)
	for _, g := range groups {
		g.Fields = nil
		switch g.Name {
		case "Studio":
			for _, fd := range general() {
				g.Fields = append(g.Fields, f.Field(fd))
			}
		case "Moulds":
			for i := 1; i <= d.Rows; i++ {
				n := strconv.Itoa(i)
				g.Fields = append(g.Fields,
					f.Field(part.Field{Name: "mould-" + n + "-size", Label: "Mould " + n + ", formed size", Kind: part.Text, Bare: base.Speech.Bare(measure.OfLength)}),
					f.Field(part.Field{Name: "mould-" + n + "-name", Label: "Mould " + n + ", called", Kind: part.Text}))
			}
		default:
			for _, b := range blanks(g.Name) {
				g.Fields = append(g.Fields, f.Field(b.field(base.Speech)))
			}
		}
		d.Groups = append(d.Groups, g)
	}
	d.Wrong = f.Wrong()
	return d
}

func (b blank) field(s part.Speech) part.Field {
	fd := part.Field{Name: b.name, Label: b.label, Hint: b.hint, Kind: part.Number, Mode: "decimal", Unit: shownUnit(b.kind, b.unit, s), Bare: s.Bare(b.kind)}
	switch {
	case b.kind == measure.OfCount:
		fd.Mode = "numeric"
	case b.name == "rate":
		fd.Unit = s.Currency
	}
	return fd
}

// shownUnit is the unit of a bare number in the reader's system.
func shownUnit(kind measure.Kind, unit string, s part.Speech) string {
	if u := s.Bare(kind); u != "" && s.US() {
		return u
	}
	return unit
}
