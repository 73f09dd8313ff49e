package studio

import (
	"fmt"
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

func general() []part.Field {
	return []part.Field{
		{Name: "name", Label: "What is the studio called?", Kind: part.Text},
		{Name: "system", Label: "Quantities are read and written in", Kind: part.Choices, Options: []part.Option{{Value: "metric", Label: "Metric"}, {Value: "us", Label: "US units"}}},
		{Name: "currency", Label: "Currency", Hint: "Three letters, such as EUR or USD.", Kind: part.Text, Required: true},
	}
}

// faultsAt says where on the form a fault of the plan or the records belongs.
func faultsAt() map[string]string {
	at := map[string]string{
		"studio.vat_l": "vat", "studio.vat_least_l": "least", "studio.stock_g_l": "stock", "studio.jug_ml": "jug",
		"studio.beater.rated_dry_g": "rated", "studio.beater.water_l": "water", "studio.press.force_kn": "force", "studio.felts": "felts",
		"studio.dryer.places": "places", "studio.dryer.airflow_m3_s": "airflow", "studio.air.temp_c": "temp", "studio.air.rh_pct": "rh",
		"studio.altitude_m": "altitude", "studio.rate_per_hour": "rate", "studio.hands_hours_per_day": "day",
		"studio.fibre_in_store_g": "fibre", "studio.currency": "currency",
	}
	for i := range mostRows {
		at[fmt.Sprintf("studio.moulds[%d]", i)] = fmt.Sprintf("mould-%d-size", i+1)
	}
	return at
}

// taken apart, and put together again.
func apart(s plan.Studio) kit {
	k := kit{Studio: s}
	if s.Beater != nil {
		k.rated, k.beaterWater = &s.Beater.RatedDryG, &s.Beater.WaterL
	}
	if s.Press != nil {
		k.force = &s.Press.ForceKN
	}
	if s.Felts != nil {
		n := float64(*s.Felts)
		k.felts = &n
	}
	if s.Dryer != nil {
		n := float64(s.Dryer.Places)
		k.places, k.airflow = &n, &s.Dryer.AirflowM3S
	}
	if s.Air != nil {
		k.temp, k.rh = &s.Air.TempC, &s.Air.RHPct
	}
	return k
}

func (k kit) together(f *page.Form) plan.Studio {
	s := k.Studio
	s.Beater, s.Press, s.Felts, s.Dryer, s.Air = nil, nil, nil, nil, nil
	if both(f, "rated", k.rated, "how much fibre a load takes", "water", k.beaterWater, "how much water that is in") {
		s.Beater = &plan.Beater{RatedDryG: *k.rated, WaterL: *k.beaterWater}
	}
	if k.force != nil {
		s.Press = &plan.Press{ForceKN: *k.force}
	}
	if k.felts != nil {
		n := int(*k.felts)
		s.Felts = &n
	}
	if both(f, "places", k.places, "how many sheets it holds", "airflow", k.airflow, "how much air it moves") {
		s.Dryer = &plan.Dryer{Places: int(*k.places), AirflowM3S: *k.airflow}
	}
	if both(f, "temp", k.temp, "the temperature", "rh", k.rh, "the humidity") {
		s.Air = &plan.Air{TempC: *k.temp, RHPct: *k.rh}
	}
	return s
}

// both reports whether two numbers that mean something only together are both
// said; of one alone it says what is missing.
func both(f *page.Form, nameA string, a *float64, whatA, nameB string, b *float64, whatB string) bool {
	switch {
	case a != nil && b == nil && f.Get(nameB) == "":
		f.Refuse(fault.Invalid(nameB, "say %s too, or leave both blank", whatB))
	case a == nil && b != nil && f.Get(nameA) == "":
		f.Refuse(fault.Invalid(nameA, "say %s too, or leave both blank", whatA))
	}
	return a != nil && b != nil
}

// write fills the form with the studio as it stands.
func write(f *page.Form, s part.Speech, p studio.Profile) {
	f.Fill("name", p.Name)
	f.Fill("system", p.System)
	f.Fill("currency", p.Currency)
	f.Fill("revision", strconv.Itoa(p.Revision))
	f.Fill("rows", strconv.Itoa(max(leastRows, len(p.Kit.Moulds)+2)))
	for i, m := range p.Kit.Moulds {
		f.Fill(fmt.Sprintf("mould-%d-size", i+1), s.SizeName(m.LongMM, m.ShortMM))
		f.Fill(fmt.Sprintf("mould-%d-name", i+1), m.Name)
	}
	k := apart(p.Kit)
	for _, g := range groups {
		for _, b := range blanks(g.Name) {
			if v := *b.of(&k); v != nil {
				f.Fill(b.name, b.text(s, *v))
			}
		}
	}
}

// text writes a number as it is typed: exactly where it is kept in the unit it
// is shown in, rounded with its unit elsewhere.
func (b blank) text(s part.Speech, v float64) string {
	if !s.US() || shownUnit(b.kind, b.unit, s) == b.unit {
		return part.Written(v)
	}
	n, u := s.Show(v, b.unit)
	if u == shownUnit(b.kind, b.unit, s) || strings.TrimSuffix(shownUnit(b.kind, b.unit, s), "s") == u {
		return n
	}
	return n + " " + u
}

func (b blank) read(f *page.Form, s part.Speech) *float64 {
	if f.Get(b.name) == "" {
		return nil
	}
	if b.kind == measure.OfCount {
		n, err := part.Count(b.name, f.Get(b.name), 0, 100_000, strings.ToLower(b.label))
		f.Refuse(err)
		v := float64(n)
		return &v
	}
	v, err := s.Read(b.name, f.Get(b.name), b.kind)
	f.Refuse(err)
	return &v
}
