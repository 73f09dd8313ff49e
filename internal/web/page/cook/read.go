package cook

import (
	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/fibre"
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// number reads a field that may stay empty; nil: it does.
func (q *asked) number(f *page.Form, name string, kind measure.Kind) *float64 {
	if f.Get(name) == "" {
		return nil
	}
	v, err := q.speech.Read(name, f.Get(name), kind)
	if err != nil {
		f.Refuse(err)
		return nil
	}
	return &v
}

// read takes the question from the form; what is wrong is noted there.
func (q *asked) read(f *page.Form) {
	q.plant(f)
	q.harvest.AmountG = value(q.number(f, "amount", measure.OfMass), 0)
	q.harvest.Stage = cookery.Stage(f.Get("stage"))
	q.moisture(f)
	if size := f.Get("size"); size != "" {
		long, short, err := q.speech.ReadSize("size", size)
		f.Refuse(err)
		q.harvest.Paper.LongMM, q.harvest.Paper.ShortMM = long, short
	}
	q.harvest.Paper.Grammage = value(q.number(f, "grammage", measure.OfGrammage), 0)
	q.harvest.Paper.SharePct = value(q.number(f, "share", measure.OfPercent), 100)
	switch {
	case f.Get("way") == wayWant:
		n, err := part.Count("sheets", f.Get("sheets"), 1, 20000, "sheets")
		f.Refuse(err)
		q.harvest.Sheets = n
	case f.Get("amount") == "":
		f.Refuse(fault.Invalid("amount", "say how much of it there is, such as 450 g"))
	}
	q.harvest.Fibre, q.harvest.Yield = q.fibre, q.known.Yield(q.fibre).Now
	q.pot(f)
}

// plant finds the fibre: the handbook's, an own one, or one that recipes name.
func (q *asked) plant(f *page.Form) {
	name := f.Get("fibre")
	for i, l := range q.lots {
		if l.ID == f.Get("lot") {
			q.lot = &q.lots[i]
		}
	}
	if own, ok := q.shelf.Get(name); ok {
		q.fibre = own
		if own.Cook == nil {
			f.Refuse(fault.Invalid("fibre", "%s is not cooked: it comes ready for the beater", own.Name))
		}
	} else if cooking.HasRecipes(name) {
		q.fibre = fibre.Fibre{Name: name}
	} else if never := neverFibre(name); never != "" {
		f.Refuse(fault.Invalid("fibre", "%s", never))
	} else {
		_, err := q.shelf.Find("fibre", name)
		f.Refuse(err)
	}
	if q.lot != nil && q.lot.What != q.fibre.Name {
		f.Refuse(fault.Invalid("lot", "this lot is %s: choose one of %s, or none", q.lot.What, q.fibre.Name))
	}
}

// moisture reads the quick test; without one what is called dry holds as much
// water as was said, and what is fresh as the handbook has it.
func (q *asked) moisture(f *page.Form) {
	left := value(q.number(f, "left", measure.OfPercent), 10)
	q.harvest.LeftPct = left
	wet, dried := q.number(f, "handful", measure.OfMass), q.number(f, "dried", measure.OfMass)
	if wet == nil && dried == nil {
		return
	}
	if wet == nil || dried == nil {
		f.Refuse(fault.Invalid("dried", "the quick test takes two weights: the handful as it is, and dried"))
		return
	}
	f.At = map[string]string{"wet": "handful"}
	solids, err := cooking.SolidsFromDrying(measure.Mass(*wet), measure.Mass(*dried), measure.MoistureWet(left/100))
	if err != nil {
		f.Refuse(err)
		return
	}
	share := float64(solids)
	q.harvest.Solids, q.harvest.LeftPct = &share, 100*(1-share)
}

// pot reads what is cooked with, and how.
func (q *asked) pot(f *page.Form) {
	a, ok := cooking.GetAlkali(f.Get("alkali"))
	if !ok {
		f.Refuse(fault.Invalid("alkali", "choose one of the list"))
		return
	}
	q.alkali = a
	charge := q.charge(f)
	q.request = ask.CookRequest{Alkali: a.Name, AlkaliPct: charge, LimePct: q.number(f, "lime", measure.OfPercent), StrengthGL: q.number(f, "strength", measure.OfNumber),
		LiquorLPerKg: q.number(f, "liquor", measure.OfNumber), AltitudeM: q.number(f, "altitude", measure.OfAltitude), SimmerC: q.number(f, "simmer", measure.OfTemperature),
		WaterC: q.number(f, "water", measure.OfTemperature), DissolveL: q.number(f, "dissolve", measure.OfVolume), Pot: f.Get("pot"), PotL: q.number(f, "pot-holds", measure.OfVolume)}
	q.request.Fibre = q.fibre.Name
	if q.fibre.Like != "" { // an own fibre: recipes and words are those of the near one
		q.request.Fibre = q.fibre.Like
	}
}

func value(v *float64, usual float64) float64 {
	if v == nil {
		return usual
	}
	return *v
}
