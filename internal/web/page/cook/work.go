package cook

import (
	"fmt"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/measure"
	"vatside/internal/source"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// places are where the faults of a card stand in the form.
var places = map[string]string{
	"dry_g": "amount", "alkali_pct": "charge", "lime_pct": "lime", "strength_g_l": "strength", "liquor_l_per_kg": "liquor", "liquor": "liquor",
	"altitude_m": "altitude", "simmer_c": "simmer", "temperature": "simmer", "water_c": "water", "dissolve_l": "dissolve", "pot_l": "pot-holds",
	"wet": "handful", "cooked": "fibre", "dry": "amount", "fresh": "amount", "pulp": "amount", "each": "grammage", "present": "who-1",
}

// work reads and answers the question; what is wrong is noted in the form.
func (q *asked) work(f *page.Form) {
	q.read(f)
	if len(f.Faults) > 0 {
		return
	}
	f.At = places
	var err error
	if q.chain, err = q.harvest.Chain(); err != nil {
		f.Refuse(err)
		return
	}
	q.request.DryG = q.chain.PotG
	if q.doseG > 0 {
		q.request.AlkaliPct = 100 * q.doseG / q.chain.PotG
	}
	if err := q.request.Check(); err != nil {
		f.Refuse(err)
		return
	}
	if q.answer, err = q.request.AnswerWith(q.own()); err != nil {
		f.Refuse(err)
		return
	}
	if low, high := q.spoon[0], q.spoon[1]; high > 0 {
		q.answer.Notes = append([]string{fmt.Sprintf("Spoons are not grams: that is anything from %.2g to %.2g g by the grade of the product, %.2g to %.2g %% of the dry fibre. Weigh it.", low, high, 100*low/q.chain.PotG, 100*high/q.chain.PotG)}, q.answer.Notes...)
	}
	for _, p := range cooking.PlantsNamed(q.fibre.Name) {
		q.answer.Cautions = append(q.answer.Cautions, cooking.Caution{Code: "plant: " + p.Name, Text: part.Upper(p.Name) + ". " + p.Hazard + " " + p.Do, Source: p.Source.Key})
	}
}

// own is what the studio's own records say of such a cook.
func (q *asked) own() (k ask.CookKnown) {
	k.Limits = q.safety.Limits()
	if y := q.known.Yield(q.fibre); y.Changed() {
		k.Yield = y.Now
	}
	if q.request.LimePct != nil {
		return k
	}
	_, law, seen, err := q.known.Hours(q.fibre, q.alkali)
	if err == nil && len(seen) > 0 {
		k.Hours = func(t measure.Temperature, c measure.Dose) (source.Value, error) {
			return cookery.HoursAt(law, len(seen), t, c)
		}
	}
	return k
}

// Learned is one number of a plant's cook: what the handbook says, what was seen
// and what is reckoned with now.
type Learned struct{ What, Was, Seen, Now string }

// learned compares; nothing where this studio has cooked none of it.
func (q *asked) learned() []Learned {
	var out []Learned
	s := q.speech
	if y := q.known.Yield(q.fibre); y.Changed() {
		pct := func(v float64) string { return s.One(100*v, "%") }
		var seen []string
		for _, v := range y.Seen {
			seen = append(seen, pct(v))
		}
		out = append(out, Learned{"Pulp from dry fibre", s.Span(100*y.Prior.Low, 100*y.Prior.High, "%"), part.Listed(seen), fmt.Sprintf("%s, nine times in ten %s", pct(y.Now.Mid), s.Span(100*y.Now.Low, 100*y.Now.High, "%"))})
	}
	prior, now, cooks, err := q.known.Hours(q.fibre, q.alkali)
	if err != nil || len(cooks) == 0 || q.request.LimePct != nil {
		return out
	}
	t := measure.Temperature(q.answer.Figures["boil_c"].Value)
	if q.request.SimmerC != nil {
		t = min(t, measure.Temperature(*q.request.SimmerC))
	}
	c := measure.Dose(q.request.AlkaliPct / 100)
	was, err1 := cookery.HoursAt(prior, 0, t, c)
	is, err2 := cookery.HoursAt(now, len(cooks), t, c)
	if err1 != nil || err2 != nil {
		return out
	}
	var seen []string
	for _, k := range cooks {
		seen = append(seen, fmt.Sprintf("%s at %s", s.One(float64(k.Done), "h"), s.One(float64(k.Temp), "°C")))
	}
	return append(out, Learned{"Hours at the simmer", s.Span(was.Low, was.High, "h"), part.Listed(seen), fmt.Sprintf("%s, nine times in ten %s", s.One(is.Mid, "h"), s.Span(is.Low, is.High, "h"))})
}

// call is whom to call, as this studio has entered it.
func call(f cookery.Safety) []string {
	var out []string
	for _, l := range []struct{ what, who string }{{"Emergency", f.Emergency}, {"Poison centre", f.Poison}, {"Doctor, eye clinic", f.Doctor}, {"Running water", f.Water}} {
		if l.who != "" {
			out = append(out, l.what+": "+l.who)
		}
	}
	return out
}
