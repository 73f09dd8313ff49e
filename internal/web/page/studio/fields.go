package studio

import (
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// draft is the studio with what must be taken apart to leave each of its
// blanks empty.
type draft struct {
	studio.Profile
	water plan.Water
	rooms map[string]*room
	south string
}

// room is the air of a season, or of the year.
type room struct{ temp, rh *float64 }

func general() []blank[draft] {
	system := part.Field{Name: "system", Label: "Quantities are read and written in", Kind: part.Choices, Options: []part.Option{{Value: "metric", Label: "Metric"}, {Value: "us", Label: "US units"}}}
	return []blank[draft]{
		words("name", line("name", "What is the studio called?", ""), func(d *draft) *string { return &d.Name }),
		words("system", system, func(d *draft) *string { return &d.System }),
		size("", must("usual", "Sheets you usually make", "By name, or two sides. Presses and scales are judged by it."), said(func(d *draft) *float64 { return &d.DefaultSheet.LongMM }), said(func(d *draft) *float64 { return &d.DefaultSheet.ShortMM })),
	}
}

func stock() []blank[draft] {
	return []blank[draft]{
		amount("stock_g_l", line("stock", "Stock, as you make it up", "Bone-dry fibre in a litre. Empty: 30 g/L."), measure.OfConsistency, "g/L", maybe(func(d *draft) **float64 { return &d.Kit.StockGL })),
		amount("jug_ml", line("jug", "The jug holds", "The card counts in this jug."), measure.OfSmallVolume, "mL", maybe(func(d *draft) **float64 { return &d.Kit.JugML })),
	}
}

func felts() []blank[draft] {
	return []blank[draft]{
		amount("felts", line("felts", "Felts", ""), measure.OfCount, "", whole(func(d *draft) **int { return &d.Kit.Felts })),
		amount("lift_kg", line("lift", "Heaviest post you carry", "A wet post weighs more than it looks."), measure.OfMass, "g", thousandth(maybe(func(d *draft) **float64 { return &d.Kit.LiftKG }))),
	}
}

// thousandth is a number kept in a unit a thousand times that of its blank.
func thousandth[T any](kilo val[T]) val[T] {
	return val[T]{func(t *T) *float64 {
		if v := kilo.get(t); v != nil {
			g := *v * 1000
			return &g
		}
		return nil
	}, func(t *T, v *float64) {
		if v != nil {
			kg := *v / 1000
			v = &kg
		}
		kilo.set(t, v)
	}}
}

func water() []blank[draft] {
	return []blank[draft]{
		amount("water.hardness_mg_l", line("hardness", "Hardness", "As calcium carbonate; 10 °dH are 178 mg/L."), measure.OfNumber, "mg/L", maybe(func(d *draft) **float64 { return &d.water.HardnessMGL })),
		amount("water.ph", line("ph", "pH", ""), measure.OfNumber, "", maybe(func(d *draft) **float64 { return &d.water.PH })),
		amount("water.iron_mg_l", line("iron", "Iron", "It yellows paper in time."), measure.OfNumber, "mg/L", maybe(func(d *draft) **float64 { return &d.water.IronMGL })),
		amount("altitude_m", line("altitude", "Above the sea", "It sets where water boils and how air dries."), measure.OfAltitude, "m", maybe(func(d *draft) **float64 { return &d.Kit.AltitudeM })),
	}
}

func prices() []blank[draft] {
	return []blank[draft]{
		words("currency", must("currency", "Currency", "Three letters, such as EUR or USD."), func(d *draft) *string { return &d.Currency }),
		amount("rate_per_hour", line("rate", "An hour of work costs", ""), measure.OfNumber, "money", maybe(func(d *draft) **float64 { return &d.Kit.RateHour })),
		amount("overhead_pct", line("overhead", "Overhead", "On hands and materials: rent, repairs, what nobody pays for."), measure.OfPercent, "%", maybe(func(d *draft) **float64 { return &d.Kit.Overhead })),
		amount("hands_hours_per_day", line("day", "Hours by hand in a day", "Empty: six."), measure.OfHours, "h", maybe(func(d *draft) **float64 { return &d.Kit.HandsADay })),
		amount("fibre_in_store_g", line("fibre", "Fibre on the shelf, air-dry", "All kinds together; a plan that needs more says so."), measure.OfMass, "g", maybe(func(d *draft) **float64 { return &d.Kit.FibreStock })),
	}
}

// singles reads what there is one of.
func singles(c *reading, was, now *draft) {
	for _, g := range groups {
		for _, b := range g.ask() {
			typed := c.Get(b.Name)
			if typed == b.write(c.Speech, was) {
				continue
			}
			if b.Name == "currency" {
				typed = strings.ToUpper(typed)
			}
			c.Refuse(b.read(c.Speech, b.Name, typed, now))
			if b.Required && typed == "" {
				c.Refuse(fault.Invalid(b.Name, "say this too, such as %s", b.write(c.Speech, was)))
			}
		}
	}
	if now.System != studio.Metric && now.System != studio.US {
		c.Refuse(fault.Invalid("system", "choose metric or US units"))
	}
	if len(now.Currency) != 3 {
		c.Refuse(fault.Invalid("currency", "a currency is three letters, such as EUR or USD"))
	}
	if v := now.Kit.FibreStock; v != nil && *v < 0 {
		c.Refuse(fault.OutOfRange("fibre", "nothing or more"))
	}
}

// faultsAt says where on the form a fault of the plan or the records belongs.
func faultsAt() map[string]string {
	at := map[string]string{"studio.air.temp_c": "temp", "studio.air.rh_pct": "rh", "default_sheet": "usual", "studio.fibres": "fibres"}
	for _, g := range groups {
		for _, b := range g.ask() {
			if b.at != "" {
				at["studio."+b.at] = b.Name
			}
		}
	}
	return at
}

// shown makes the fields of what there is one of.
func shown(f *page.Form, s part.Speech, blanks []blank[draft]) []part.Field {
	var out []part.Field
	for _, b := range blanks {
		out = append(out, b.ask(f, s, ""))
	}
	return out
}
